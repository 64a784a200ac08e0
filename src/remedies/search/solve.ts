import { checkAll } from '../../checks/checkAll.ts';
import { limitFor } from '../../model/limits.ts';
import type { Model } from '../../model/schema.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { type Before, counts, levelOf, reachOf } from '../reach.ts';
import type { Choice } from './choices.ts';
import { type Core, type CoreChoice, solveCore } from './core.ts';
import type { Far } from './leftover.ts';
import { nearBest } from './nearBest.ts';
import { findingsFirst, GRAM, OFF, type Weights, type Objective } from './objectives.ts';
import { workOf } from './plan.ts';
import type { Variant } from './variants.ts';

/*
 * Which combination is the best for an objective, over all arrangements? The core is solved exactly; then every combination that
 * the core does not yet show to be worse than the best known is asked for what lies outside it. For a straight nose line
 * the least departure that can be had is found first.
 */

/** What some findings weigh for an objective. */
export const weightOf = (
  w: Weights,
  c: { readonly beyond: number; readonly outside: number; readonly off: number },
): number => w.beyond * c.beyond + w.outside * c.outside + OFF * c.off;

/** The core of an arrangement for an objective; inner noses further off the line through the ends than `most` mm are barred. */
export function coreOf(v: Variant, objective: Objective, before: Before, most = Number.POSITIVE_INFINITY): Core {
  const { bays } = skeletonOf(v.model);
  const [kinkLimit, lineLimit] = [limitFor(v.model, 'nose-kink'), limitFor(v.model, 'nose-line')];
  const w = objective.weights;
  const mark = bays.map((b) => b.nose?.id ?? b.tip?.id ?? b.station.id);
  const price = (id: string, value: number, limit: typeof kinkLimit): number => {
    const reach = reachOf(value, limit);
    if (!counts(id, reach, before)) return 0;
    const l = levelOf(reach);
    return (l === 2 ? w.beyond : l === 1 ? w.outside : 0) + OFF * Math.min(reach, 3) ** 2;
  };
  return {
    ys: bays.map((b) => b.station.y),
    choices: v.choices.map((list) =>
      list.map(
        (c): CoreChoice => ({
          nose: c.nose,
          cost: objective.allows(c) ? weightOf(w, c) + w.work * c.work + GRAM * c.mass : Number.POSITIVE_INFINITY,
        }),
      ),
    ),
    kink: (i, q) => price(`nose-kink:${mark[i]!}`, q, kinkLimit),
    line: (i, r) =>
      Math.abs(r) > most + 1e-9 ? Number.POSITIVE_INFINITY : price(`nose-line:${mark[i]!}`, r, lineLimit),
    end: (i, e) => price(`nose-line:${mark[i]!}`, e, lineLimit),
  };
}

/** A combination of an arrangement, what it weighs, and what none of that arrangement weighs less than. */
export interface Solved {
  readonly variant: Variant;
  readonly picks: readonly number[];
  readonly cost: number;
  readonly bound: number;
}

const far = (v: Variant, picks: readonly number[]): Far =>
  v.far(
    picks.map((p, i) => v.choices[i]![p]!.chord),
    picks.map((p, i) => v.choices[i]![p]!.nose),
  );

/** What the exchanges of an arrangement weigh by themselves. */
const exchanged = (v: Variant, w: Weights): number => (v.remedies.length > 0 ? w.work * workOf(v.remedies) : 0);

/** The best of one arrangement, or as good as `nodes` thousand steps find; only what weighs less than `under` is looked for. */
function* solve(
  v: Variant,
  core: Core,
  objective: Objective,
  { under, nodes }: { readonly under: number; readonly nodes: number },
): Generator<void, Solved> {
  const extra = exchanged(v, objective.weights);
  const start = solveCore(core);
  if (start.cost === Number.POSITIVE_INFINITY) return { variant: v, picks: [], cost: start.cost, bound: start.cost };
  const whole = (cost: number, picks: readonly number[]): number =>
    cost + extra + weightOf(objective.weights, { ...far(v, picks), off: 0 });
  let picks = start.picks;
  let cost = whole(start.cost, picks);
  const bound = start.cost + extra;
  if (cost <= bound + 1e-6 || bound >= under) return { variant: v, picks, cost, bound };
  let left = nodes;
  for (const found of nearBest(core, () => Math.min(cost, under) - extra - 1e-6)) {
    yield;
    if (found) {
      const now = whole(found.cost, found.picks);
      if (now < cost) [cost, picks] = [now, found.picks];
    } else if (--left <= 0) return { variant: v, picks, cost, bound };
  }
  return { variant: v, picks, cost, bound: Math.min(cost, under) };
}

/** Findings beyond act and outside fits that a cost of a findings-first objective stands for, as one number. */
const findings = (cost: number, w: Weights): number => Math.floor(cost / w.outside + 1e-6);

/** Every departure from the line through the ends that some inner nose of an arrangement can have, mm, rising. */
function departures(v: Variant, objective: Objective): number[] {
  const { bays } = skeletonOf(v.model);
  const at = bays.flatMap((_, i) => (v.choices[i]!.some((c) => c.nose !== undefined) ? [i] : []));
  const [a, b] = [at[0], at[at.length - 1]];
  const values = new Set<number>([0]);
  if (a === undefined || b === undefined || at.length < 3) return [0];
  const places = (i: number): number[] => [...new Set(v.choices[i]!.filter(objective.allows).map((c) => c.nose ?? 0))];
  for (const e of places(a)) {
    for (const f of places(b)) {
      for (const i of at.slice(1, -1)) {
        const t = (bays[i]!.station.y - bays[a]!.station.y) / (bays[b]!.station.y - bays[a]!.station.y);
        for (const n of places(i)) values.add(Math.abs(n - (1 - t) * e - t * f));
      }
    }
  }
  return [...values].sort((p, q) => p - q);
}

