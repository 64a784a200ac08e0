import { checkAll } from '../../checks/checkAll.ts';
import type { Finding, Verdict } from '../../checks/finding.ts';
import { against, nosesOf } from '../../checks/fit/noseLine.ts';
import type { Fault } from '../../model/file/faults/fault.ts';
import type { Model } from '../../model/schema.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { NEAR } from '../../units/near.ts';
import { changesBetween, effectOf, type FindingChange } from '../effect.ts';
import { gramsAdded } from '../pieceMass.ts';
import { counts, leftBy, measureFirst, reachOf } from '../reach.ts';
import { type Cost, FREE, type Remedy } from '../remedy.ts';

/*
 * A Plan is a named set of remedies judged whole: every Edit applied, every check asked again.
 *
 * Its counts leave aside echoes (put the source right and they go), and what is to be measured, not cut: findings
 * that rest on the drawing alone and are no worse than they were, and readings that disagree or were taken warm and
 * cold. `beyond` and `outside` go by best values, see `reach.ts`; `act`,
 * `unsettled` and `watch` are the verdicts as everywhere, echoes aside.
 */

/** What a plan costs, and what it leaves. */
export interface PlanTally extends Cost {
  /** One number for the work, in quarter hours: picked, see `WORK`. */
  readonly work: number;
  /** Layers in the thickest stack of rivets that the plan adds to; 0 where it adds to none. */
  readonly stack: number;
  /** Grams added, estimated from flat sizes. */
  readonly mass: number;
  readonly askDesigner: boolean;
  readonly act: number;
  readonly unsettled: number;
  readonly watch: number;
  readonly fits: number;
  /** Findings whose best value lies beyond act: at act, or more likely than not. */
  readonly beyond: number;
  /** Findings whose best value lies between fits and act. */
  readonly outside: number;
  /** The counted finding that reaches furthest: 1 where fits ends, 2 where act begins. */
  readonly worst: { readonly id: string; readonly reach: number } | undefined;
  /** Largest departure of a nose from the line through the end noses, mm; 0 with fewer than three noses. */
  readonly noseLine: number;
  /** Sum of squared reaches: how well in the middle all lies; tells equals apart. */
  readonly off: number;
}

export interface Plan {
  /** Its remedies' ids, joined; `nothing` for none. */
  readonly id: string;
  readonly name: string;
  readonly remedies: readonly Remedy[];
  /** The panel with all of it done. */
  readonly model: Model;
  readonly tally: PlanTally;
  /** Everything that moves, changed verdicts first, the worst first among them. */
  readonly changes: readonly FindingChange[];
}

/**
 * Quarter hours of each kind of work, and what a lost hole or a word with the designer counts: picked by judgement,
 * no source.
 */
const WORK = { pieces: 4, remade: 12, reformed: 3, moved: 1, holesLost: 1, askDesigner: 1 } as const;

/** Costs of some remedies together; a doubler made of another sheet and bent easier is one piece. */
export function costOf(remedies: readonly Pick<Remedy, 'kind' | 'part' | 'cost'>[]): Cost {
  const sum: { -readonly [K in keyof Cost]: number } = { ...FREE };
  const made = new Set(remedies.filter((r) => r.kind === 'resheet').map((r) => r.part));
  for (const r of remedies) {
    for (const k of Object.keys(FREE) as (keyof Cost)[]) sum[k] += r.cost[k];
    if (r.kind === 'easier' && made.has(r.part)) sum.pieces -= r.cost.pieces;
  }
  return sum;
}

/**
 * The work of some remedies, quarter hours. A packer and a re-bent tail: 4 + 3, and 1 to ask the designer for the
 * packer.
 */
export function workOf(remedies: readonly Remedy[]): number {
  const cost = costOf(remedies);
  const asked = remedies.filter((r) => r.askDesigner).length;
  return (
    (Object.keys(cost) as (keyof Cost)[]).reduce((sum, k) => sum + WORK[k] * cost[k], 0) + WORK.askDesigner * asked
  );
}

/** Layers of the thickest joint that gained a layer. */
function stackOf(before: Model, after: Model): number {
  const was = new Map(before.joints.map((j) => [j.id, j.layers.length]));
  return after.joints.reduce(
    (most, j) => (j.layers.length > (was.get(j.id) ?? 0) ? Math.max(most, j.layers.length) : most),
    0,
  );
}

