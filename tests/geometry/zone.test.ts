import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Line, lineThrough, residuals } from '../../src/geometry/line.ts';
import { minimumZone, touchingLine } from '../../src/geometry/zone.ts';
import { PEARSON, READINGS_A, SIX_POINTS } from './readings.ts';

const range = (values: readonly number[]): number => Math.max(...values) - Math.min(...values);
const near = (value: number, expected: number): void => {
  expect(Math.abs(value - expected)).toBeLessThanOrEqual(1e-9 * Math.max(1, Math.abs(expected)));
};

const readings = fc
  .array(fc.tuple(fc.integer({ min: 0, max: 40 }), fc.integer({ min: -20, max: 20 })), { minLength: 2, maxLength: 14 })
  .filter((r) => new Set(r.map(([x]) => x)).size > 1)
  .map((r) => ({ x: r.map(([x]) => x * 50), y: r.map(([, y]) => y / 8) }));

/** The slow way: every line through two of the points. */
function* everyLine(x: readonly number[], y: readonly number[]): Generator<Line> {
  for (const [i, p] of x.entries())
    for (const [j, q] of x.entries()) if (p < q) yield lineThrough([p, y[i]!], [q, y[j]!]);
}

describe('minimum zone', () => {
  test.each([
    ['3.7', SIX_POINTS, [1.84, 0.533333333333, 2.14666666667], [1.62352941176, 0.533333333333]],
    ['3.8', PEARSON, [0.75, -0.5, 5.525], [0.67082039325, -0.5]],
    ['3.13', READINGS_A, [0.8625, 5e-5, 0.43125], [0.862499998922, 5e-5]],
  ] as const)('row %s', (_, { x, y }, [width, slope, middle], [square, squareSlope]) => {
    const vertical = minimumZone(x, y, 'vertical');
    near(vertical.width, width);
    near(vertical.b, slope);
    near(vertical.a, middle);
    const perpendicular = minimumZone(x, y, 'perpendicular');
    near(perpendicular.width, square);
    near(perpendicular.b, squareSlope);
  });

  test('SL-1: .0075 with slope .00025, on the two ends and the fourth point', () => {
    const zone = minimumZone([0, 6, 12, 18, 24], [0, 0.004, 0.003, 0.012, 0.006], 'vertical');
    expect(zone.width).toBeCloseTo(0.0075, 12);
    expect(zone.b).toBeCloseTo(0.00025, 12);
    expect([zone.edge, zone.opposite]).toEqual([[0, 4], 3]);
  });

  test('no line through two points does better, and all points lie in the zone', () => {
    fc.assert(
      fc.property(readings, ({ x, y }) => {
        for (const [sense, across] of [
          ['vertical', () => 1],
          ['perpendicular', ({ b }: Line) => Math.hypot(1, b)],
        ] as const) {
          const zone = minimumZone(x, y, sense);
          let best = Infinity;
          for (const line of everyLine(x, y)) best = Math.min(best, range(residuals(line, x, y)) / across(line));
          near(zone.width, best);
          const off = residuals(zone, x, y).map((e) => e / across(zone));
          near(Math.max(...off), zone.width / 2);
          near(Math.min(...off), -zone.width / 2);
        }
      }),
      { numRuns: 500 },
    );
  });

  test('two points, or a straight row, have no width; one station is refused', () => {
    expect(minimumZone([0, 10], [1, 2], 'vertical').width).toBe(0);
    expect(minimumZone([0, 10, 20, 30], [0, 1, 2, 3], 'perpendicular').width).toBe(0);
    expect(() => minimumZone([5, 5], [1, 2], 'vertical')).toThrow(RangeError);
    expect(() => minimumZone([5, 6], [1, NaN], 'vertical')).toThrow(RangeError);
  });
});

describe('touching line', () => {
  test('by hand: 0, 3, 1 at 0, 10, 40 rest on the last two', () => {
    const laid = touchingLine([0, 10, 40], [0, 3, 1]);
    expect(laid.rests).toEqual([1, 2]);
    expect(laid.b).toBeCloseTo(-1 / 15, 12);
    expect(laid.total).toBeCloseTo(11 / 3, 12);
    expect(laid.rocksOn).toBeUndefined();
  });

  test('nothing lies above it, and no line through two points that holds all does better', () => {
    fc.assert(
      fc.property(readings, ({ x, y }) => {
        const laid = touchingLine(x, y);
        expect(Math.max(...residuals(laid, x, y))).toBeLessThan(1e-9);
        for (const i of laid.rests) near(residuals(laid, x, y)[i]!, 0);
        let best = Infinity;
        for (const line of everyLine(x, y)) {
          const over = residuals(line, x, y);
          if (Math.max(...over) < 1e-9) best = Math.min(best, -over.reduce((sum, e) => sum + e, 0));
        }
        near(laid.total, best);
      }),
      { numRuns: 500 },
    );
  });

  test('the order of the readings does not matter to the line', () => {
    fc.assert(
      fc.property(readings, ({ x, y }) => {
        const there = touchingLine(x, y);
        const back = touchingLine([...x].reverse(), [...y].reverse());
        near(back.a, there.a);
        near(back.b, there.b);
      }),
    );
  });

  test('on a peak over the middle it rocks: the flatter side is taken, the left when they are alike', () => {
    const flatter = touchingLine([0, 10, 20], [0, 4, 3]);
    expect([flatter.rests, flatter.rocksOn]).toEqual([[1, 2], 1]);
    expect(flatter.b).toBeCloseTo(-0.1, 12);
    const alike = touchingLine([0, 0.1, 0.2], [0, 4, 0]);
    expect([alike.rests, alike.rocksOn]).toEqual([[0, 1], 1]);
    // 0.1 + 0.2 + 0.3 over three is not 0.2 to the last figure: still the same peak.
    expect(touchingLine([0.1, 0.2, 0.3], [0, 4, 3]).rocksOn).toBe(1);
  });

  test('readings are not changed', () => {
    const [x, y] = [Object.freeze([30, 0, 10]), Object.freeze([1, 0, 3])];
    expect([touchingLine(x, y).rests, minimumZone(x, y, 'vertical').opposite]).toEqual([[2, 0], 2]);
  });

  // Held against each other in pairs, they would outlast the runner.
  test('a million readings take no more than a look at each', () => {
    const x = Array.from({ length: 1_000_000 }, (_, i) => i);
    const y = x.map((s) => Math.sin(s * 12.9898) * 5);
    expect(touchingLine(x, y).rests).toHaveLength(2);
    expect(minimumZone(x, y, 'vertical').width).toBeCloseTo(10, 3);
  });
});
