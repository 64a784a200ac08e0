import { type Batten, cheapestBatten } from '../../mechanics/batten.ts';
import { battensUnder } from '../../mechanics/battensUnder.ts';
import type { Before } from '../reach.ts';
import { coreOf, weightOf } from './core.ts';
import type { Objective, Weights } from './objectives.ts';
import { workOf } from './plan.ts';
import { wantedLine } from './straightest.ts';
import { chosen, type Variant } from './variants.ts';

/*
 * Which combination is the best for an objective, over all arrangements? The core is solved exactly; then every
 * combination that the core does not yet show to be worse than the best known is asked for what lies outside it.
 */

/** A combination of an arrangement, what it weighs, and what none of that arrangement weighs less than. */
interface Solved {
  readonly variant: Variant;
  readonly picks: readonly number[];
  readonly cost: number;
  readonly bound: number;
}

/** What the exchanges of an arrangement weigh by themselves. */
const exchanged = (v: Variant, w: Weights): number => (v.remedies.length > 0 ? w.work * workOf(v.remedies) : 0);

/**
 * The best of one arrangement, or as good as `nodes` thousand steps find; only what weighs less than `under` is
 * looked for.
 */
function* solve(
  v: Variant,
  core: Batten,
  objective: Objective,
  { under, nodes }: { readonly under: number; readonly nodes: number },
): Generator<void, Solved> {
  const extra = exchanged(v, objective.weights);
  const start = cheapestBatten(core);
  if (start.cost === Number.POSITIVE_INFINITY) return { variant: v, picks: [], cost: start.cost, bound: start.cost };
  const whole = (cost: number, picks: readonly number[]): number =>
    cost + extra + weightOf(objective.weights, { ...v.far(chosen(v, picks)), off: 0 });
  let picks = start.picks;
  let cost = whole(start.cost, picks);
  const bound = start.cost + extra;
  if (cost <= bound + 1e-6 || bound >= under) return { variant: v, picks, cost, bound };
  let left = nodes;
  for (const found of battensUnder(core, () => Math.min(cost, under) - extra - 1e-6)) {
    yield;
    if (!found && --left <= 0) return { variant: v, picks, cost, bound };
    if (!found) continue;
    const now = whole(found.cost, found.picks);
    if (now < cost) [cost, picks] = [now, found.picks];
  }
  return { variant: v, picks, cost, bound: Math.min(cost, under) };
}

/** The best for an objective, and what no combination weighs less than. */
export interface SolvedObjective extends Solved {
  readonly objective: Objective;
}

/**
 * The best of all arrangements for an objective; undefined where the objective bars every combination. Yields often.
 */
export function* answer(
  variants: readonly Variant[],
  objective: Objective,
  before: Before,
  nodes: number,
): Generator<void, SolvedObjective | undefined> {
  const most = objective.straight ? yield* wantedLine(variants, objective, before) : Number.POSITIVE_INFINITY;
  const cores: { readonly v: Variant; readonly core: Batten; readonly least: number }[] = [];
  for (const v of variants) {
    const core = coreOf(v, objective, before, most);
    cores.push({ v, core, least: cheapestBatten(core).cost + exchanged(v, objective.weights) });
    yield;
  }
  cores.sort((p, q) => p.least - q.least);
  let best: Solved | undefined;
  let bound = Number.POSITIVE_INFINITY;
  for (const { v, core, least } of cores) {
    const under = best?.cost ?? Number.POSITIVE_INFINITY;
    if (least >= under) break;
    const solved = yield* solve(v, core, objective, { under, nodes });
    bound = Math.min(bound, solved.bound);
    if (solved.cost < under) best = solved;
  }
  return best && { ...best, objective, bound: Math.min(bound, best.cost) };
}
