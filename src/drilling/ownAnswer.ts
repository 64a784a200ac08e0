import { best } from '../chains/chain.ts';
import { show } from '../checks/describe.ts';
import { needOf } from '../checks/holes/cleanUpDrill.ts';
import { drillText, guideName, type NextSize, namesTogether, neededText } from '../checks/holes/nextSize.ts';
import { leaning, stanceAt, turningParts } from '../checks/holes/offsets.ts';
import { earliestStage, missingLayers, opensAt, partsIn, stageIndex, takenOff } from '../checks/holes/stages.ts';
import { APART } from '../model/metal.ts';
import type { Joint, Model } from '../model/schema.ts';
import type { Skeleton } from '../parts/layout/layout.ts';
import { NEAR } from '../units/near.ts';
import { formatPercent } from '../units.ts';
import type { HoleFacts } from './facts.ts';
import type { Own } from './hole.ts';
import { SURE } from './rowGate.ts';

/*
 * What is to be done with one hole by itself: pilot it, open it, step up, leave it, and why. Drilling by hand
 * wanders: the margin must hold with that. Whether it may be done now is for its row's gate to say.
 */

/** What a hole is asked at. */
export interface AskedHole {
  readonly skeleton: Skeleton;
  readonly facts: HoleFacts;
  /** Place of the stage in the order. */
  readonly at: number;
  /** Looking ahead: what the plan opens on the way is taken as opened. */
  readonly ahead: boolean;
  /** Parts of the station that likely do not go in as they are, and where: M6, "between the webs". */
  readonly faulty: ReadonlyMap<string, string>;
}

const stepText = (up: NextSize): string =>
  up.ok ? `the next size, ${drillText(up.drill)}, is left` : `no larger size is left, for ${up.why}`;

/** Under this, squaring a rib moves its holes by nothing that a pin would show, mm. */
const STILL = 0.02;

/**
 * What squaring the rib would do to a hole in it: where it goes and what it then needs; nothing where it would not
 * move.
 */
function afterSquaring({ skeleton, facts }: AskedHole): string {
  const { joint, hole, circles } = facts;
  const turning = turningParts(skeleton, joint.station);
  const by = -best(leaning(skeleton, joint, hole));
  const { model } = skeleton;
  const turns = (part: string, origin: string): boolean => turning.has(part) && origin === 'measured';
  if (Math.abs(by) < STILL || !circles.some((c) => turns(c.part, c.along.origin))) return '';
  const then = circles.map((c) =>
    turns(c.part, c.along.origin) ? { ...c, along: { ...c.along, best: c.along.best + by } } : c,
  );
  const need = needOf(then, joint.guide);
  const { rib, out } = stanceAt(skeleton, joint.station);
  if (!need) return '';
  const clean = need.bestAxis <= joint.final + NEAR;
  const way = by * out < 0 ? 'inboard' : 'outboard';
  const result = clean
    ? `${drillText(joint.final)} would then clean it up`
    : `it would then need ${neededText(need.bestAxis)}`;
  return `; squaring ${rib} first carries its hole ${show(model, Math.abs(by))} ${way}, and ${result}: square it, and read the offset again`;
}

/** With no larger size left, the way out: a new rib, drilled through the holes that are there. */
function remake({ skeleton, facts, faulty }: AskedHole): string {
  const { joint, hole } = facts;
  const ribs = skeleton.placesAt(joint.station).map((p) => p.rib.id);
  const rib = hole.layers.find((l) => l.state === 'pilot' && ribs.includes(l.part))?.part;
  if (!rib || rib === joint.guide) return '';
  const off = faulty.get(rib);
  const also = off ? `; ${rib} is off ${off} anyway, so one cure for both` : '';
  return `; the way out is a new ${rib}, drilled through the holes of ${guideName(joint)}${also}`;
}

function beyondSize(asked: AskedHole, up: NextSize, needed: number): Own {
  const { joint } = asked.facts;
  const squared = `${up.ok ? '' : remake(asked)}${afterSquaring(asked)}`;
  const final = drillText(joint.final);
  if (!up.ok)
    return {
      state: 'never',
      how: 'stop',
      because: 'size',
      reason: 'does not clean up, and no larger size is left',
      why: `it needs ${neededText(needed)}, ${final} does not clean it up, and no larger size is left: ${up.why}${squared}`,
    };
  const note = up.note ? `; ${up.note}` : '';
  return {
    state: 'never',
    how: 'step up',
    because: 'size',
    reason: `does not clean up at ${final}`,
    why: `it needs ${neededText(needed)} and ${final} does not clean it up; ${drillText(up.drill)} would, ${up.grams.toFixed(2)} g more a rivet, if the designer agrees${note}${squared}`,
  };
}

/** What is said of a hole that nobody looked through. */
const unlooked = (joint: Joint): Own => ({
  state: 'not asked',
  how: 'wait',
  because: 'look',
  reason: `nobody looked through ${joint.id} yet`,
  why: `nobody looked through its layers: look through the holes of ${joint.id} and tick that they line up, or read the offset`,
});

