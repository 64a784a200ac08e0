import { best } from '../chains/chain.ts';
import { checkAll, SETTINGS, sharedReadings, worstFirst } from '../checks/checkAll.ts';
import { show } from '../checks/describe.ts';
import type { Finding } from '../checks/finding.ts';
import { chanceBestAxis, chanceFollowing } from '../checks/holes/cleanUpChance.ts';
import { circlesOf, type HoleCircle, type Need, needOf } from '../checks/holes/cleanUpDrill.ts';
import { leastPitch, rowToRow } from '../checks/holes/edges.ts';
import {
  drillText,
  type EdgeLine,
  edgeLines,
  guideName,
  type NextSize,
  named,
  neededText,
  nextSize,
} from '../checks/holes/nextSize.ts';
import { leaning, stanceAt, turningParts } from '../checks/holes/offsets.ts';
import { earliestStage, missingLayers, opensAt, partsIn, stageIndex, takenOff } from '../checks/holes/stages.ts';
import { checkName } from '../checks/questions.ts';
import { checksWhere } from '../model/checkTable.ts';
import { APART } from '../model/metal.ts';
import type { Hole, Joint, Model } from '../model/schema.ts';
import type { Skeleton } from '../parts/layout/layout.ts';
import { formatPercent } from '../units.ts';

/*
 * Asks of every hole, before a bit touches metal: now, not yet, or never at this size, and why. The one thing that cannot
 * be undone. Drilling by hand wanders: the margin must hold with that.
 */

/** now: the next bit may go in. not yet: wait for a layer or a measurement. never: it will not clean up at this size. done: final through every layer. */
export type HoleState = 'now' | 'not yet' | 'never' | 'done';

/** What to do, in the trade's words. */
export type How = 'pilot' | 'follow the guide' | 'bushing set midway' | 'step up' | 'stop' | 'wait' | 'none';

/** Why a hole is left alone: something must be put right first, a layer is not in, the plan opens it later, or it may not clean up. */
export type Because = 'put right' | 'layer' | 'plan' | 'doubt' | 'size';

/** How one layer's hole stands. off: taken off for now, its hole as drilled. opened early: final while another layer's is not. */
export interface LayerHole {
  readonly part: string;
  readonly state: 'not in' | 'off' | 'none' | 'pilot' | 'final' | 'opened early';
  readonly size: number;
  /** The layer it was (or will be) drilled through; "apart" when marked and drilled by itself; undefined for the guide. */
  readonly through: string | undefined;
}

/** The answer for one hole. Sizes in mm. */
export interface HoleAnswer {
  readonly id: string;
  readonly joint: Joint;
  readonly hole: Hole;
  readonly state: HoleState;
  readonly how: How;
  readonly why: string;
  readonly because?: Because;
  /** The same in few words, shared by holes that wait for the same thing. */
  readonly reason?: string;
  /** Layers that are not in, where it waits for them. */
  readonly missing?: readonly string[];
  readonly layers: readonly LayerHole[];
  readonly circles: readonly HoleCircle[];
  readonly need: Need | undefined;
  /** (final - needed)/2 following the guide and on the best axis; undefined before two layers are drilled. */
  readonly followMargin: number | undefined;
  readonly bestMargin: number | undefined;
  /** Chance that every layer cleans up at final size, following the guide and on the best axis. */
  readonly followChance: number | undefined;
  readonly bestChance: number | undefined;
  readonly edges: readonly EdgeLine[];
  /** Least hole to hole and row to row, mm; undefined with one hole, or one row. */
  readonly pitch: number | undefined;
  readonly rows: number | undefined;
  readonly next: NextSize | undefined;
  /** Name of the first stage, from the one asked about on, at which it may be opened to final. */
  readonly earliest: string | undefined;
}

type Answer = Pick<HoleAnswer, 'state' | 'how' | 'why'> & {
  readonly because?: Because;
  readonly reason?: string;
  readonly missing?: readonly string[];
};

