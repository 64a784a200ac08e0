import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { leastSquares, minimax } from '../../src/checks/minimax.ts';

const worst = (a: readonly number[], m: readonly (readonly number[])[], p: readonly number[]): number => Math.max(...a.map((v, i) => Math.abs(p.reduce((s, x, j) => s + m[i]![j]! * x, v))));

/** Slow and independent twin: the largest residual is convex, so it is searched by thirds in each variable, one inside the other. */
function byThirds(a: readonly number[], m: readonly (readonly number[])[], low: number, high: number, fixed: readonly number[] = []): number {
  if (fixed.length === m[0]!.length) return worst(a, m, fixed);
  let [lo, hi] = [low, high];
  for (let k = 0; k < 70; k++) {
    const [x, y] = [lo + (hi - lo) / 3, hi - (hi - lo) / 3];
    if (byThirds(a, m, low, high, [...fixed, x]) <= byThirds(a, m, low, high, [...fixed, y])) hi = y;
    else lo = x;
  }
  return byThirds(a, m, low, high, [...fixed, (lo + hi) / 2]);
}

const v = fc.double({ min: -3, max: 3, noNaN: true });

describe('least largest residual', () => {
  test.each([1, 2])('against thirds, %d supports, none taken away', (n) => {
    fc.assert(
      fc.property(fc.array(fc.tuple(v, fc.array(v, { minLength: n, maxLength: n })), { minLength: 2, maxLength: 7 }), (rows) => {
        const [a, m] = [rows.map((r) => r[0]), rows.map((r) => r[1])];
        const found = minimax(a, m);
        expect(Math.min(...found.p)).toBeGreaterThanOrEqual(0);
        expect(worst(a, m, found.p)).toBeCloseTo(found.r, 12);
        // The twin looks up to 200, so it may stop short where the answer lies farther out; it is never better.
        const slow = byThirds(a, m, 0, 200);
        expect(found.r).toBeLessThanOrEqual(slow + 1e-6);
        if (Math.max(...found.p) < 150) expect(found.r).toBeGreaterThan(slow - 1e-4 * (1 + slow));
      }),
      { seed: 81, numRuns: 40 },
    );
  });

  test('of either sign where that is asked', () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(v, fc.tuple(v)), { minLength: 2, maxLength: 6 }), (rows) => {
        const [a, m] = [rows.map((r) => r[0]), rows.map((r) => [...r[1]])];
        const found = minimax(a, m, true);
        expect(found.r).toBeLessThanOrEqual(byThirds(a, m, -200, 200) + 1e-6);
      }),
      { seed: 82, numRuns: 60 },
    );
  });

  // Row 3.7 of the published lines: six points, least largest vertical residual 0.92 on 0.533333x + 2.14667 (Giordano et al., 3.1).
  test('a line through six points: 0.92', () => {
    const points = [[1, 3.6], [2.3, 3], [3.7, 3.2], [4.2, 5.1], [6.1, 5.3], [7, 6.8]] as const;
    const found = minimax(points.map(([, y]) => -y), points.map(([x]) => [1, x]), true);
    expect(found.r).toBeCloseTo(0.92, 9);
    expect(found.p[1]).toBeCloseTo(0.5333333333, 9);
    expect(found.p[0]).toBeCloseTo(2.1466666667, 9);
  });

  // The same source and row: least squares 0.564233720244x + 2.21485343301.
  test('and least squares of the same points', () => {
    const points = [[1, 3.6], [2.3, 3], [3.7, 3.2], [4.2, 5.1], [6.1, 5.3], [7, 6.8]] as const;
    const [a, b] = leastSquares(points.map(([, y]) => -y), points.map(([x]) => [1, x]));
    expect(a).toBeCloseTo(2.21485343301, 9);
    expect(b).toBeCloseTo(0.564233720244, 9);
  });

  test('nothing to move, or nothing to judge', () => {
    expect(minimax([0.3, -0.5], [])).toEqual({ p: [], r: 0.5 });
    expect(minimax([], [])).toEqual({ p: [], r: 0 });
    expect(minimax([0, 0], [[1], [1]])).toEqual({ p: [0], r: 0 });
  });
});
