import { assign } from '../../mechanics/assignment.ts';
import { NEAR } from '../../units/near.ts';

/*
 * In which order do a few things cost least, where an order costs more than the sum of its places? Every order is
 * tried up to seven things; beyond that the assignment by the places alone, and every exchange from it, with the
 * assignment as bound.
 */

/** `order[place]` is the thing that goes there, by its number. */
export type Order = readonly number[];

/** Things placed at most by trying every order: 7! = 5040. */
const TRIED = 7;

/** Orders 0 … n - 1 in every way, one after the other. */
function* orders(n: number, taken: number[] = []): Generator<Order> {
  if (taken.length === n) {
    yield taken;
    return;
  }
  for (let i = 0; i < n; i++) if (!taken.includes(i)) yield* orders(n, [...taken, i]);
}

function exchange(order: Order, i: number, j: number): Order {
  const [a, b] = [order[i], order[j]];
  if (a === undefined || b === undefined) return order;
  return order.with(i, b).with(j, a);
}

/** Every order that differs from one by a single exchange. */
const neighbours = (order: Order): Order[] =>
  order.flatMap((_, i) => order.slice(i + 1).map((__, k) => exchange(order, i, i + 1 + k)));

export interface Searched {
  readonly order: Order;
  readonly cost: number;
  readonly proven: boolean;
  /** The best with one exchange. */
  readonly swap: Order;
  readonly swapCost: number;
  /** What the order as it is costs. */
  readonly asIs: number;
}

/**
 * The best order. `alone[place][thing]` is what a place costs by itself, `rest` what all else costs at the least
 * whatever the order.
 */
export function searchOrders({
  cost,
  alone,
  rest,
}: {
  readonly cost: (order: Order) => number;
  readonly alone: readonly (readonly number[])[];
  readonly rest: number;
}): Searched {
  const n = alone.length;
  const asTheyStand: Order = alone.map((_, i) => i);
  const asIs = cost(asTheyStand);
  const least = (list: Iterable<Order>): { order: Order; cost: number } => {
    let best = { order: asTheyStand, cost: asIs };
    for (const order of list) {
      const c = cost(order);
      if (c < best.cost - NEAR) best = { order: [...order], cost: c };
    }
    return best;
  };
  const one = least(neighbours(asTheyStand));
  const known = { asIs, swap: one.order, swapCost: one.cost };
  if (n <= TRIED) return { ...known, ...least(orders(n)), proven: true };
  const { to, bound } = assign(alone);
  let best = least([to, one.order]);
  for (;;) {
    const next = least([best.order, ...neighbours(best.order)]);
    if (next.cost >= best.cost - NEAR) break;
    best = next;
  }
  return { ...known, ...best, proven: best.cost <= bound + rest + 1e-6 };
}