interface Asked {
  readonly skeleton: Skeleton;
  readonly joint: Joint;
  readonly hole: Hole;
  readonly at: number;
  readonly circles: readonly HoleCircle[];
  readonly need: Need | undefined;
  readonly next: NextSize | undefined;
  readonly followChance: number | undefined;
  readonly bestChance: number | undefined;
  readonly here: Here;
  readonly ahead: boolean;
}

/** Chances under this are too close to call; the same share as "between 10 and 90 %". */
const SURE = 0.9;

const stepText = (up: NextSize): string =>
  up.ok ? `the next size, ${drillText(up.drill)}, is left` : `no larger size is left, for ${up.why}`;

/** What squaring the rib would do to a hole in it: where it goes and what it then needs; nothing where it would not move. */
function afterSquaring({ skeleton, joint, hole, circles }: Asked): string {
  const turning = turningParts(skeleton, joint.station);
  const by = -best(leaning(skeleton, joint, hole));
  const { model } = skeleton;
  if (Math.abs(by) < 0.02 || !circles.some((c) => turning.has(c.part) && c.along.origin === 'measured')) return '';
  const then = circles.map((c) =>
    turning.has(c.part) && c.along.origin === 'measured' ? { ...c, along: { ...c.along, best: c.along.best + by } } : c,
  );
  const need = needOf(then, joint.guide);
  const { rib, out } = stanceAt(skeleton, joint.station);
  if (!need) return '';
  const clean = need.bestAxis <= joint.final + 1e-9;
  return `; squaring ${rib} first carries its hole ${show(model, Math.abs(by))} ${by * out < 0 ? 'inboard' : 'outboard'}, and ${clean ? `${drillText(joint.final)} would then clean it up` : `it would then need ${neededText(need.bestAxis)}`}: square it, and read the offset again`;
}

/** With no larger size left, the way out: a new rib, drilled through the holes that are there. */
function remake({ skeleton, joint, hole, here }: Asked): string {
  const rib = hole.layers.find(
    (l) => l.state === 'pilot' && skeleton.placesAt(joint.station).some((p) => p.rib.id === l.part),
  )?.part;
  if (!rib || rib === joint.guide) return '';
  const also = here.faulty
    .split(';')
    .find((f) => f.startsWith(`${rib} `))
    ?.slice(rib.length + 1);
  return `; the way out is a new ${rib}, drilled through the holes of ${guideName(joint)}${also ? `; ${rib} is off ${also} anyway, so one cure for both` : ''}`;
}

function judgeSize(asked: Asked): Answer {
  const { joint, need, next: up, followChance, bestChance } = asked;
  if (!need || !up || followChance === undefined || bestChance === undefined)
    return {
      state: 'now',
      how: 'follow the guide',
      why: `open to ${drillText(joint.final)} through every layer, following ${guideName(joint)}`,
    };
  const likely = formatPercent(followChance);
  if (followChance >= SURE)
    return {
      state: 'now',
      how: 'follow the guide',
      why: `open to ${drillText(joint.final)} following ${guideName(joint)}: ${likely} likely to clean up`,
    };
  if (bestChance >= SURE)
    return {
      state: 'now',
      how: 'bushing set midway',
      why: `following ${guideName(joint)} it needs ${neededText(need.following)} against ${drillText(joint.final)}, ${likely} likely to clean up: too close to call. Through a bushing set midway it needs ${neededText(need.bestAxis)}, ${formatPercent(bestChance)} likely`,
    };
  const squared = `${up.ok ? '' : remake(asked)}${afterSquaring(asked)}`;
  const inDoubt = up.ok ? 'in doubt' : 'in doubt, and no larger size is left';
  if (bestChance > 1 - SURE)
    return {
      state: 'not yet',
      how: 'wait',
      because: 'doubt',
      reason: inDoubt,
      why: `even on the best axis it needs ${neededText(need.bestAxis)} and is only ${formatPercent(bestChance)} likely to clean up at ${drillText(joint.final)}: measure the offset again; ${stepText(up)}${squared}`,
    };
  if (up.ok)
    return {
      state: 'never',
      how: 'step up',
      because: 'size',
      reason: `does not clean up at ${drillText(joint.final)}`,
      why: `it needs ${neededText(need.bestAxis)} and ${drillText(joint.final)} does not clean it up; ${drillText(up.drill)} would, ${up.grams.toFixed(2)} g more a rivet, if the designer agrees${up.note ? `; ${up.note}` : ''}${squared}`,
    };
  return {
    state: 'never',
    how: 'stop',
    because: 'size',
    reason: 'does not clean up, and no larger size is left',
    why: `it needs ${neededText(need.bestAxis)}, ${drillText(joint.final)} does not clean it up, and no larger size is left: ${up.why}${squared}`,
  };
}

