import { checkAll } from '../../checks/checkAll.ts';
import type { Model } from '../../model/schema.ts';
import { bentTogether } from '../offers/bentTogether.ts';
import { type Whole, wholesOf } from '../offers/wholes.ts';
import { type Before, counts, drawnOnly, levelOf, reachOf } from '../reach.ts';
import type { Remedy } from '../remedy.ts';
import { conflictsOf } from './conflicts.ts';
import { findingsFirst, OBJECTIVES, type Objective } from './objectives.ts';
import type { Counts, Outcome, Progress, Proof, Settings } from './outcome.ts';
import { betterFirst, type Plan, planOf, unbeaten, workOf } from './plan.ts';
import { type Answer, answer, left, readWeight, weightOf } from './solve.ts';
import { type Variant, variantsOf } from './variants.ts';

/*
 * What is the least work that makes it true?
 *
 * One choice at each station (`choices.ts`), at most one exchange of like ribs (`variants.ts`), the jig packed or not, a
 * bowed spar pulled straight or not (`wholes.ts`); of all their combinations the best for each objective (`objectives.ts`). Best
 * values count: a finding past its act threshold is at act, or more likely than not; doubt is for measuring, not for metal.
 * Three kinds are aside. A finding that rests on the drawing alone and is made no worse, and readings that disagree or were
 * taken warm and cold: measure first. An echo: no remedy is offered for one; while searching its kink counts beside its
 * source's, for both go together, and no plan's tally shows it.
 *
 * Exact over what is offered: what a choice does at its own station is asked of the checks themselves; the noses join the
 * stations and go through dynamic programming (`core.ts`); how a straight spar rests on all ribs, and how the skin strip
 * bends over many noses, can only add findings, so every combination that the core does not yet show to be worse than the
 * best known is asked for those (`nearBest.ts`), until none is left or the allowed steps are used up; then the proof says
 * what could still be gained. Every plan returned was applied to the whole panel and all checks asked again.
 *
 * Pure: no clock. A caller takes as many steps as it has time for, and stops by taking no more.
 */

/** Remedies of an answer in the order they are done: exchanged first, then station by station, then the whole. */
function remediesOf({ variant, picks }: Answer, whole: Whole): Remedy[] {
  return bentTogether([
    ...variant.remedies,
    ...picks.flatMap((p, i) => variant.choices[i]![p]!.remedies),
    ...whole.remedies,
  ]);
}

/** Findings beyond act and outside fits of a panel, echoes among them. */
function withEchoes(model: Model, before: Before): { beyond: number; outside: number } {
  let [beyond, outside] = [0, 0];
  for (const f of checkAll(model)) {
    const reach = reachOf(f.value, f.limits);
    const l = counts(f.id, reach, before) ? levelOf(reach) : 0;
    if (l === 2) beyond++;
    else if (l === 1) outside++;
  }
  return { beyond, outside };
}

/** What the search does not touch: findings of the panel as it is that no choice is asked about. */
function untouched(base: Variant, none: Whole, before: Before): { beyond: number; outside: number } {
  const all = withEchoes(base.model, before);
  const asked = left(
    { variant: base, picks: base.choices.map((list) => list.findIndex((c) => c.remedies.length === 0)) },
    before,
  );
  return { beyond: all.beyond - asked.beyond - none.beyond, outside: all.outside - asked.outside - none.outside };
}

interface Judged {
  readonly found: Answer;
  readonly whole: Whole;
  readonly plan: Plan;
  readonly rest: { readonly beyond: number; readonly outside: number };
  readonly before: Before;
}

