import type { Joint, Model, Reading } from '../model/schema.ts';
import type { Bay, Skeleton } from '../parts/layout/layout.ts';
import { feelerAt } from '../parts/layout/meeting.ts';
import { skeletonOf } from '../parts/layout/skeleton.ts';
import { type Finding, severity, type Verdict } from './finding.ts';
import { bendRide } from './fit/bendRide.ts';
import { capGap } from './fit/capGap.ts';
import { chordGap } from './fit/chordGap.ts';
import { corners, sparBends } from './fit/corners.ts';
import { disagreement } from './fit/disagreement.ts';
import { forcedFit } from './fit/forcedFit.ts';
import { noseLine } from './fit/noseLine.ts';
import { reliefDiameter } from './fit/reliefDiameter.ts';
import { seating } from './fit/seating.ts';
import { skinStep } from './fit/skinStep.ts';
import { square } from './fit/square.ts';
import { straight } from './fit/straight.ts';
import { temperature } from './fit/temperature.ts';
import { twist } from './fit/twist.ts';
import { edges } from './holes/edges.ts';
import { grip } from './holes/grip.ts';
import { holes } from './holes/holes.ts';

/** Questions that one station answers by itself, in the order of the job. A new one is one file and one line here. */
const LOCAL: readonly ((skeleton: Skeleton, bay: Bay) => Iterable<Finding>)[] = [
  capGap,
  bendRide,
  chordGap,
  skinStep,
  corners,
  reliefDiameter,
  grip,
  edges,
  holes,
];

/** Questions that need the stations together. */
const WHOLE: readonly ((skeleton: Skeleton) => Iterable<Finding>)[] = [
  disagreement,
  temperature,
  seating,
  noseLine,
  forcedFit,
  square,
  straight,
  twist,
  sparBends,
];

/** Groups of a model, besides what stands where and the readings, that a station's answers rest on. */
export const SETTINGS = [
  'sheets',
  'webToWeb',
  'stand',
  'reliefCounts',
  'tolerances',
  'instruments',
  'limits',
  'units',
  'hand',
  'stages',
] as const;

/** Groups that say what stands where, and how far the work is; the joints are asked station by station. */
const STANDS = ['stations', 'doublers', 'brackets', 'spars', 'skin', 'now'] as const;

/** A station's answers with the readings and joints they rest on. */
interface Remembered {
  readonly readings: readonly Reading[];
  readonly joints: readonly Joint[];
  readonly findings: readonly Finding[];
}

const byRibs = new WeakMap<
  Model['ribs'],
  { model: Model; shared: readonly Reading[]; stations: Map<string, Remembered> }
>();
const answered = new WeakMap<Model, readonly Finding[]>();

const same = <T>(a: readonly T[], b: readonly T[]): boolean => a.length === b.length && a.every((r, i) => r === b[i]);

/**
 * Readings that several stations rest on. A felt gap moves the sheets and the scale errors that other stations share, so
 * every reading of a station where a gap was felt is one.
 */
export function sharedReadings(skeleton: Skeleton): readonly Reading[] {
  const { book, bays } = skeleton;
  const touched = bays.filter((b) => feelerAt(skeleton, b.station.id));
  return touched.length === 0
    ? book.readingsAt(null)
    : [...book.readingsAt(null), ...touched.flatMap((b) => book.readingsAt(b.station.id))];
}

/** Every station's own answers; where neither its readings, its joints nor the settings changed since the last model, those of last time. */
function localFindings(skeleton: Skeleton): Finding[] {
  const { model, book } = skeleton;
  const shared = sharedReadings(skeleton);
  let memory = byRibs.get(model.ribs);
  if (!memory || !same(memory.shared, shared) || [...STANDS, ...SETTINGS].some((k) => memory!.model[k] !== model[k])) {
    memory = { model, shared, stations: new Map() };
    byRibs.set(model.ribs, memory);
  }
  const all: Finding[] = [];
  for (const bay of skeleton.bays) {
    const readings = book.readingsAt(bay.station.id);
    const joints = skeleton.jointsAt(bay.station.id);
    let here = memory.stations.get(bay.station.id);
    if (!here || !same(here.readings, readings) || !same(here.joints, joints)) {
      here = { readings, joints, findings: findingsAt(skeleton, bay) };
      memory.stations.set(bay.station.id, here);
    }
    for (const f of here.findings) all.push(f);
  }
  return all;
}

/** What one station answers by itself, asked afresh. */
export function findingsAt(skeleton: Skeleton, bay: Bay): Finding[] {
  return LOCAL.flatMap((check) => [...check(skeleton, bay)]);
}

/** All findings of a panel, station by station and then those of the whole; made once for each model and remembered with it. */
export function checkAll(model: Model): readonly Finding[] {
  let all = answered.get(model);
  if (!all) {
    const skeleton = skeletonOf(model);
    all = [...localFindings(skeleton), ...WHOLE.flatMap((check) => [...check(skeleton)])];
    answered.set(model, all);
  }
  return all;
}

/** Worst first: act, unsettled, watch, fits; within one verdict readings that disagree, for all else hangs on them, then by chance of lying beyond the act threshold; echoes after their source. */
export function worstFirst(findings: readonly Finding[]): Finding[] {
  return [...findings].sort(
    (a, b) =>
      severity(b.verdict) - severity(a.verdict) ||
      Number(b.check === 'disagreement') - Number(a.check === 'disagreement') ||
      Number(!!a.echoOf) - Number(!!b.echoOf) ||
      Math.round(100 * b.chance) - Math.round(100 * a.chance) ||
      Number(a.station !== null) - Number(b.station !== null) ||
      b.chance - a.chance ||
      (a.id < b.id ? -1 : 1),
  );
}

/** How many findings have each verdict. */
export function countVerdicts(findings: readonly Finding[]): Record<Verdict, number> {
  const counts: Record<Verdict, number> = { fits: 0, watch: 0, act: 0, unsettled: 0 };
  for (const f of findings) counts[f.verdict]++;
  return counts;
}
