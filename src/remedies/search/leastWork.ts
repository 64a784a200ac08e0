import { checkAll } from '../../checks/checkAll.ts';
import type { Model } from '../../model/schema.ts';
import { easierTogether } from '../offers/easier.ts';
import { type Before, leftBy, measureFirst } from '../reach.ts';
import type { Remedy } from '../remedy.ts';
import { conflictsOf } from './conflicts.ts';
import { leftIn, readWeight, weightOf } from './core.ts';
import { findingsFirst, OBJECTIVES, type Objective } from './objectives.ts';
import type { Outcome, PlanCounts, Progress, Proof, Settings } from './outcome.ts';
import { betterFirst, type Plan, planOf, unbeaten, workOf } from './plan.ts';
import { answer, type SolvedObjective } from './solve.ts';
import { chosen, type Variant, variantsOf } from './variants.ts';
import { type Whole, wholeAsIs, wholesOf } from './wholes.ts';

/*
 * What is the least work that makes it true?
 *
 * One choice at each station (`choices.ts`), at most one exchange of like ribs (`variants.ts`), the jig packed or
 * not, a bowed spar pulled straight or not (`wholes.ts`); of all their combinations the best for each objective
 * (`objectives.ts`). Best values count: a finding past its act threshold is at act, or more likely than not; doubt is
 * for measuring, not for metal. Three kinds are aside. A finding that rests on the drawing alone and is made no
 * worse, and readings that disagree or were taken warm and cold: measure first. An echo: no remedy is offered for
 * one; while searching its kink counts beside its source's, for both go together, and no plan's tally shows it.
 *
 * Exact over what is offered: what a choice does at its own station is asked of the checks themselves; the noses join
 * the stations and go through dynamic programming (`batten.ts`); how a straight spar rests on all ribs, and how the
 * skin strip bends over many noses, can only add findings, so every combination that the core does not yet show to be
 * worse than the best known is asked for those (`battensUnder.ts`), until none is left or the allowed steps are used
 * up; then the proof says what could still be gained. Every plan returned was applied to the whole panel and all
 * checks asked again.
 *
 * Pure: no clock. A caller takes as many steps as it has time for, and stops by taking no more.
 */

/** Findings beyond act and between fits and act, by best values. */
type Leaves = Omit<PlanCounts, 'work'>;

/** What every search of one panel asks about. */
interface Search {
  readonly model: Model;
  readonly before: Before;
  /** The ribs as they stand, and with two exchanged. */
  readonly variants: readonly [Variant, ...Variant[]];
  readonly wholes: readonly Whole[];
  /** What no choice is asked about, as the panel is. */
  readonly rest: Leaves;
}

/** Remedies of an answer in the order they are done: exchanged first, then station by station, then the whole. */
function remediesOf({ variant, picks }: SolvedObjective, whole: Whole): Remedy[] {
  return easierTogether(variant.model, [
    ...variant.remedies,
    ...chosen(variant, picks).flatMap((c) => c.remedies),
    ...whole.remedies,
  ]);
}

/** Findings of the panel as it is that no choice is asked about. */
function untouched(base: Variant, before: Before): Leaves {
  const all = leftBy(checkAll(base.model), before);
  const asTheyAre = base.choices.map((list) => list.findIndex((c) => c.remedies.length === 0));
  const asked = leftIn(base, asTheyAre, before);
  const whole = wholeAsIs(base.model);
  return { beyond: all.beyond - asked.beyond - whole.beyond, outside: all.outside - asked.outside - whole.outside };
}

/** What the search is about; undefined where it was stopped before it knew. */
function* searchOf(model: Model, settings: Settings): Generator<Progress, Search | undefined> {
  const before = measureFirst(model);
  const variants = yield* telling(variantsOf(model, settings), (p) => p, settings);
  return variants && { model, before, variants, wholes: wholesOf(model), rest: untouched(variants[0], before) };
}

/** An answer made into a plan. */
interface Judged {
  readonly found: SolvedObjective;
  readonly whole: Whole;
  readonly plan: Plan;
}

const sum = (...all: readonly Leaves[]): Leaves => ({
  beyond: all.reduce((s, l) => s + l.beyond, 0),
  outside: all.reduce((s, l) => s + l.outside, 0),
});

const PROVEN = 'Proven: nothing else of what is offered does better.';

function notProven(objective: Objective, counted: PlanCounts, bound: PlanCounts): string {
  const outside = findingsFirst(objective.weights) ? ` and ${bound.outside} between fits and act` : '';
  return `Not proven: nothing of what is offered leaves fewer than ${bound.beyond} beyond act${outside}; this leaves ${counted.beyond} and ${counted.outside}.`;
}