function proofOf({ found, whole, plan, rest, before }: Judged): Proof {
  const w = found.objective.weights;
  const extra = workOf(whole.remedies);
  const mine = left(found, before);
  const counted: Counts = {
    beyond: mine.beyond + whole.beyond + rest.beyond,
    outside: mine.outside + whole.outside + rest.outside,
    work: plan.tally.work,
  };
  const least = readWeight(found.bound, w);
  const bound: Counts = {
    beyond: least.beyond + whole.beyond + rest.beyond,
    outside: least.outside + whole.outside + rest.outside,
    work: least.work + extra,
  };
  const asked = withEchoes(plan.model, before);
  const same = asked.beyond === counted.beyond && asked.outside === counted.outside;
  const proven = same && found.bound >= found.cost - 1e-6;
  if (proven)
    return {
      objective: found.objective.id,
      proven,
      found: counted,
      bound: counted,
      sentence: 'Proven: nothing else of what is offered does better.',
    };
  const few = findingsFirst(w)
    ? `fewer than ${bound.beyond} beyond act and ${bound.outside} between fits and act`
    : `fewer than ${bound.beyond} beyond act`;
  const sentence = same
    ? `Not proven: nothing of what is offered leaves ${few}; this leaves ${counted.beyond} and ${counted.outside}.`
    : `Asked again the whole panel leaves ${asked.beyond} beyond act and ${asked.outside} between fits and act, the search had counted ${counted.beyond} and ${counted.outside}.`;
  return { objective: found.objective.id, proven, found: { ...asked, work: counted.work }, bound, sentence };
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

const named = (objective: Objective, plan: Plan): string =>
  plan.tally.beyond > 0 && objective.otherwise ? objective.otherwise : objective.name;

/** Searches for the least work. Take steps as long as there is time; the value of the last is the answer. */
export function* leastWork(model: Model, settings: Settings = {}): Generator<Progress, Outcome> {
  const before = drawnOnly(model);
  const objectives = settings.objectives ?? OBJECTIVES;
  const nothing = planOf(model, []);
  if (!nothing.ok) throw new RangeError('doing nothing cannot be refused');
  const variants = yield* telling(variantsOf(model, settings), (p) => p, settings);
  const base = variants?.[0];
  if (!variants || !base)
    return { plans: [nothing.plan], proofs: new Map(), conflicts: [], complete: false, combinations: 0 };
  const wholes = wholesOf(model);
  const rest = untouched(base, wholes[0]!, before);
  const plans = new Map<string, Plan>();
  const proofs = new Map<string, Proof>();
  let best: Plan | undefined;
  let bound: Counts | undefined;
  let complete = true;
  for (const [done, objective] of objectives.entries()) {
    const told = (): Progress => ({ phase: 'search', done, of: objectives.length, best, bound });
    yield told();
    if (settings.stop?.()) {
      complete = false;
      break;
    }
    const found = yield* telling(
      answer(objective.stays ? [base] : variants, objective, before, settings.nodes ?? 200),
      told,
      settings,
    );
    if (!found) continue;
    const w = objective.weights;
    const weight = (x: Whole): number => weightOf(w, x) + w.work * workOf(x.remedies);
    const whole = [...wholes].sort((a, b) => weight(a) - weight(b))[0]!;
    const made = planOf(model, remediesOf(found, whole));
    yield told();
    if (!made.ok || made.plan.remedies.length === 0 || plans.has(made.plan.id)) continue;
    const plan = { ...made.plan, name: named(objective, made.plan) };
    plans.set(plan.id, plan);
    const proof = proofOf({ found, whole, plan, rest, before });
    proofs.set(plan.id, proof);
    if (!best || betterFirst(plan, best) < 0) best = plan;
    if (done === 0) bound = proof.bound;
  }
  yield { phase: 'check', done: 0, of: 1, best, bound };
  const kept = unbeaten([...plans.values(), nothing.plan])
    .filter((p) => p !== nothing.plan)
    .sort(betterFirst)
    .slice(0, Math.max(1, (settings.plans ?? 12) - 1));
  return {
    plans: [...kept, nothing.plan],
    proofs,
    conflicts: conflictsOf(model, base, best ?? nothing.plan),
    complete,
    combinations: variants.reduce((sum, v) => sum + v.choices.reduce((p, c) => p * c.length, 1), 0) * wholes.length,
  };
}

/** Runs a search to its end. */
export function finished<P, T>(search: Generator<P, T>): T {
  for (let step = search.next(); ; step = search.next()) if (step.done) return step.value;
}
