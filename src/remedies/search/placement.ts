import { assign } from '../../mechanics/assignment.ts';
import type { MainRib, Model, NoseRib } from '../../model/schema.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { holesIn } from '../holesAt.ts';
import { interchangeableRibs } from '../offers/offers.ts';
import { swap } from '../offers/placing.ts';
import { drawnOnly } from '../reach.ts';
import type { Remedy } from '../remedy.ts';
import { aloneAt } from './alone.ts';
import { askChoice, type Choice } from './choices.ts';
import { farQuestion } from './leftover.ts';
import { type Plan, planOf } from './plan.ts';
import { FINDINGS, weigher, weightOf } from './solve.ts';

/*
 * Which like rib goes at which station, each carrying its own faults along? The best of all placements, and the best with
 * one exchange. What a rib leaves at a station is asked of the checks there; for main ribs those add up, and the assignment
 * with its prices proves the best; what joins the stations (noses, seating) is asked of every placement up to seven ribs,
 * and beyond that of the assignment and of every exchange from it, with the assignment as the bound.
 */

type Like = MainRib | NoseRib;

/** Ribs placed at most by trying every order: 7! = 5040. */
const TRIED = 7;

/** How a group of like ribs is best placed. */
export interface Placement {
  readonly kind: 'main' | 'nose';
  /** Ribs of the group by name, at their stations in order along the span. */
  readonly ribs: readonly string[];
  /** The best of all placements; undefined where no other beats the ribs as they stand. */
  readonly best: Plan | undefined;
  /** The best with one exchange; undefined likewise. */
  readonly swap: Plan | undefined;
  readonly proven: boolean;
  readonly sentence: string;
}

/** Exchanges that bring each rib to its place, one after the other: `order[i]` stands where `ribs[i]` stood. */
export function exchangesFor(model: Model, ribs: readonly string[], order: readonly string[]): Remedy[] {
  const now = [...ribs];
  const remedies: Remedy[] = [];
  const moved = new Set<string>();
  let m = model;
  const find = (id: string): Like => m.ribs.find((r) => r.id === id) as Like;
  order.forEach((wanted, i) => {
    const there = now[i]!;
    if (there === wanted) return;
    const remedy = swap(m, find(there), find(wanted));
    // Holes of a rib that is moved twice are lost once.
    const lost = [there, wanted].filter((id) => !moved.has(id)).reduce((sum, id) => sum + holesIn(m, id), 0);
    moved.add(there).add(wanted);
    remedies.push({ ...remedy, cost: { ...remedy.cost, holesLost: lost } });
    m = remedy.edit.apply(m);
    now[now.indexOf(wanted)] = there;
    now[i] = wanted;
  });
  return remedies;
}

/** What every rib of a group leaves at every place of it: [place][rib], with the panel around it as it is. */
function table(model: Model, group: readonly Like[]): Choice[][] {
  const before = drawnOnly(model);
  return group.map((here) =>
    group.map((rib) => {
      const moved = rib === here ? model : swap(model, rib, here).edit.apply(model);
      return askChoice(aloneAt(moved, here.station), [], before);
    }),
  );
}

/** Orders 0 … n - 1 in every way, one after the other. */
function* orders(n: number, taken: number[] = []): Generator<readonly number[]> {
  if (taken.length === n) {
    yield taken;
    return;
  }
  for (let i = 0; i < n; i++) if (!taken.includes(i)) yield* orders(n, [...taken, i]);
}

const exchange = (order: readonly number[], i: number, j: number): number[] =>
  order.map((v, k) => (k === i ? order[j]! : k === j ? order[i]! : v));

/** Every order that differs from one by a single exchange. */
const neighbours = (order: readonly number[]): number[][] =>
  order.flatMap((_, i) => order.slice(i + 1).map((__, k) => exchange(order, i, i + 1 + k)));

interface Searched {
  readonly order: readonly number[];
  readonly cost: number;
  readonly proven: boolean;
  readonly swap: readonly number[];
  readonly swapCost: number;
  readonly asIs: number;
}

