import { best } from '../chains/chain.ts';
import { chanceWithin, type Wander } from '../chains/circular.ts';
import type { Hole, Joint } from '../model/schema.ts';
import type { Skeleton } from '../parts/skeleton.ts';
import { drillName, formatLength, formatPercent } from '../units.ts';
import { show } from './describe.ts';
import { checkAll, worstFirst } from './checkAll.ts';
import { edgeChain } from './edges.ts';
import type { CheckId, Finding } from './finding.ts';
import { circlesOf, type HoleCircle, type Need, needOf } from './holes.ts';
import { earliestStage, missingLayers, opensAt, partsIn, stageIndex } from './stages.ts';

/*
 * Asks of every hole, before a bit touches metal: now, not yet, or never at this size, and why. The one thing that cannot
 * be undone. Drilling by hand wanders: the margin must hold with that.
 */

/** now: the next bit may go in. not yet: wait for a layer or a measurement. never: it will not clean up at this size. done: final through every layer. */
export type HoleState = 'now' | 'not yet' | 'never' | 'done';

/** What to do, in the trade's words. */
export type How = 'pilot' | 'follow the guide' | 'bushing set midway' | 'step up' | 'stop' | 'wait' | 'none';

/** Edge distance of one layer in rivet diameters: as it is, at final size, and at the next size; undefined where no edge is near. */
export interface EdgeLine {
  readonly part: string;
  readonly mm: number;
  readonly final: number;
  readonly next: number | undefined;
}

/** The answer for one hole. Sizes in mm. */
export interface HoleAnswer {
  readonly id: string;
  readonly joint: Joint;
  readonly hole: Hole;
  readonly state: HoleState;
  readonly how: How;
  readonly why: string;
  readonly circles: readonly HoleCircle[];
  readonly need: Need | undefined;
  /** (final - needed)/2 following the guide and on the best axis; undefined before two layers are drilled. */
  readonly followMargin: number | undefined;
  readonly bestMargin: number | undefined;
  /** Chance that every layer cleans up at final size, following the guide and on the best axis. */
  readonly followChance: number | undefined;
  readonly bestChance: number | undefined;
  readonly edges: readonly EdgeLine[];
  /** Name of the first stage at which it may be opened to final. */
  readonly earliest: string | undefined;
}

/** A drill by its name and size: `#30 (0.1285 in)`. */
export function drillText(d: number): string {
  const name = drillName(d);
  const inch = formatLength(d, 'in', { digits: 4 });
  return name ? `${name} (${inch})` : inch;
}

/** One hole against another: how far off, and how surely. */
function apart(a: HoleCircle, b: HoleCircle): Wander {
  return { along: a.along.best - b.along.best, up: a.up.best - b.up.best, uAlong: Math.hypot(a.along.u, b.along.u), uUp: Math.hypot(a.up.u, b.up.u) };
}

/** Chance that the drill, on the guide's axis, cleans every layer up: each stays within half of what the drill adds. */
function chanceFollowing(circles: readonly HoleCircle[], guide: HoleCircle, final: number): number {
  return Math.min(1, ...circles.filter((c) => c !== guide).map((c) => chanceWithin((final - c.diameter) / 2, apart(c, guide))));
}

/** Chance that some axis cleans every layer up: no two holes reach further than the final circle. The worst pair decides. */
function chanceBestAxis(circles: readonly HoleCircle[], final: number): number {
  return Math.min(1, ...circles.flatMap((a, i) => circles.slice(i + 1).map((b) => chanceWithin(final - (a.diameter + b.diameter) / 2, apart(a, b)))));
}

export function edgeLines(skeleton: Skeleton, joint: Joint): EdgeLine[] {
  return joint.layers.flatMap((part) => {
    const edge = edgeChain(skeleton, joint, part);
    if (!edge) return [];
    const mm = best(edge);
    return [{ part, mm, final: mm / joint.rivet.diameter, next: joint.next ? mm / joint.next.rivet : undefined }];
  });
}

