import { NEAR } from '../units/near.ts';

/*
 * A batten lies over posts in a row. Each post offers choices: a height, and what taking it costs. Which choices
 * together cost least?
 *
 * Posts meet through the batten alone: a kink joins three neighbouring posts, the line through the end posts joins
 * each to the two ends. So: for every pair of end heights, dynamic programming along the row over pairs of
 * neighbouring heights; at each post only the cheapest choice for each height counts. No combination of choices costs
 * less than what this returns. Work grows as posts × heights a post ⁵, and long rows take no more for a post than
 * short ones.
 */

export interface PostChoice {
  /** What the choice costs by itself; Infinity where it is barred. */
  readonly cost: number;
  /** Of the batten at this post, mm; undefined where the batten does not touch it. */
  readonly height: number | undefined;
}

export interface Batten {
  /** Places of the posts along the row, mm, rising. */
  readonly ys: readonly number[];
  readonly choices: readonly (readonly PostChoice[])[];
  /**
   * Cost of a kink of q mm at a post, of an inner post r mm off the line through the ends, of an end post v mm high.
   */
  readonly kink: (post: number, q: number) => number;
  readonly line: (post: number, r: number) => number;
  readonly end: (post: number, v: number) => number;
}

export interface BattenLay {
  readonly cost: number;
  /** The choice taken at each post, by its place in the list; empty when every combination is barred. */
  readonly picks: readonly number[];
}

/** One height the batten can have at a post, with the cheapest choice for it. */
interface Spot {
  readonly v: number;
  readonly cost: number;
  readonly pick: number;
}

function spotsOf(choices: readonly PostChoice[]): Spot[] {
  const spots: { v: number; cost: number; pick: number }[] = [];
  choices.forEach(({ cost, height }, pick) => {
    if (cost === Number.POSITIVE_INFINITY) return;
    const v = height ?? 0;
    const had = spots.find((s) => Math.abs(s.v - v) < NEAR);
    if (!had) spots.push({ v, cost, pick });
    else if (cost < had.cost) Object.assign(had, { cost, pick });
  });
  return spots;
}

/** Share of the way from a to b at which `at` stands. */
const share = (a: number, b: number, at: number): number => (at - a) / (b - a);

/** The posts that touch the batten, ready to be walked. */
export interface Walked {
  /** Their places in the row, in order. */
  readonly at: readonly number[];
  readonly spots: readonly (readonly Spot[])[];
  /** Kink costs at an inner post: [post][(before × m + here) × m' + after]. */
  readonly kinks: readonly Float64Array[];
  /** Cheapest picks of the posts that do not touch it, and what they cost together. */
  readonly rest: readonly (readonly [post: number, pick: number])[];
  readonly restCost: number;
}

export function walked(batten: Batten): Walked {
  const { ys, choices } = batten;
  const at: number[] = [];
  const spots: Spot[][] = [];
  const rest: [number, number][] = [];
  let restCost = 0;
  choices.forEach((list, i) => {
    const here = spotsOf(list);
    if (list.some((c) => c.height !== undefined)) {
      at.push(i);
      spots.push(here);
    } else {
      const cheapest = here[0];
      restCost += cheapest?.cost ?? Number.POSITIVE_INFINITY;
      rest.push([i, cheapest?.pick ?? 0]);
    }
  });
  const kinks = at.map((post, j): Float64Array => {
    const [p, h, n] = [spots[j - 1], spots[j]!, spots[j + 1]];
    if (!p || !n) return new Float64Array(0);
    const t = share(ys[at[j - 1]!]!, ys[at[j + 1]!]!, ys[post]!);
    const costs = new Float64Array(p.length * h.length * n.length);
    let k = 0;
    for (const a of p)
      for (const b of h) for (const c of n) costs[k++] = batten.kink(post, b.v - (1 - t) * a.v - t * c.v);
    return costs;
  });
  return { at, spots, kinks, rest, restCost };
}

/** Costs of every spot when the two ends stand at e and f: its own, and for being off the line between them. */
export function spotCosts(batten: Batten, { at, spots }: Walked, e: number, f: number): Float64Array[] {
  const { ys } = batten;
  const [y0, y1] = [ys[at[0]!]!, ys[at[at.length - 1]!]!];
  return at.map((post, j) => {
    const list = spots[j]!;
    if (j === 0 || j === at.length - 1)
      return Float64Array.from(list, (s) => (at.length > 1 ? batten.end(post, s.v) : 0) + s.cost);
    const t = share(y0, y1, ys[post]!);
    return Float64Array.from(list, (s) => s.cost + batten.line(post, s.v - (1 - t) * e - t * f));
  });
}