/** `rest` is what the panel weighs at the least whatever the order, besides the table. */
function search(
  cost: (order: readonly number[]) => number,
  alone: readonly (readonly number[])[],
  rest: number,
): Searched {
  const n = alone.length;
  const asIs = alone.map((_, i) => i);
  const least = (list: Iterable<readonly number[]>): { order: readonly number[]; cost: number } => {
    let best: { order: readonly number[]; cost: number } = { order: asIs, cost: cost(asIs) };
    for (const order of list) {
      const c = cost(order);
      if (c < best.cost - 1e-9) best = { order: [...order], cost: c };
    }
    return best;
  };
  const one = least(neighbours(asIs));
  const known = { asIs: cost(asIs), swap: one.order, swapCost: one.cost };
  if (n <= TRIED) return { ...known, ...least(orders(n)), proven: true };
  // alone[place][rib]; rows of the assignment are places.
  const { to, bound } = assign(alone);
  let best = least([to, one.order]);
  for (;;) {
    const next = least([best.order, ...neighbours(best.order)]);
    if (next.cost >= best.cost - 1e-9) break;
    best = next;
  }
  return { ...known, ...best, proven: best.cost <= bound + rest + 1e-6 };
}

/** How one group of like ribs is best placed. */
function place(model: Model, group: readonly Like[]): Placement {
  const before = drawnOnly(model);
  const { bays } = skeletonOf(model);
  const asked = table(model, group);
  const at = new Map(group.map((r, i) => [r.station, i]));
  const as = bays.map(({ station }) => askChoice(aloneAt(model, station.id), [], before));
  const places = bays.map((b) => at.get(b.station.id));
  const far = farQuestion(model, before);
  const farOf = (choices: readonly Choice[]) =>
    far(
      choices.map((c) => c.chord),
      choices.map((c) => c.nose),
    );
  const weigh = weigher(
    { remedies: [], model, choices: [], far },
    { id: '', name: '', weights: FINDINGS, allows: () => true },
    before,
  );
  const cost = (order: readonly number[]): number =>
    weigh(places.map((p, i) => (p === undefined ? as[i]! : asked[p]![order[p]!]!)));
  const alone = asked.map((row) => row.map((c) => weightOf(FINDINGS, c)));
  // Main ribs leave the noses as they are; what they add far away is nothing at the least.
  const rest =
    group[0]!.kind === 'main'
      ? weigh(as) - weightOf(FINDINGS, { ...farOf(as), off: 0 }) - group.reduce((sum, _, i) => sum + alone[i]![i]!, 0)
      : 0;
  const found = search(cost, alone, rest);
  const ids = group.map((r) => r.id);
  const plan = (order: readonly number[], name: string): Plan | undefined => {
    const made = planOf(
      model,
      exchangesFor(
        model,
        ids,
        order.map((i) => ids[i]!),
      ),
      name,
    );
    return made.ok ? made.plan : undefined;
  };
  const better = found.cost < found.asIs - 1e-9;
  const what = group[0]!.kind === 'main' ? 'main ribs' : 'nose ribs';
  const best = better ? plan(found.order, `The best place for each of the ${what}`) : undefined;
  const single =
    found.swapCost < found.asIs - 1e-9 ? plan(found.swap, `The best single exchange of ${what}`) : undefined;
  const sure = found.proven
    ? `Proven over all placements of ${ids.length} ${what}.`
    : `The best found of all placements of ${ids.length} ${what}; not proven.`;
  return {
    kind: group[0]!.kind,
    ribs: ids,
    best,
    swap: single,
    proven: found.proven,
    sentence: better ? sure : `${sure} None betters the ribs as they stand.`,
  };
}

/** Groups of two and more like ribs, in order along the span. */
function groups(model: Model): Like[][] {
  const all = skeletonOf(model)
    .bays.flatMap((b) => [b.main, b.nose])
    .filter((r) => r !== undefined);
  const out: Like[][] = [];
  for (const rib of all) {
    if (out.some((g) => g.includes(rib))) continue;
    const same = interchangeableRibs<Like>(model, rib);
    const group = all.filter((r) => r === rib || same.includes(r));
    if (group.length > 1) out.push(group);
  }
  return out;
}

/** The best placements of a panel, group by group. Ribs already drilled are placed too; what their holes cost is in the plan. */
export function placementsOf(model: Model): Placement[] {
  return groups(model).map((g) => place(model, g));
}