/** What is said of a hole that is too close to call. */
function doubtful(asked: AskedHole, up: NextSize, needed: number, chance: number): Own {
  const final = drillText(asked.facts.joint.final);
  const squared = `${up.ok ? '' : remake(asked)}${afterSquaring(asked)}`;
  return {
    state: 'in doubt',
    how: 'wait',
    because: 'doubt',
    reason: up.ok ? 'in doubt' : 'in doubt, and no larger size is left',
    why: `even on the best axis it needs ${neededText(needed)} and is only ${formatPercent(chance)} likely to clean up at ${final}: measure the offset again; ${stepText(up)}${squared}`,
  };
}

/** What its size says: whether one drill cleans every layer up, and how. */
function sizeAnswer(asked: AskedHole): Own {
  const { need, next: up, followChance, bestChance, joint, looked } = asked.facts;
  if (!need || !up || followChance === undefined || bestChance === undefined) return unlooked(joint);
  const surest = Math.max(followChance, bestChance);
  if (surest <= 1 - SURE) return beyondSize(asked, up, need.bestAxis);
  if (surest < SURE) return doubtful(asked, up, need.bestAxis, bestChance);
  if (!looked) return unlooked(joint);
  const [guide, final, likely] = [guideName(joint), drillText(joint.final), formatPercent(followChance)];
  if (followChance >= SURE)
    return {
      state: 'now',
      how: 'follow the guide',
      why: `open to ${final} following ${guide}: ${likely} likely to clean up`,
    };
  return {
    state: 'now',
    how: 'bushing set midway',
    why: `following ${guide} it needs ${neededText(need.following)} against ${final}, ${likely} likely to clean up: too close to call. Through a bushing set midway it needs ${neededText(need.bestAxis)}, ${formatPercent(bestChance)} likely`,
  };
}

/** What is said of pilots: which layers are drilled through the guide's holes, and which apart. */
function pilotAnswer({ facts }: AskedHole, undrilled: readonly string[]): Own {
  const { joint, hole } = facts;
  const pilot = drillText(joint.pilot);
  const apart = undrilled.filter((part) => hole.layers.some((l) => l.part === part && l.through === APART));
  const through = undrilled.filter((part) => !apart.includes(part));
  const says = [
    ...(through.length > 0
      ? [`drill the pilot, ${pilot}, through ${namesTogether(through)} by way of ${guideName(joint)}`]
      : []),
    ...(apart.length > 0 ? [`mark and drill the pilot, ${pilot}, in ${namesTogether(apart)} apart`] : []),
  ];
  return { state: 'now', how: 'pilot', why: `${says.join('; ')}; pilot only` };
}

function waitsForLayers(model: Model, { facts, at }: AskedHole, missing: readonly string[]): Own {
  const stage = earliestStage(model, facts.joint, at);
  const off = missing.filter(takenOff(model, at));
  const word = off.length === missing.length ? 'off' : 'not in';
  const are = missing.length > 1 ? 'are' : 'is';
  const when = stage ? `; final at the earliest at “${stage.name}”` : '; no stage puts it in';
  const inAt = stage ? `; in at “${stage.name}”` : '';
  return {
    state: 'not yet',
    how: 'wait',
    because: 'layer',
    missing,
    waits: { word, stage: stage?.name },
    reason: `a layer is ${word}${inAt}`,
    why: `${namesTogether(missing)} ${are} ${word}${when}`,
  };
}

const plannedFor = (name: string): Own => ({
  state: 'not yet',
  how: 'wait',
  because: 'plan',
  reason: `planned for “${name}”`,
  why: `planned to be opened at “${name}”`,
});

/** What is to be done with a hole at a stage, whatever its row's gate says. */
export function ownAnswer(asked: AskedHole): Own {
  const { skeleton, facts, at, ahead } = asked;
  const { joint, hole } = facts;
  const { model } = skeleton;
  const isIn = partsIn(model, at);
  const layers = hole.layers.filter((l) => joint.layers.includes(l.part));
  if (layers.length === joint.layers.length && layers.every((l) => l.state === 'final'))
    return { state: 'done', how: 'none', why: 'final through every layer' };
  const sized = sizeAnswer(asked);
  if (sized.state === 'never' || sized.state === 'in doubt') return sized;
  const planned = opensAt(model, joint);
  const stage = planned === undefined ? undefined : model.stages[planned]?.name;
  if (ahead && planned !== undefined && planned < at && planned >= stageIndex(model))
    return { state: 'done', how: 'none', why: `by the plan, opened by then at “${stage}”` };
  const here = joint.layers.filter(isIn);
  const undrilled = here.filter((part) => !layers.some((l) => l.part === part && l.state !== 'none'));
  if (undrilled.length > 0 && here.length >= 2) return pilotAnswer(asked, undrilled);
  const missing = missingLayers(model, joint, at);
  if (missing.length > 0) return waitsForLayers(model, asked, missing);
  if (planned !== undefined && planned > at && stage !== undefined) return plannedFor(stage);
  return sized;
}