/** The least that the worst nose can be off the line through the ends, mm, with no more than so many findings left. */
function straightest(v: Variant, objective: Objective, before: Before, fewest: number): number {
  const values = departures(v, objective);
  let [low, high] = [0, values.length - 1];
  while (low < high) {
    const mid = (low + high) >> 1;
    const { cost } = solveCore(coreOf(v, objective, before, values[mid]!));
    if (cost < Number.POSITIVE_INFINITY && findings(cost, objective.weights) <= fewest) high = mid;
    else low = mid + 1;
  }
  return values[low]!;
}

/** Below this nothing is gained by straightening: what the readings of the nose line can tell, mm. */
function tellable(model: Model): number {
  const us = checkAll(model)
    .filter((f) => f.check === 'nose-line')
    .map((f) => f.u);
  return us.length === 0 ? 0 : Math.min(...us);
}

/** How straight the nose line must be for an objective that asks for it: as straight as any arrangement allows that leaves no more findings than the best of all. */
function* wantedLine(variants: readonly Variant[], objective: Objective, before: Before): Generator<void, number> {
  const free: number[] = [];
  for (const v of variants) {
    free.push(findings(solveCore(coreOf(v, objective, before)).cost, objective.weights));
    yield;
  }
  const fewest = Math.min(...free);
  let least = Number.POSITIVE_INFINITY;
  for (const [i, v] of variants.entries()) {
    if (free[i] === fewest) least = Math.min(least, straightest(v, objective, before, fewest));
    yield;
  }
  return Math.max(least, tellable(variants[0]!.model));
}

/** The best for an objective, and what no combination weighs less than. */
export interface Answer extends Solved {
  readonly objective: Objective;
}

/** The best of all arrangements for an objective; undefined where the objective bars every combination. Yields often. */
export function* answer(
  variants: readonly Variant[],
  objective: Objective,
  before: Before,
  nodes: number,
): Generator<void, Answer | undefined> {
  const most = objective.straight ? yield* wantedLine(variants, objective, before) : Number.POSITIVE_INFINITY;
  const cores: { readonly v: Variant; readonly core: Core; readonly least: number }[] = [];
  for (const v of variants) {
    const core = coreOf(v, objective, before, most);
    cores.push({ v, core, least: solveCore(core).cost + exchanged(v, objective.weights) });
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

/** What a weight stands for: findings and work; findings outside fits and work together where an objective trades one for the other. */
export function readWeight(
  cost: number,
  w: Weights,
): { readonly beyond: number; readonly outside: number; readonly work: number } {
  const beyond = Math.floor(cost / w.beyond + 1e-9);
  const rest = cost - beyond * w.beyond;
  const outside = findingsFirst(w) ? Math.floor(rest / w.outside + 1e-7) : 0;
  return { beyond, outside, work: w.work > 0 ? Math.floor((rest - outside * w.outside) / w.work + 1e-6) : 0 };
}

/** What one choice at each station weighs together for an objective: its own findings and work, the noses, and all that lies outside the core. */
export function weigher(v: Variant, objective: Objective, before: Before): (choices: readonly Choice[]) => number {
  const { ys, kink, line, end } = coreOf({ ...v, choices: [] }, objective, before);
  const w = objective.weights;
  return (choices) => {
    const at = choices.flatMap((c, i) => (c.nose === undefined ? [] : [{ i, y: ys[i]!, v: c.nose }]));
    const [first, last] = [at[0], at[at.length - 1]];
    let sum = weightOf(w, {
      ...v.far(
        choices.map((c) => c.chord),
        choices.map((c) => c.nose),
      ),
      off: 0,
    });
    for (const c of choices) sum += weightOf(w, c) + w.work * c.work + GRAM * c.mass;
    if (!first || !last || first === last) return sum;
    at.forEach((n, k) => {
      const [a, b] = [at[k - 1], at[k + 1]];
      if (!a || !b) {
        sum += end(n.i, n.v);
        return;
      }
      const off = (p: typeof n, q: typeof n): number => n.v - p.v - ((q.v - p.v) * (n.y - p.y)) / (q.y - p.y);
      sum += kink(n.i, off(a, b)) + line(n.i, off(first, last));
    });
    return sum;
  };
}

/** Findings that a combination leaves, by level, echoes among them. */
export function left(
  { variant, picks }: Pick<Solved, 'variant' | 'picks'>,
  before: Before,
): { beyond: number; outside: number } {
  const choices = picks.map((p, i): Choice => ({ ...variant.choices[i]![p]!, work: 0 }));
  const cost = weigher(variant, { id: '', name: '', weights: FINDINGS, allows: () => true }, before)(choices);
  const { beyond, outside } = readWeight(cost, FINDINGS);
  return { beyond, outside };
}

/** Findings alone, and how far in all lies. */
export const FINDINGS: Weights = { beyond: 1e10, outside: 1e7, work: 0 };
