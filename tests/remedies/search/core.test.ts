import { describe, expect, it } from 'vitest';
import { type Core, solveCore } from '../../../src/remedies/search/core.ts';
import { nearBest } from '../../../src/remedies/search/nearBest.ts';
import { byProgram, madeUp } from './milp.ts';

/*
 * The exact core against brute force on short panels, and against a general mixed-integer solver (HiGHS) on long ones.
 */

/** Cost of one combination, written out from the definition of kink and line. */
function costOf(core: Core, picks: readonly number[]): number {
  const v = picks.map((p, i) => core.choices[i]![p]!.nose!);
  const n = v.length;
  let sum = picks.reduce((s, p, i) => s + core.choices[i]![p]!.cost, 0);
  const { ys } = core;
  sum += core.end(0, v[0]!) + core.end(n - 1, v[n - 1]!);
  for (let i = 1; i < n - 1; i++) {
    const between = (a: number, b: number): number => v[a]! + ((v[b]! - v[a]!) * (ys[i]! - ys[a]!)) / (ys[b]! - ys[a]!);
    sum += core.kink(i, v[i]! - between(i - 1, i + 1)) + core.line(i, v[i]! - between(0, n - 1));
  }
  return sum;
}

function* everyPick(core: Core): Generator<number[]> {
  const at = core.choices.map(() => 0);
  for (;;) {
    yield [...at];
    let i = 0;
    while (i < at.length && ++at[i]! === core.choices[i]!.length) at[i++] = 0;
    if (i === at.length) return;
  }
}

describe('the core', () => {
  it.each(Array.from({ length: 40 }, (_, k) => [k + 1]))(
    'brute force finds nothing better, made-up panel %i',
    (seed) => {
      const core = madeUp(seed, 2 + (seed % 5), 2 + (seed % 3));
      let least = Number.POSITIVE_INFINITY;
      for (const picks of everyPick(core)) least = Math.min(least, costOf(core, picks));
      const found = solveCore(core);
      expect(found.cost).toBeCloseTo(least, 9);
      expect(costOf(core, found.picks)).toBeCloseTo(least, 9);
    },
  );

  it.each(Array.from({ length: 12 }, (_, k) => [k + 1]))(
    'every combination under a limit is found, and none over it, made-up panel %i',
    (seed) => {
      const core = madeUp(100 + seed, 3 + (seed % 3), 3);
      const costs = [...everyPick(core)].map((p) => costOf(core, p)).sort((a, b) => a - b);
      const limit = costs[Math.floor(costs.length / 6)]! + 0.25;
      const found = [...nearBest(core, () => limit)].filter((f) => f !== undefined);
      for (const f of found) expect(costOf(core, f.picks)).toBeCloseTo(f.cost, 9);
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
  ])('a general solver proves the same cost: seed %i, %i stations of %i choices', async (seed, n, m) => {
    const core = madeUp(seed, n, m);
    const { cost } = await byProgram(core, 100);
    expect(cost).toBe(Math.round(solveCore(core).cost));
  });

  it('barred choices are not taken; with every combination barred there is no answer', () => {
    const core = madeUp(7, 4, 3);
    const barred: Core = {
      ...core,
      choices: core.choices.map((list, i) =>
        i === 1 ? list.map((c, k) => (k === 2 ? c : { ...c, cost: Number.POSITIVE_INFINITY })) : list,
      ),
    };
    expect(solveCore(barred).picks[1]).toBe(2);
    const none: Core = {
      ...core,
      choices: core.choices.map((list, i) =>
        i === 1 ? list.map((c) => ({ ...c, cost: Number.POSITIVE_INFINITY })) : list,
      ),
    };
    expect(solveCore(none)).toEqual({ cost: Number.POSITIVE_INFINITY, picks: [] });
  });
});