/** What must be put right before any hole at a station is drilled: parts that bind, ride or stand off square, and a twisted panel. */
const FIRST = checksWhere((row) => row.first === true);

/** What findings say of a station before it is drilled. */
interface Here {
  /** What must be put right before any hole here is drilled. */
  readonly held: string | undefined;
  /** Parts that likely do not go in as they are, and where: "M6 between the webs". */
  readonly faulty: string;
}

const NOTHING: Here = { held: undefined, faulty: '' };

/** By station, the worst finding at act that must be put right before drilling there; the whole panel's twist holds every station. */
function heldBack(skeleton: Skeleton): (station: string) => Here {
  const findings = checkAll(skeleton.model);
  const bad = worstFirst(findings.filter((f) => f.verdict === 'act' && FIRST.includes(f.check)));
  const whole = bad.find((f) => f.station === null);
  const byStation = new Map<string, Finding>();
  for (const f of bad) if (f.station !== null && !byStation.has(f.station)) byStation.set(f.station, f);
  const faulty = new Map<string, string>();
  for (const f of findings) {
    if (
      f.station === null ||
      (f.check !== 'cap-gap' && f.check !== 'chord-gap') ||
      !(f.verdict === 'act' || (f.verdict === 'unsettled' && f.chance > 0.5))
    )
      continue;
    faulty.set(f.station, `${faulty.get(f.station) ?? ''};${f.place.split(' ')[0] ?? ''} ${checkName(f.check)};`);
  }
  const said = new Map<Finding, string>();
  const first = (f: Finding | undefined): string | undefined => {
    if (f && !said.has(f)) said.set(f, f.said.fact);
    return f && said.get(f);
  };
  return (station) => ({ held: first(byStation.get(station) ?? whole), faulty: faulty.get(station) ?? '' });
}

function answerOf(asked: Asked): Answer {
  const answer = readyAnswer(asked);
  const { held } = asked.here;
  if (answer.state !== 'now' || !held || asked.ahead) return answer;
  return {
    state: 'not yet',
    how: 'wait',
    because: 'put right',
    reason: `first put this right: ${held}`,
    why: `first put this right: ${held}; then ${answer.why}`,
  };
}

