import { kept, keptWhole } from '../model/rested.ts';
import type { Model } from '../model/schema.ts';
import type { Bay, Skeleton } from '../parts/layout/layout.ts';
import { skeletonOf } from '../parts/layout/skeleton.ts';
import { type Finding, severity, type Verdict } from './finding.ts';
import { doublerBends, ribBends, sparBends } from './fit/bendRadius.ts';
import { bendRide } from './fit/bendRide.ts';
import { capGap } from './fit/capGap.ts';
import { chordGap } from './fit/chordGap.ts';
import { corners } from './fit/corners.ts';
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
import { bendRoom } from './holes/bendRoom.ts';
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
  doublerBends,
  ribBends,
  reliefDiameter,
  grip,
  edges,
  bendRoom,
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

/** What one station answers by itself, asked afresh. */
export function findingsAt(skeleton: Skeleton, bay: Bay): Finding[] {
  return LOCAL.flatMap((check) => [...check(skeleton, bay)]);
}

/** Every station's own findings, kept for as long as nothing they rest on changes. */
const stationFindings = kept((model, station): readonly Finding[] => {
  const skeleton = skeletonOf(model);
  return findingsAt(skeleton, skeleton.bayAt(station));
});

/** The findings of one question that needs the stations together, by its number. */
const wholeFindings = kept((model, check): readonly Finding[] => [
  ...(WHOLE[Number(check)]?.(skeletonOf(model)) ?? []),
]);

/** All findings of a panel, station by station and then those of the whole. */
export const checkAll: (model: Model) => readonly Finding[] = keptWhole((model) => [
  ...skeletonOf(model).bays.flatMap((bay) => stationFindings(model, bay.station.id)),
  ...WHOLE.flatMap((_, check) => wholeFindings(model, String(check))),
]);

/**
 * Worst first: act, unsettled, watch, fits; within one verdict readings that disagree, for all else hangs on them,
 * then by chance of lying beyond the act threshold; echoes after their source.
 */
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
