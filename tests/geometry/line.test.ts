import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  leastSquaresLine,
  leastSquaresThroughOrigin,
  lineThrough,
  residuals,
  totalLeastSquaresLine,
  valueAt,
} from '../../src/geometry/line.ts';
import { NORRIS, PEARSON, READINGS_A, SIX_POINTS } from './readings.ts';

const near = (value: number, expected: number, share: number): void => {
  expect(Math.abs(value - expected)).toBeLessThanOrEqual(share * Math.abs(expected));
};
const range = (values: readonly number[]): number => Math.max(...values) - Math.min(...values);

describe('published lines', () => {
  test('row 3.1, NIST StRD Norris', () => {
    const line = leastSquaresLine(NORRIS.x, NORRIS.y);
    near(line.a, -0.262323073774029, 1e-10);
    near(line.b, 1.00211681802045, 1e-10);
    near(line.se_a, 0.232818234301152, 1e-9);
    near(line.se_b, 0.429796848199937e-3, 1e-9);
    near(line.residualSd, 0.884796396144373, 1e-9);
    near(line.r2, 0.999993745883712, 1e-12);
  });

  test('row 3.2, NIST StRD NoInt1', () => {
    const xs = Array.from({ length: 11 }, (_, i) => 60 + i);
    const line = leastSquaresThroughOrigin(
      xs,
      xs.map((x) => x + 70),
    );
    near(line.b, 2.07438016528926, 1e-12);
    near(line.se_b, 0.165289256198347e-1, 1e-12);
    near(line.residualSd, 3.56753034006338, 1e-12);
    near(line.r2, 0.999365492298663, 1e-12);
    expect([line.a, line.se_a]).toEqual([0, 0]);
  });

  test.each([
    [
      '3.7, six textbook points',
      SIX_POINTS,
      [2.21485343301, 0.564233720244, 1.92343104466],
      [1.99969231814, 0.617359921447, 1.75871611647],
    ],
    [
      '3.8, Pearson 1901',
      PEARSON,
      [5.76118519044, -0.539577274984, 0.810816369955],
      [5.78404377453, -0.545561197521, 0.726488652819],
    ],
    [
      '3.13, leading-edge readings',
      READINGS_A,
      [0.391111111111, 2e-5, 0.885],
      [0.391111107445, 2.00000036661e-5, 0.884999997073],
    ],
  ] as const)('row %s', (_, { x, y }, [a, b, band], [ta, tb, tBand]) => {
    const line = leastSquaresLine(x, y);
    near(line.a, a, 1e-9);
    near(line.b, b, 1e-9);
    near(range(residuals(line, x, y)), band, 1e-9);
    const total = totalLeastSquaresLine(x, y);
    near(total.a, ta, 1e-9);
    near(total.b, tb, 1e-9);
    near(range(residuals(total, x, y)) / Math.hypot(1, total.b), tBand, 1e-9);
  });

  test('row 3.8: as Pearson printed it, through (3.82, 3.70) with slope -0.546', () => {
    const line = totalLeastSquaresLine(PEARSON.x, PEARSON.y);
    expect(line.b).toBeCloseTo(-0.546, 3);
    expect(valueAt(line, 3.82)).toBeCloseTo(3.7, 10);
  });

  test('row 3.15, twist rate from incidence readings', () => {
    const [x, y] = [
      [0, 450, 900, 1350, 1800],
      [0.1, 0.05, -0.1, -0.05, -0.2],
    ];
    const line = leastSquaresLine(x, y);
    near(line.a, 0.1, 1e-12);
    near(line.b * 1000, -0.155555555555556, 1e-12);
    near(line.b * 1800, -0.28, 1e-12);
    near(Math.max(...residuals(line, x, y).map(Math.abs)), 0.06, 1e-12);
  });

  test('SL-1: least squares band .0080', () => {
    const [x, y] = [
      [0, 6, 12, 18, 24],
      [0, 0.004, 0.003, 0.012, 0.006],
    ];
    const line = leastSquaresLine(x, y);
    expect(line.a).toBeCloseTo(0.001, 12);
    expect(line.b).toBeCloseTo(0.000333333333, 12);
    expect(range(residuals(line, x, y))).toBeCloseTo(0.008, 12);
  });
});

describe('laws', () => {
  const reading = fc.tuple(fc.integer({ min: 0, max: 3000 }), fc.double({ min: -5, max: 5, noNaN: true }));
  const readings = fc
    .array(reading, { minLength: 3, maxLength: 12 })
    .filter((r) => new Set(r.map(([x]) => x)).size > 1);

  test('moving the panel moves the line with it, far from the origin too', () => {
    fc.assert(
      fc.property(readings, (r) => {
        const [x, y] = [r.map(([s]) => s), r.map(([, h]) => h)];
        const [line, moved] = [
          leastSquaresLine(x, y),
          leastSquaresLine(
            x.map((s) => s + 1e6),
            y.map((h) => h + 50),
          ),
        ];
        expect(moved.b).toBeCloseTo(line.b, 8);
        expect(valueAt(moved, 1e6 + x[0]!) - 50).toBeCloseTo(valueAt(line, x[0]!), 5);
        expect(residuals(line, x, y).reduce((sum, e) => sum + e, 0)).toBeCloseTo(0, 8);
      }),
    );
  });

  test('inputs are not changed and bad ones are refused', () => {
    const [x, y] = [Object.freeze([0, 1, 2, 3]), Object.freeze([0, 1, 1, 2])];
    expect(leastSquaresLine(x, y)).toMatchObject({ a: expect.closeTo(0.1, 12), b: expect.closeTo(0.6, 12) });
    expect(leastSquaresLine([0, 2], [1, 5])).toMatchObject({ a: 1, b: 2, residualSd: NaN, r2: 1 });
    expect(lineThrough([0, 1], [2, 5])).toEqual({ a: 1, b: 2 });
    for (const bad of [
      () => leastSquaresLine([1], [1]),
      () => leastSquaresLine([1, 2], [1]),
      () => leastSquaresLine([4, 4], [1, 2]),
      () => lineThrough([1, 1], [1, 2]),
      () => totalLeastSquaresLine([1, 1, 1], [1, 2, 3]),
      () => leastSquaresThroughOrigin([0], [1]),
    ]) {
      expect(bad).toThrow(RangeError);
    }
  });
});