function readyAnswer(asked: Asked): Answer {
  const { skeleton, joint, hole, at } = asked;
  const { model } = skeleton;
  const isIn = partsIn(model, at);
  const layers = hole.layers.filter((l) => joint.layers.includes(l.part));
  if (layers.length === joint.layers.length && layers.every((l) => l.state === 'final'))
    return { state: 'done', how: 'none', why: 'final through every layer' };
  const sized = judgeSize(asked);
  if (sized.state === 'never' || sized.how === 'wait') return sized;
  const planned = opensAt(model, joint);
  if (asked.ahead && planned !== undefined && planned < at && planned >= stageIndex(model))
    return { state: 'done', how: 'none', why: `by the plan, opened by then at “${model.stages[planned]!.name}”` };
  const missing = missingLayers(model, joint, at);
  const here = joint.layers.filter(isIn);
  const undrilled = here.filter((part) => !layers.some((l) => l.part === part && l.state !== 'none'));
  const apart = undrilled.filter((part) => layers.some((l) => l.part === part && l.through === APART));
  const through = undrilled.filter((part) => !apart.includes(part));
  if (undrilled.length > 0 && here.length >= 2) {
    const says = [
      ...(through.length > 0
        ? [`drill the pilot, ${drillText(joint.pilot)}, through ${named(through)} by way of ${guideName(joint)}`]
        : []),
      ...(apart.length > 0 ? [`mark and drill the pilot, ${drillText(joint.pilot)}, in ${named(apart)} apart`] : []),
    ];
    return { state: 'now', how: 'pilot', why: `${says.join('; ')}; pilot only` };
  }
  if (missing.length > 0) {
    const stage = earliestStage(model, joint, at);
    const off = missing.filter(takenOff(model, at));
    const word = off.length === missing.length ? 'off' : 'not in';
    return {
      state: 'not yet',
      how: 'wait',
      because: 'layer',
      missing,
      reason: stage ? `a layer is ${word}; in at “${stage.name}”` : `a layer is ${word}`,
      why: `${named(missing)} ${missing.length > 1 ? 'are' : 'is'} ${word}${stage ? `; final at the earliest at “${stage.name}”` : '; no stage puts it in'}`,
    };
  }
  if (planned !== undefined && planned > at)
    return {
      state: 'not yet',
      how: 'wait',
      because: 'plan',
      reason: `planned for “${model.stages[planned]!.name}”`,
      why: `planned to be opened at “${model.stages[planned]!.name}”`,
    };
  return sized;
}

/** How each layer's hole stands at a stage. */
function layerHoles(model: Model, joint: Joint, hole: Hole, at: number): LayerHole[] {
  const [isIn, off] = [partsIn(model, at), takenOff(model, at)];
  const early = joint.layers.some((part) => !hole.layers.some((l) => l.part === part && l.state === 'final'));
  return joint.layers.map((part) => {
    const own = hole.layers.find((l) => l.part === part);
    const state = own?.state ?? 'none';
    const shown =
      state === 'final' && early
        ? 'opened early'
        : off(part)
          ? 'off'
          : !isIn(part) && state === 'none'
            ? 'not in'
            : state;
    return {
      part,
      state: shown,
      size: own?.size ?? 0,
      through: part === joint.guide ? (own?.through === APART ? APART : undefined) : (own?.through ?? joint.guide),
    };
  });
}

/** The answer for one hole at a stage (its place in the order). */
function askHole(skeleton: Skeleton, joint: Joint, hole: Hole, { at, here, ahead }: When): HoleAnswer {
  const circles = circlesOf(skeleton, joint, hole, at);
  const need = needOf(circles, joint.guide);
  const guide = circles.find((c) => c.part === joint.guide) ?? circles[0];
  const followChance = need && guide && chanceFollowing(circles, guide, joint.final);
  const bestChance = need && chanceBestAxis(circles, joint.final);
  const edges = edgeLines(skeleton, joint, hole, circles, need);
  const next = need && nextSize(skeleton, joint, need, hole, edges);
  const pitch = leastPitch(joint);
  return {
    id: `${joint.id}/${hole.id}`,
    joint,
    hole,
    ...answerOf({ skeleton, joint, hole, at, circles, need, next, followChance, bestChance, here, ahead }),
    layers: layerHoles(skeleton.model, joint, hole, at),
    circles,
    need,
    followMargin: need && (joint.final - need.following) / 2,
    bestMargin: need && (joint.final - need.bestAxis) / 2,
    followChance,
    bestChance,
    edges,
    pitch: Number.isFinite(pitch) ? pitch : undefined,
    rows: rowToRow(joint),
    next,
    earliest: earliestStage(skeleton.model, joint, at)?.name,
  };
}