/**
 * Least cost from each pair of neighbouring posts to the far end: `togo[j][a × m + b]` with post j - 1 at a and post
 * j at b, kink at j and all beyond counted, the posts' own costs beyond j too. The last post stands at `last`.
 */
export function costsToGo({ spots, kinks }: Walked, own: readonly Float64Array[], last: number): Float64Array[] {
  const n = spots.length;
  const togo: Float64Array[] = [];
  for (let j = n - 1; j >= 1; j--) {
    const [m, h] = [spots[j - 1]!.length, spots[j]!.length];
    const here = new Float64Array(m * h);
    if (j === n - 1) {
      for (let a = 0; a < m; a++)
        for (let b = 0; b < h; b++) here[a * h + b] = b === last ? 0 : Number.POSITIVE_INFINITY;
    } else {
      const [next, beyond, kink] = [spots[j + 1]!.length, togo[j + 1]!, kinks[j]!];
      const ownNext = own[j + 1]!;
      let k = 0;
      for (let a = 0; a < m; a++) {
        for (let b = 0; b < h; b++) {
          let least = Number.POSITIVE_INFINITY;
          for (let c = 0; c < next; c++) {
            const cost = kink[k++]! + ownNext[c]! + beyond[b * next + c]!;
            if (cost < least) least = cost;
          }
          here[a * h + b] = least;
        }
      }
    }
    togo[j] = here;
  }
  return togo;
}

/** The cheapest picks from the costs to go, the first post standing at `first`. */
function walk(
  { spots, kinks }: Walked,
  own: readonly Float64Array[],
  togo: readonly Float64Array[],
  first: number,
): number[] {
  const n = spots.length;
  const path = [first];
  for (let j = 1; j < n; j++) {
    const b = path[j - 1]!;
    const h = spots[j]!.length;
    const m = spots[j - 1]!.length;
    let least = Number.POSITIVE_INFINITY;
    let taken = 0;
    for (let c = 0; c < h; c++) {
      const kink = j >= 2 ? kinks[j - 1]![(path[j - 2]! * m + b) * h + c]! : 0;
      const cost = kink + own[j]![c]! + togo[j]![b * h + c]!;
      if (cost < least) [least, taken] = [cost, c];
    }
    path.push(taken);
  }
  return path;
}

/** The least cost of all combinations, and one that has it. Exact. */
export function cheapestBatten(batten: Batten): BattenLay {
  const chain = walked(batten);
  const { at, spots, rest, restCost } = chain;
  const picks = new Array<number>(batten.choices.length).fill(0);
  for (const [post, pick] of rest) picks[post] = pick;
  if (at.length === 0)
    return restCost === Number.POSITIVE_INFINITY ? { cost: restCost, picks: [] } : { cost: restCost, picks };
  const n = at.length;
  const ends = spots[n - 1]!;
  let best = Number.POSITIVE_INFINITY;
  let path: number[] = [];
  for (const [e, first] of spots[0]!.entries()) {
    if (n === 1) {
      if (first.cost < best) [best, path] = [first.cost, [e]];
      continue;
    }
    for (const [f, last] of ends.entries()) {
      const own = spotCosts(batten, chain, first.v, last.v);
      // Kinks cost nothing at the least: what the ends and every post alone cost is a bound.
      const bound =
        own[0]![e]! +
        own[n - 1]![f]! +
        own.slice(1, -1).reduce((sum, o) => sum + o.reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY), 0);
      if (bound >= best) continue;
      const togo = costsToGo(chain, own, f);
      let cost = Number.POSITIVE_INFINITY;
      const h = spots[1]!.length;
      for (let b = 0; b < h; b++) cost = Math.min(cost, own[0]![e]! + own[1]![b]! + togo[1]![e * h + b]!);
      if (cost < best) [best, path] = [cost, walk(chain, own, togo, e)];
    }
  }
  if (path.length === 0 || restCost === Number.POSITIVE_INFINITY) return { cost: Number.POSITIVE_INFINITY, picks: [] };
  path.forEach((s, j) => {
    picks[at[j]!] = spots[j]![s]!.pick;
  });
  return { cost: best + restCost, picks };
}
