import { describe, expect, it } from 'vitest';
import { type Batten, cheapestBatten } from '../../src/mechanics/batten.ts';
import { battensUnder } from '../../src/mechanics/battensUnder.ts';
import { byProgram, madeUp } from './milp.ts';

/*
 * The exact batten against brute force on short panels, and against a general mixed-integer solver (HiGHS) on long ones.
 */

/** Cost of one combination, written out from the definition of kink and line. */
function costOf(batten: Batten, picks: readonly number[]): number {
  const v = picks.map((p, i) => batten.choices[i]![p]!.height!);
  const n = v.length;
  let sum = picks.reduce((s, p, i) => s + batten.choices[i]![p]!.cost, 0);
  const { ys } = batten;
  sum += batten.end(0, v[0]!) + batten.end(n - 1, v[n - 1]!);
  for (let i = 1; i < n - 1; i++) {
    const between = (a: number, b: number): number => v[a]! + ((v[b]! - v[a]!) * (ys[i]! - ys[a]!)) / (ys[b]! - ys[a]!);
    sum += batten.kink(i, v[i]! - between(i - 1, i + 1)) + batten.line(i, v[i]! - between(0, n - 1));
  }
  return sum;
}

function* everyPick(batten: Batten): Generator<number[]> {
  const at = batten.choices.map(() => 0);
  for (;;) {
    yield [...at];
    let i = 0;
    while (i < at.length && ++at[i]! === batten.choices[i]!.length) at[i++] = 0;
    if (i === at.length) return;
  }
}

describe('the batten', () => {
  it.each(Array.from({ length: 40 }, (_, k) => [k + 1]))('brute force finds nothing better, made-up row %i', (seed) => {
    const batten = madeUp(seed, 2 + (seed % 5), 2 + (seed % 3));
    let least = Number.POSITIVE_INFINITY;
    for (const picks of everyPick(batten)) least = Math.min(least, costOf(batten, picks));
    const found = cheapestBatten(batten);
    expect(found.cost).toBeCloseTo(least, 9);
    expect(costOf(batten, found.picks)).toBeCloseTo(least, 9);
  });

  it.each(Array.from({ length: 12 }, (_, k) => [k + 1]))(
    'every combination under a limit is found, and none over it, made-up row %i',
    (seed) => {
      const batten = madeUp(100 + seed, 3 + (seed % 3), 3);
      const costs = [...everyPick(batten)].map((p) => costOf(batten, p)).sort((a, b) => a - b);
      const limit = costs[Math.floor(costs.length / 6)]! + 0.25;
      const found = [...battensUnder(batten, () => limit)].filter((f) => f !== undefined);
      for (const f of found) expect(costOf(batten, f.picks)).toBeCloseTo(f.cost, 9);
      expect(found.map((f) => f.cost).sort((a, b) => a - b)).toEqual(costs.filter((c) => c <= limit));
      expect(new Set(found.map((f) => f.picks.join())).size).toBe(found.length);
    },
  );

  it.each([
    [1, 8, 8],
    [2, 10, 6],
    [3, 12, 5],
    [4, 14, 4],
    [5, 20, 4],
  ])('a general solver proves the same cost: seed %i, %i posts of %i choices', async (seed, n, m) => {
    const batten = madeUp(seed, n, m);
    const { cost } = await byProgram(batten, 100);
    expect(cost).toBe(Math.round(cheapestBatten(batten).cost));
  });

  it('barred choices are not taken; with every combination barred there is no answer', () => {
    const batten = madeUp(7, 4, 3);
    const barred: Batten = {
      ...batten,
      choices: batten.choices.map((list, i) =>
        i === 1 ? list.map((c, k) => (k === 2 ? c : { ...c, cost: Number.POSITIVE_INFINITY })) : list,
      ),
    };
    expect(cheapestBatten(barred).picks[1]).toBe(2);
    const none: Batten = {
      ...batten,
      choices: batten.choices.map((list, i) =>
        i === 1 ? list.map((c) => ({ ...c, cost: Number.POSITIVE_INFINITY })) : list,
      ),
    };
    expect(cheapestBatten(none)).toEqual({ cost: Number.POSITIVE_INFINITY, picks: [] });
  });
});