/** The answer for one hole of a joint at a stage, whatever is still out of true at its station: how it will be opened once all is put right. */
export function askOnceTrue(skeleton: Skeleton, joint: Joint, hole: Hole, stage?: string): HoleAnswer {
  return askHole(skeleton, joint, hole, { at: stageIndex(skeleton.model, stage), here: NOTHING, ahead: false });
}

/** Groups of a model, besides readings and the joint itself, that a joint's answers rest on. */
const WORLD = ['stations', 'ribs', 'doublers', 'brackets', 'spars', 'skin', ...SETTINGS] as const;

/** What was so for every joint when answers were made: the same object for as long as it is so. */
interface World {
  readonly model: Model;
  readonly shared: readonly unknown[];
}

/** The stage asked about, and what the findings say of the station. */
interface When {
  readonly at: number;
  readonly here: Here;
  readonly ahead: boolean;
}

interface Remembered extends When {
  readonly world: World;
  /** The stage the panel has reached. */
  readonly present: number;
  readonly readings: readonly unknown[];
  readonly answers: readonly HoleAnswer[];
}

const worlds = new WeakMap<Model['ribs'], World>();
const byJoint = new WeakMap<Joint, Map<string, Remembered>>();
const asked = new WeakMap<Skeleton, Map<string, readonly HoleAnswer[]>>();

const same = (a: readonly unknown[], b: readonly unknown[]): boolean =>
  a.length === b.length && a.every((r, i) => r === b[i]);

function worldOf(skeleton: Skeleton): World {
  const { model } = skeleton;
  const shared = sharedReadings(skeleton);
  const had = worlds.get(model.ribs);
  if (had && same(had.shared, shared) && WORLD.every((k) => had.model[k] === model[k])) return had;
  const world = { model, shared };
  worlds.set(model.ribs, world);
  return world;
}

function askJoint(skeleton: Skeleton, world: World, joint: Joint, when: When): readonly HoleAnswer[] {
  const { at, here, ahead } = when;
  const present = stageIndex(skeleton.model);
  const key = `${at} ${ahead}`;
  const readings = skeleton.book.readingsAt(joint.station);
  const stages = byJoint.get(joint) ?? new Map<string, Remembered>();
  byJoint.set(joint, stages);
  const had = stages.get(key);
  if (
    had &&
    had.world === world &&
    had.present === present &&
    had.here.held === here.held &&
    had.here.faulty === here.faulty &&
    same(had.readings, readings)
  )
    return had.answers;
  const answers = joint.holes.map((hole) => askHole(skeleton, joint, hole, when));
  stages.set(key, { ...when, world, present, readings, answers });
  return answers;
}

export interface Asking {
  /** A stage by its name; the present one unless told. */
  readonly stage?: string | undefined;
  /** Looking ahead: what is out of true now is taken as put right by then, and what the plan opens on the way as opened. */
  readonly ahead?: boolean;
}

/**
 * Every hole of the panel at a stage, joint by joint along the span; remembered with the skeleton, and joint by joint for as
 * long as nothing a joint's answers rest on changes.
 */
export function askHoles(
  skeleton: Skeleton,
  { stage = skeleton.model.now ?? '', ahead = false }: Asking = {},
): readonly HoleAnswer[] {
  const byStage = asked.get(skeleton) ?? new Map<string, readonly HoleAnswer[]>();
  asked.set(skeleton, byStage);
  const key = `${ahead ? '+' : ''}${stage}`;
  const had = byStage.get(key);
  if (had) return had;
  const world = worldOf(skeleton);
  const at = stageIndex(skeleton.model, stage);
  const held = heldBack(skeleton);
  const all = skeleton.bays.flatMap((bay) => {
    const joints = skeleton.jointsAt(bay.station.id);
    const here = joints.length > 0 ? held(bay.station.id) : NOTHING;
    return joints.flatMap((joint) => askJoint(skeleton, world, joint, { at, here, ahead }));
  });
  byStage.set(key, all);
  return all;
}