/** Whether the next larger size would clean a hole up and hold its edges; the first thing in the way otherwise. */
export function stepUp(skeleton: Skeleton, joint: Joint, need: Need): { ok: true; drill: number } | { ok: false; why: string } {
  const { next } = joint;
  if (!next) return { ok: false, why: 'this is the largest rivet of the design' };
  if (need.bestAxis > next.drill) return { ok: false, why: `even ${drillText(next.drill)} would not clean it up` };
  const short = edgeLines(skeleton, joint).find((e) => e.mm < 2 * next.rivet);
  if (short) return { ok: false, why: `${short.part} has ${show(skeleton.model, short.mm)} to the edge and the next size wants ${show(skeleton.model, 2 * next.rivet)}` };
  const pitch = closest(joint);
  if (pitch < 3 * next.rivet) return { ok: false, why: `the holes stand ${show(skeleton.model, pitch)} apart and the next size wants ${show(skeleton.model, 3 * next.rivet)}` };
  return { ok: true, drill: next.drill };
}

/** Least distance between two holes of a joint, mm; infinite with one hole. */
function closest(joint: Joint): number {
  let least = Number.POSITIVE_INFINITY;
  joint.holes.forEach((a, i) => joint.holes.slice(i + 1).forEach((b) => {
    least = Math.min(least, Math.hypot(a.along - b.along, a.up - b.up));
  }));
  return least;
}

type Answer = Pick<HoleAnswer, 'state' | 'how' | 'why'>;

interface Asked {
  readonly skeleton: Skeleton;
  readonly joint: Joint;
  readonly hole: Hole;
  readonly at: number;
  readonly need: Need | undefined;
  readonly followChance: number | undefined;
  readonly bestChance: number | undefined;
  /** What must be put right before any hole here is drilled. */
  readonly held: Finding | undefined;
}

/** Chances under this are too close to call; the same share as "between 10 and 90 %". */
const SURE = 0.9;

function judgeSize({ skeleton, joint, need, followChance, bestChance }: Asked): Answer {
  if (!need || followChance === undefined || bestChance === undefined) return { state: 'now', how: 'follow the guide', why: `open to ${drillText(joint.final)} through every layer` };
  const likely = formatPercent(followChance);
  if (followChance >= SURE) return { state: 'now', how: 'follow the guide', why: `open to ${drillText(joint.final)} following ${joint.guide}: ${likely} likely to clean up` };
  if (bestChance >= SURE) return { state: 'now', how: 'bushing set midway', why: `following ${joint.guide} it is ${likely} likely to clean up; through a bushing set midway ${formatPercent(bestChance)}` };
  const up = stepUp(skeleton, joint, need);
  if (bestChance > 1 - SURE) {
    const left = up.ok ? `the next size, ${drillText(up.drill)}, is left` : `no step is left, for ${up.why}`;
    return { state: 'not yet', how: 'wait', why: `even on the best axis it is only ${formatPercent(bestChance)} likely to clean up at ${drillText(joint.final)}: measure the offset again; ${left}` };
  }
  if (up.ok) return { state: 'never', how: 'step up', why: `it needs ${drillText(need.bestAxis)} and ${drillText(joint.final)} does not clean it up; ${drillText(up.drill)} would, if the designer agrees` };
  return { state: 'never', how: 'stop', why: `it needs ${drillText(need.bestAxis)}, ${drillText(joint.final)} does not clean it up, and no step is left: ${up.why}` };
}

/** What must be put right before any hole at a station is drilled: parts that bind, ride or stand off square, and a twisted panel. */
const FIRST: readonly CheckId[] = ['cap-gap', 'bend-ride', 'chord-gap', 'lean', 'skew', 'twist', 'disagreement'];

/** By station, the worst finding at act that must be put right before drilling there; the whole panel's twist holds every station. */
function heldBack(skeleton: Skeleton): (station: string) => Finding | undefined {
  const bad = worstFirst(checkAll(skeleton.model)).filter((f) => f.verdict === 'act' && FIRST.includes(f.check));
  const whole = bad.find((f) => f.station === null);
  const byStation = new Map<string, Finding>();
  for (const f of bad) if (f.station !== null && !byStation.has(f.station)) byStation.set(f.station, f);
  return (station) => byStation.get(station) ?? whole;
}

