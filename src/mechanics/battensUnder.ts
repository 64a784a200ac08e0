import { NEAR } from '../units/near.ts';
import { type Batten, costsToGo, spotCosts, walked } from './batten.ts';

/*
 * Every combination of choices that costs no more than a limit, one after the other: where something else can only
 * add to the cost, the best of all is among them. Depth first along the row; a branch is left as soon as the exact
 * cost to go says it cannot stay under the limit.
 */

interface Ranked {
  readonly pick: number;
  readonly cost: number;
}

/** Choices of each spot, cheapest first. */
function ranked(batten: Batten, post: number, v: number): Ranked[] {
  return batten.choices[post]!.map((c, pick) => ({ pick, cost: c.cost, v: c.height ?? 0 }))
    .filter((c) => c.cost < Number.POSITIVE_INFINITY && Math.abs(c.v - v) < NEAR)
    .sort((a, b) => a.cost - b.cost);
}

export interface FoundBatten {
  readonly cost: number;
  readonly picks: readonly number[];
}

/**
 * Yields each combination under the limit asked for at that moment, and `undefined` every thousand steps so that the
 * caller can stop.
 */
export function* battensUnder(batten: Batten, limit: () => number): Generator<FoundBatten | undefined, void> {
  const row = walked(batten);
  const { at, spots, kinks, rest } = row;
  const n = at.length;
  const picks = new Array<number>(batten.choices.length).fill(0);
  const loose = rest.map(([post]) => ({
    post,
    list: batten.choices[post]!.map((c, pick) => ({ pick, cost: c.cost }))
      .filter((c) => c.cost < Number.POSITIVE_INFINITY)
      .sort((a, b) => a.cost - b.cost),
  }));
  const looseAfter = loose.map((_, i) =>
    loose.slice(i + 1).reduce((s, l) => s + (l.list[0]?.cost ?? Number.POSITIVE_INFINITY), 0),
  );
  const restCost = loose.reduce((s, l) => s + (l.list[0]?.cost ?? Number.POSITIVE_INFINITY), 0);
  let steps = 0;

  function* untouched(i: number, so: number): Generator<FoundBatten | undefined, void> {
    const here = loose[i];
    if (!here) {
      yield { cost: so, picks: [...picks] };
      return;
    }
    for (const { pick, cost } of here.list) {
      if (++steps % 1000 === 0) yield undefined;
      if (so + cost + looseAfter[i]! > limit()) break;
      picks[here.post] = pick;
      yield* untouched(i + 1, so + cost);
    }
  }

  if (n === 0) {
    yield* untouched(0, 0);
    return;
  }
  const lists = spots.map((list, j) => list.map((s) => ranked(batten, at[j]!, s.v)));
  for (const [f, last] of spots[n - 1]!.entries()) {
    for (const [e, first] of spots[0]!.entries()) {
      if (n === 1 && e !== f) continue;
      const own = spotCosts(batten, row, first.v, last.v);
      const togo = costsToGo(row, own, f);
      const path: number[] = [e];

      /**
       * Post j stands at path[j]; its own cost without its choice's is `base`. Takes each choice there, then goes on.
       */
      function* from(j: number, so: number): Generator<FoundBatten | undefined, void> {
        const spot = path[j]!;
        const extra = own[j]![spot]! - spots[j]![spot]!.cost;
        const left = j === 0 ? 0 : togo[j]![path[j - 1]! * spots[j]!.length + spot]!;
        for (const { pick, cost } of lists[j]![spot]!) {
          if (++steps % 1000 === 0) yield undefined;
          const now = so + extra + cost;
          if (j > 0 && now + left + restCost > limit()) break;
          if (j === 0 && now + restCost > limit()) break;
          picks[at[j]!] = pick;
          if (j === n - 1) {
            if (spot === f) yield* untouched(0, now);
            continue;
          }
          for (let c = 0; c < spots[j + 1]!.length; c++) {
            const kink = j >= 1 ? kinks[j]![(path[j - 1]! * spots[j]!.length + spot) * spots[j + 1]!.length + c]! : 0;
            if (now + kink + own[j + 1]![c]! + togo[j + 1]![spot * spots[j + 1]!.length + c]! + restCost > limit())
              continue;
            path[j + 1] = c;
            yield* from(j + 1, now + kink);
          }
        }
      }
      yield* from(0, 0);
    }
  }
}
