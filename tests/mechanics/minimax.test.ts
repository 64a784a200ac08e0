import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { leastSquares, minimax } from '../../src/mechanics/minimax.ts';

const worst = (a: readonly number[], m: readonly (readonly number[])[], p: readonly number[]): number =>
  Math.max(...a.map((v, i) => Math.abs(p.reduce((s, x, j) => s + m[i]![j]! * x, v))));

/** Slow and independent twin: the largest residual is convex, so it is searched by thirds in each variable, one inside the other. */
function byThirds(
  a: readonly number[],
  m: readonly (readonly number[])[],
  low: number,
  high: number,
  fixed: readonly number[] = [],
): number {
  if (fixed.length === m[0]!.length) return worst(a, m, fixed);
  let [lo, hi] = [low, high];
  for (let k = 0; k < 70; k++) {
    const [x, y] = [lo + (hi - lo) / 3, hi - (hi - lo) / 3];
    if (byThirds(a, m, low, high, [...fixed, x]) <= byThirds(a, m, low, high, [...fixed, y])) hi = y;
    else lo = x;
  }
  return byThirds(a, m, low, high, [...fixed, (lo + hi) / 2]);
}

/** Solves a small square system; undefined where it has no single answer. */
function solved(matrix: readonly (readonly number[])[], right: readonly number[]): number[] | undefined {
  const rows = matrix.map((r, i) => [...r, right[i]!]);
  const n = rows.length;
  for (let c = 0; c < n; c++) {
    const pivot = rows.slice(c).reduce((b, r, i) => (Math.abs(r[c]!) > Math.abs(rows[b]![c]!) ? i + c : b), c);
    if (Math.abs(rows[pivot]![c]!) < 1e-9) return undefined;
    [rows[c], rows[pivot]] = [rows[pivot]!, rows[c]!];
    for (let i = 0; i < n; i++) {
      if (i === c) continue;
      const f = rows[i]![c]! / rows[c]![c]!;
      for (let k = c; k <= n; k++) rows[i]![k]! -= f * rows[c]![k]!;
    }
  }
  return rows.map((r, i) => r[n]! / r[i]!);
}

/** Every choice of so many out of a list. */
function* choices<T>(list: readonly T[], many: number, from = 0): Generator<T[]> {
  if (many === 0) yield [];
  else
    for (let i = from; i <= list.length - many; i++)
      for (const rest of choices(list, many - 1, i + 1)) yield [list[i]!, ...rest];
}

/** The least r over all corners of the linear program in (p, r). */
function leastCorner(rows: readonly (readonly [number, readonly number[]])[]): number {
  const n = rows[0]![1].length;
  // Each: coefficients of p and r, and what they must reach: g·(p, r) >= h.
  const walls = [
    ...rows.flatMap(([a, m]) =>
      [
        [...m.map((x) => -x), 1],
        [...m, 1],
      ].map((g, i) => ({ g, h: i === 0 ? a : -a })),
    ),
    ...Array.from({ length: n }, (_, j) => ({ g: Array.from({ length: n + 1 }, (__, k) => (k === j ? 1 : 0)), h: 0 })),
  ];
  let least = Number.POSITIVE_INFINITY;
  for (const some of choices(walls, n + 1)) {
    const x = solved(
      some.map((w) => w.g),
      some.map((w) => w.h),
    );
    if (x && x[n]! < least && walls.every((w) => w.g.reduce((s, c, k) => s + c * x[k]!, 0) >= w.h - 1e-7))
      least = x[n]!;
  }
  return least;
}

const v = fc.double({ min: -3, max: 3, noNaN: true });

describe('least largest residual', () => {
  test.each([1, 2])('against thirds, %d supports, none taken away', (n) => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(v, fc.array(v, { minLength: n, maxLength: n })), { minLength: 2, maxLength: 7 }),
        (rows) => {
          const [a, m] = [rows.map((r) => r[0]), rows.map((r) => r[1])];
          const found = minimax(a, m);
          expect(Math.min(...found.p)).toBeGreaterThanOrEqual(0);
          expect(worst(a, m, found.p)).toBeCloseTo(found.r, 12);
          // The twin looks up to 200, so it may stop short where the answer lies farther out; it is never better.
          const slow = byThirds(a, m, 0, 200);
          expect(found.r).toBeLessThanOrEqual(slow + 1e-6);
          if (Math.max(...found.p) < 150) expect(found.r).toBeGreaterThan(slow - 1e-4 * (1 + slow));
        },
      ),
      { seed: 81, numRuns: 40 },
    );
  });

  // The linear program "least r with -r <= a + Mp <= r, p >= 0": its answer lies at a corner, so every corner is looked at.
  test('against the linear program, corner by corner, three supports', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(v, fc.array(v, { minLength: 3, maxLength: 3 })), { minLength: 3, maxLength: 6 }),
        (rows) => {
          const found = minimax(
            rows.map((r) => r[0]),
            rows.map((r) => r[1]),
          );
          expect(found.r).toBeCloseTo(leastCorner(rows), 7);
        },
      ),
      { seed: 83, numRuns: 40 },
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
    const points = [
      [1, 3.6],
      [2.3, 3],
      [3.7, 3.2],
      [4.2, 5.1],
      [6.1, 5.3],
      [7, 6.8],
    ] as const;
    const found = minimax(
      points.map(([, y]) => -y),
      points.map(([x]) => [1, x]),
      true,
    );
    expect(found.r).toBeCloseTo(0.92, 9);
    expect(found.p[1]).toBeCloseTo(0.5333333333, 9);
    expect(found.p[0]).toBeCloseTo(2.1466666667, 9);
  });

  // The same source and row: least squares 0.564233720244x + 2.21485343301.
  test('and least squares of the same points', () => {
    const points = [
      [1, 3.6],
      [2.3, 3],
      [3.7, 3.2],
      [4.2, 5.1],
      [6.1, 5.3],
      [7, 6.8],
    ] as const;
    const [a, b] = leastSquares(
      points.map(([, y]) => -y),
      points.map(([x]) => [1, x]),
    );
    expect(a).toBeCloseTo(2.21485343301, 9);
    expect(b).toBeCloseTo(0.564233720244, 9);
  });

  test('nothing to move, or nothing to judge', () => {
    expect(minimax([0.3, -0.5], [])).toEqual({ p: [], r: 0.5 });
    expect(minimax([], [])).toEqual({ p: [], r: 0 });
    expect(minimax([0, 0], [[1], [1]])).toEqual({ p: [0], r: 0 });
  });
});