function answerOf(asked: Asked): Answer {
  const answer = readyAnswer(asked);
  if (answer.state !== 'now' || !asked.held) return answer;
  return { state: 'not yet', how: 'wait', why: `first put this right: ${asked.held.sentence.split('. ')[0]}; then ${answer.why}` };
}

function readyAnswer(asked: Asked): Answer {
  const { skeleton, joint, hole, at } = asked;
  const { model } = skeleton;
  const isIn = partsIn(model, at);
  const layers = hole.layers.filter((l) => joint.layers.includes(l.part));
  if (layers.length === joint.layers.length && layers.every((l) => l.state === 'final')) return { state: 'done', how: 'none', why: 'final through every layer' };
  const sized = judgeSize(asked);
  if (sized.state === 'never' || sized.how === 'wait') return sized;
  const missing = missingLayers(model, joint, at);
  const here = joint.layers.filter(isIn);
  const undrilled = here.filter((part) => !layers.some((l) => l.part === part && l.state !== 'none'));
  if (undrilled.length > 0 && here.length >= 2) return { state: 'now', how: 'pilot', why: `drill the pilot, ${drillText(joint.pilot)}, through ${undrilled.join(' and ')} by way of ${joint.guide}; pilot only` };
  if (missing.length > 0) {
    const stage = earliestStage(model, joint);
    return { state: 'not yet', how: 'wait', why: `${missing.join(' and ')} ${missing.length > 1 ? 'are' : 'is'} not in${stage ? `; final at the earliest at “${stage.name}”` : ''}` };
  }
  const planned = opensAt(model, joint);
  if (planned !== undefined && planned > at) return { state: 'not yet', how: 'wait', why: `planned to be opened at “${model.stages[planned]!.name}”` };
  return sized;
}

/** The answer for one hole at a stage, the present one when none is named. */
export function askHole(skeleton: Skeleton, joint: Joint, hole: Hole, stage?: string, held: Finding | undefined = heldBack(skeleton)(joint.station)): HoleAnswer {
  const at = stageIndex(skeleton.model, stage);
  const circles = circlesOf(skeleton, joint, hole);
  const need = needOf(circles, joint.guide);
  const guide = circles.find((c) => c.part === joint.guide) ?? circles[0];
  const followChance = need && guide && chanceFollowing(circles, guide, joint.final);
  const bestChance = need && chanceBestAxis(circles, joint.final);
  return {
    id: `${joint.id}/${hole.id}`,
    joint,
    hole,
    ...answerOf({ skeleton, joint, hole, at, need, followChance, bestChance, held }),
    circles,
    need,
    followMargin: need && (joint.final - need.following) / 2,
    bestMargin: need && (joint.final - need.bestAxis) / 2,
    followChance,
    bestChance,
    edges: edgeLines(skeleton, joint),
    earliest: earliestStage(skeleton.model, joint)?.name,
  };
}

const asked = new WeakMap<Skeleton, Map<string, readonly HoleAnswer[]>>();

/** Every hole of the panel at a stage, joint by joint along the span; remembered with the skeleton. */
export function askHoles(skeleton: Skeleton, stage: string = skeleton.model.now ?? ''): readonly HoleAnswer[] {
  const byStage = asked.get(skeleton) ?? new Map<string, readonly HoleAnswer[]>();
  asked.set(skeleton, byStage);
  const had = byStage.get(stage);
  if (had) return had;
  const held = heldBack(skeleton);
  const all = skeleton.bays.flatMap((bay) => skeleton.jointsAt(bay.station.id).flatMap((joint) => joint.holes.map((hole) => askHole(skeleton, joint, hole, stage, held(joint.station)))));
  byStage.set(stage, all);
  return all;
}