function proofOf({ before, rest }: Search, { found, whole, plan }: Judged): Proof {
  const { objective, variant, picks } = found;
  const { work } = plan.tally;
  const counted: PlanCounts = { ...sum(leftIn(variant, picks, before), whole, rest), work };
  const least = readWeight(found.bound, objective.weights);
  const bound: PlanCounts = { ...sum(least, whole, rest), work: least.work + workOf(whole.remedies) };
  const asked = leftBy(checkAll(plan.model), before);
  const same = asked.beyond === counted.beyond && asked.outside === counted.outside;
  if (!same) {
    const sentence = `Asked again the whole panel leaves ${asked.beyond} beyond act and ${asked.outside} between fits and act, the search had counted ${counted.beyond} and ${counted.outside}.`;
    const again: PlanCounts = { beyond: asked.beyond, outside: asked.outside, work };
    return { objective: objective.id, proven: false, found: again, bound, sentence };
  }
  const proven = found.bound >= found.cost - 1e-6;
  return {
    objective: objective.id,
    proven,
    found: counted,
    bound: proven ? counted : bound,
    sentence: proven ? PROVEN : notProven(objective, counted, bound),
  };
}

/** Steps a search within the search through, telling how far it is; undefined where it was stopped. */
function* telling<P, T>(
  inner: Generator<P, T>,
  told: (p: P) => Progress,
  { stop }: Settings,
): Generator<Progress, T | undefined> {
  for (let step = inner.next(); ; step = inner.next()) {
    if (step.done) return step.value;
    if (stop?.()) return undefined;
    yield told(step.value);
  }
}

const nameFor = (objective: Objective, plan: Plan): string =>
  plan.tally.beyond > 0 && objective.otherwise ? objective.otherwise : objective.name;

/** What is best done to the whole panel for an objective: it joins with nothing else. */
function bestWhole({ wholes, model }: Search, { weights }: Objective): Whole {
  const weight = (w: Whole): number => weightOf(weights, w) + weights.work * workOf(w.remedies);
  return wholes.reduce((best, w) => (weight(w) < weight(best) ? w : best), wholeAsIs(model));
}

/**
 * The plan for an objective with its proof; undefined where there is none but doing nothing, or the search was
 * stopped.
 */
function* planFor(
  search: Search,
  objective: Objective,
  told: () => Progress,
  settings: Settings,
): Generator<Progress, { readonly plan: Plan; readonly proof: Proof } | undefined> {
  const variants = objective.stays ? search.variants.slice(0, 1) : search.variants;
  const found = yield* telling(answer(variants, objective, search.before, settings.nodes ?? 200), told, settings);
  if (!found) return undefined;
  const whole = bestWhole(search, objective);
  const made = planOf(search.model, remediesOf(found, whole));
  yield told();
  if (!made.ok || made.plan.remedies.length === 0) return undefined;
  const plan = { ...made.plan, name: nameFor(objective, made.plan) };
  return { plan, proof: proofOf(search, { found, whole, plan }) };
}

/** What was found before the search ended or was stopped. */
interface Gathered {
  readonly plans: Map<string, Plan>;
  readonly proofs: Map<string, Proof>;
  best?: Plan;
  bound?: PlanCounts;
  complete: boolean;
}

/** Searches for every objective in turn. */
function* gather(search: Search, settings: Settings): Generator<Progress, Gathered> {
  const objectives = settings.objectives ?? OBJECTIVES;
  const all: Gathered = { plans: new Map(), proofs: new Map(), complete: true };
  for (const [done, objective] of objectives.entries()) {
    const told = (): Progress => ({ phase: 'search', done, of: objectives.length, best: all.best, bound: all.bound });
    yield told();
    if (settings.stop?.()) {
      all.complete = false;
      break;
    }
    const found = yield* planFor(search, objective, told, settings);
    if (!found || all.plans.has(found.plan.id)) continue;
    all.plans.set(found.plan.id, found.plan);
    all.proofs.set(found.plan.id, found.proof);
    if (!all.best || betterFirst(found.plan, all.best) < 0) all.best = found.plan;
    if (done === 0) all.bound = found.proof.bound;
  }
  return all;
}

function doNothing(model: Model): Plan {
  const nothing = planOf(model, []);
  if (!nothing.ok) throw new RangeError('doing nothing cannot be refused');
  return nothing.plan;
}

/** Searches for the least work. Take steps as long as there is time; the value of the last is the answer. */
export function* leastWork(model: Model, settings: Settings = {}): Generator<Progress, Outcome> {
  const nothing = doNothing(model);
  const search = yield* searchOf(model, settings);
  if (!search) return { plans: [nothing], proofs: new Map(), conflicts: [], complete: false, combinations: 0 };
  const { plans, proofs, best, bound, complete } = yield* gather(search, settings);
  yield { phase: 'check', done: 0, of: 1, best, bound };
  const most = Math.max(1, (settings.plans ?? 12) - 1);
  const kept = unbeaten([...plans.values(), nothing])
    .filter((p) => p !== nothing)
    .sort(betterFirst)
    .slice(0, most);
  const { variants, wholes } = search;
  return {
    plans: [...kept, nothing],
    proofs,
    conflicts: conflictsOf(model, variants[0], best ?? nothing),
    complete,
    combinations: variants.reduce((all, v) => all + v.choices.reduce((p, c) => p * c.length, 1), 0) * wholes.length,
  };
}