/** Largest departure of an inner nose from the line through the two end noses, mm. */
function crookedness(model: Model): number {
  const noses = nosesOf(skeletonOf(model), 'straight');
  const [first, last] = [noses[0], noses[noses.length - 1]];
  if (!first || !last || noses.length < 3) return 0;
  return noses.slice(1, -1).reduce((most, n) => Math.max(most, Math.abs(against(n, first, last).value)), 0);
}

/** What is left of the findings: counts by verdict and by best value. */
function leftOf(
  before: Model,
  findings: readonly Finding[],
): Pick<PlanTally, 'act' | 'unsettled' | 'watch' | 'fits' | 'beyond' | 'outside' | 'worst' | 'off'> {
  const drawn = measureFirst(before);
  const own = findings.filter((f) => !f.echoOf);
  const by: Record<Verdict, number> = { fits: 0, watch: 0, unsettled: 0, act: 0 };
  for (const f of own) by[f.verdict]++;
  let worst: PlanTally['worst'];
  for (const f of own) {
    const reach = reachOf(f.value, f.limits);
    if (counts(f, reach, drawn) && (!worst || reach > worst.reach)) worst = { id: f.id, reach };
  }
  return { ...by, ...leftBy(own, drawn), worst };
}

/** A plan as its remedies make it, already applied. */
function judged(
  model: Model,
  after: Model,
  remedies: readonly Remedy[],
  changes: readonly FindingChange[],
  name: string | undefined,
): Plan {
  const id =
    remedies.length === 0
      ? 'nothing'
      : remedies
          .map((r) => r.id)
          .sort()
          .join(' + ');
  const tally: PlanTally = {
    ...costOf(remedies),
    work: workOf(remedies),
    stack: stackOf(model, after),
    mass: gramsAdded(model, after),
    askDesigner: remedies.some((r) => r.askDesigner),
    ...leftOf(model, checkAll(after)),
    noseLine: crookedness(after),
  };
  return {
    id,
    name: name ?? (remedies.length === 0 ? 'do nothing' : remedies.map((r) => r.name).join('; ')),
    remedies,
    model: after,
    tally,
    changes,
  };
}

/** A named set of remedies judged whole, or the faults that make them impossible together. */
export function planOf(
  model: Model,
  remedies: readonly Remedy[],
  name?: string,
): { ok: true; plan: Plan } | { ok: false; faults: readonly Fault[] } {
  if (remedies.length === 0) return { ok: true, plan: judged(model, model, [], [], name) };
  const done = effectOf(model, remedies);
  if (!done.ok) return done;
  return { ok: true, plan: judged(model, done.effect.model, remedies, changesBetween(model, done.effect.model), name) };
}

function byName(a: string, b: string): number {
  if (a === b) return 0;
  return a < b ? -1 : 1;
}

/**
 * Plans in the order a builder would read them: fewest left beyond act, then fewest outside fits, then least work,
 * then furthest inside.
 */
export function betterFirst(a: Plan, b: Plan): number {
  const [s, t] = [a.tally, b.tally];
  return (
    s.beyond - t.beyond ||
    s.outside - t.outside ||
    s.work - t.work ||
    s.off - t.off ||
    s.mass - t.mass ||
    byName(a.id, b.id)
  );
}

/** Everything a plan is counted by; less is better in each. */
const COUNTS: readonly ((t: PlanTally) => number)[] = [
  (t) => t.beyond,
  (t) => t.outside,
  (t) => t.pieces,
  (t) => t.remade,
  (t) => t.reformed,
  (t) => t.moved,
  (t) => t.holesLost,
  (t) => t.stack,
  (t) => t.mass,
  (t) => t.worst?.reach ?? 0,
  (t) => t.noseLine,
];

/** Whether plan a is at least as good as b on every count and better on one. */
function beats(a: Plan, b: Plan): boolean {
  let better = false;
  for (const count of COUNTS) {
    const d = count(a.tally) - count(b.tally);
    if (d > NEAR) return false;
    if (d < -NEAR) better = true;
  }
  return better;
}

/** The plans that no other beats on every count; doing nothing stays in any case. */
export function unbeaten(plans: readonly Plan[]): Plan[] {
  return plans.filter((p) => p.remedies.length === 0 || !plans.some((q) => q !== p && beats(q, p)));
}
