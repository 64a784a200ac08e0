import type { MainRib, Model, NoseRib } from '../../model/schema.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { NEAR } from '../../units/near.ts';
import { drilledHolesOf } from '../holesAt.ts';
import { interchangeableRibs, swap } from '../offers/swap.ts';
import { measureFirst } from '../reach.ts';
import type { Remedy } from '../remedy.ts';
import { aloneAt } from './alone.ts';
import { asItStands, type Choice } from './choices.ts';
import { weigher, weightOf } from './core.ts';
import { farQuestion } from './leftover.ts';
import { FINDINGS_ALONE } from './objectives.ts';
import { type Order, searchOrders } from './orders.ts';
import { type Plan, planOf } from './plan.ts';

/*
 * Which like rib goes at which station, each carrying its own faults along? The best of all placements, and the best
 * with one exchange. What a rib leaves at a station is asked of the checks there; for main ribs those add up, and the
 * assignment with its prices proves the best; what joins the stations (noses, seating) is asked of every placement up
 * to seven ribs, and beyond that of the assignment and of every exchange from it, with the assignment as the bound.
 */

type Like = MainRib | NoseRib;

/** How a group of like ribs is best placed. */
export interface Placement {
  readonly kind: Like['kind'];
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
  const find = (id: string | undefined): Like | undefined =>
    m.ribs.find((r): r is Like => r.id === id && r.kind !== 'tip');
  order.forEach((wanted, i) => {
    const [there, comes] = [find(now[i]), find(wanted)];
    if (!there || !comes || there === comes) return;
    const remedy = swap(m, there, comes);
    // Holes of a rib that is moved twice are lost once.
    const lost = [there.id, wanted].filter((id) => !moved.has(id)).reduce((sum, id) => sum + drilledHolesOf(m, id), 0);
    moved.add(there.id).add(wanted);
    remedies.push({ ...remedy, cost: { ...remedy.cost, holesLost: lost } });
    m = remedy.edit.apply(m);
    now[now.indexOf(wanted)] = there.id;
    now[i] = wanted;
  });
  return remedies;
}

/** What every rib of a group leaves at every place of it: [place][rib], with the panel around it as it is. */
function table(model: Model, group: readonly Like[]): Choice[][] {
  const before = measureFirst(model);
  return group.map((here) =>
    group.map((rib) => {
      const moved = rib === here ? model : swap(model, rib, here).edit.apply(model);
      return asItStands(aloneAt(moved, here.station), before);
    }),
  );
}

/**
 * What the panel weighs with a group of like ribs in an order, and what the places of the group weigh by themselves.
 */
function weights(
  model: Model,
  group: readonly Like[],
): {
  readonly cost: (order: Order) => number;
  /** [place][rib] */
  readonly alone: readonly (readonly number[])[];
  /** What all else weighs at the least, whatever the order. */
  readonly rest: number;
} {
  const before = measureFirst(model);
  const { bays } = skeletonOf(model);
  const asked = table(model, group);
  const far = farQuestion(model, before);
  const stands = bays.map(({ station }) => ({
    here: asItStands(aloneAt(model, station.id), before),
    place: group.findIndex((r) => r.station === station.id),
  }));
  const weigh = weigher({ model, far }, FINDINGS_ALONE, before);
  const choicesIn = (order: Order): Choice[] =>
    stands.map(({ here, place }) => asked[place]?.[order[place] ?? -1] ?? here);
  const own = (c: Choice): number => weightOf(FINDINGS_ALONE.weights, c);
  const as = stands.map((s) => s.here);
  const inGroup = stands.filter((s) => s.place >= 0).reduce((sum, s) => sum + own(s.here), 0);
  // Main ribs leave the noses as they are; what they add far away is nothing at the least.
  const rest =
    group[0]?.kind === 'main' ? weigh(as) - weightOf(FINDINGS_ALONE.weights, { ...far(as), off: 0 }) - inGroup : 0;
  return { cost: (order) => weigh(choicesIn(order)), alone: asked.map((row) => row.map(own)), rest };
}

const WORDS: Record<Like['kind'], string> = { main: 'main ribs', nose: 'nose ribs' };

/** How one group of like ribs is best placed. */
function place(model: Model, kind: Like['kind'], group: readonly Like[]): Placement {
  const found = searchOrders(weights(model, group));
  const ids = group.map((r) => r.id);
  const plan = (order: Order, name: string): Plan | undefined => {
    const placed = order.flatMap((i) => ids[i] ?? []);
    const made = planOf(model, exchangesFor(model, ids, placed), name);
    return made.ok ? made.plan : undefined;
  };
  const better = found.cost < found.asIs - NEAR;
  const swapBetters = found.swapCost < found.asIs - NEAR;
  const what = WORDS[kind];
  const sure = found.proven
    ? `Proven over all placements of ${ids.length} ${what}.`
    : `The best found of all placements of ${ids.length} ${what}; not proven.`;
  return {
    kind,
    ribs: ids,
    best: better ? plan(found.order, `The best place for each of the ${what}`) : undefined,
    swap: swapBetters ? plan(found.swap, `The best single exchange of ${what}`) : undefined,
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

/**
 * The best placements of a panel, group by group. Ribs already drilled are placed too; what their holes cost is in
 * the plan.
 */
export function placementsOf(model: Model): Placement[] {
  return groups(model).flatMap((group) => {
    const [first] = group;
    return first ? [place(model, first.kind, group)] : [];
  });
}
