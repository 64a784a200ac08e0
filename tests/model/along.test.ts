import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { alongAt } from '../../src/model/along.ts';

describe('a length along the span', () => {
  test('one number holds everywhere', () =>
    expect([alongAt(86, -1e4), alongAt(86, 0), alongAt(86, 1e4)]).toEqual([86, 86, 86]));

  // By hand: from 100 at 0 to 80 at 1000 the quarter way is 95.
  test.each([
    [0, 100],
    [250, 95],
    [500, 90],
    [1000, 80],
    [-1, 100],
    [1001, 80],
  ])('at %d it is %d', (y, v) =>
    expect(
      alongAt(
        [
          [0, 100],
          [1000, 80],
        ],
        y,
      ),
    ).toBeCloseTo(v, 12),
  );

  test('three points bend at the middle one, and one point holds everywhere', () => {
    const bent: [number, number][] = [
      [-10, 0],
      [0, 10],
      [10, 0],
    ];
    expect([-5, 0, 5].map((y) => alongAt(bent, y))).toEqual([5, 10, 5]);
    expect(alongAt([[3, 7]], -99)).toBe(7);
  });

  // Panel B, front depth: linear from 166.00 at 30 to 120.00 at 2650.
  test.each([
    [355, 160.29],
    [1340, 143],
    [2320, 125.79],
  ])('panel B front depth at %d is %d', (y, v) =>
    expect(
      alongAt(
        [
          [30, 166],
          [2650, 120],
        ],
        y,
      ),
    ).toBeCloseTo(v, 2),
  );

  test('it stays between the values given and does not jump', () => {
    fc.assert(
      fc.property(
        fc.uniqueArray(fc.tuple(fc.integer({ min: -2000, max: 2000 }), fc.double({ min: 0, max: 300, noNaN: true })), {
          minLength: 1,
          maxLength: 8,
          selector: ([y]) => y,
        }),
        fc.double({ min: -3000, max: 3000, noNaN: true }),
        (points, y) => {
          const a = [...points].sort((p, q) => p[0] - q[0]) as [number, number][];
          const values = a.map(([, v]) => v);
          const at = alongAt(a, y);
          expect(at).toBeGreaterThanOrEqual(Math.min(...values) - 1e-9);
          expect(at).toBeLessThanOrEqual(Math.max(...values) + 1e-9);
          expect(Math.abs(alongAt(a, y + 1e-6) - at)).toBeLessThan(1e-3);
          for (const [place, v] of a) expect(alongAt(a, place)).toBeCloseTo(v, 9);
        },
      ),
      { seed: 21, numRuns: 500 },
    );
  });
});
