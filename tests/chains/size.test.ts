import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { best, chain, uncertainty, worst } from '../../src/chains/chain.ts';
import { exact, fromDrawing, fromReadings, rectangular } from '../../src/chains/size.ts';

describe('rectangular', () => {
  // JCGM 100:2008, 4.3.7: a value equally likely anywhere in ±a has u = a/√3.
  test('±a is a/√3', () => {
    expect(rectangular(0.3)).toBeCloseTo(0.173205080757, 12);
    expect(rectangular(0)).toBe(0);
  });

  // Rows 1.6 and 1.7 (own, two routes; Irwin-Hall): sums of two and three rectangular errors of half width 1.
  test.each([
    ['1.6', 2, 0.816496580928, 2],
    ['1.7', 3, 1, 3],
  ])('row %s: %d errors of half width 1', (_, n, sd, most) => {
    const f = chain(...Array.from({ length: n }, (_, i) => [1, fromDrawing(`x${i}`, `x${i}`, 0, 1)] as const));
    expect(uncertainty(f)).toBeCloseTo(sd, 12);
    expect(worst(f)).toBe(most);
  });

  // Row 2.8 (MEM, closes): root sum of squares with rectangular parts is 1.732 times that with T = 3 u.
  test('row 2.8: a rectangular part inflates by 1.732 over T = 3 u', () => {
    expect((3 * rectangular(1)) / 1).toBeCloseTo(1.73205080757, 11);
  });
});

describe('from a drawing', () => {
  test('best is nominal, the tolerance is kept, and the origin says so', () => {
    expect(fromDrawing('k', 'n', 80, 0.3)).toEqual({
      key: 'k',
      name: 'n',
      best: 80,
      u: rectangular(0.3),
      tolerance: 0.3,
      origin: 'drawing',
    });
    expect(fromDrawing('k', 'n', 0.635, 0.05, 'stock').origin).toBe('stock');
  });
});

describe('from readings', () => {
  // JCGM 100:2008, 4.2.3 and 5.1.2, worked by hand: 10.1, 10.3, 10.2 have mean 10.2, s² = 0.01, s²/3 = 0.003333;
  // with an instrument of 0.08, u² = 0.003333 + 0.0064 = 0.009733, u = 0.098658.
  test('mean of n, u² = s²/n + u_instrument²', () => {
    const size = fromReadings('h', 'height', [10.1, 10.3, 10.2], 0.08);
    expect(size.best).toBeCloseTo(10.2, 12);
    expect(size.u).toBeCloseTo(0.09865765724632, 12);
    expect(size.tolerance).toBeCloseTo(2 * 0.09865765724632, 12);
    expect(size.origin).toBe('measured');
  });

  test('one reading has only the instrument', () => {
    expect(fromReadings('h', 'height', [83.35], 0.08)).toMatchObject({ best: 83.35, u: 0.08, tolerance: 0.16 });
  });

  test('no reading is no size', () => {
    expect(() => fromReadings('h', 'height', [], 0.08)).toThrow(RangeError);
  });

  test('the order of readings does not matter and the mean lies among them', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: -500, max: 500, noNaN: true }), { minLength: 1, maxLength: 12 }),
        (readings) => {
          const given = Object.freeze([...readings]);
          const size = fromReadings('x', 'x', given, 0.1);
          expect(size.best).toBeGreaterThanOrEqual(Math.min(...readings) - 1e-9);
          expect(size.best).toBeLessThanOrEqual(Math.max(...readings) + 1e-9);
          expect(size.u).toBeGreaterThanOrEqual(0.1);
          const back = fromReadings('x', 'x', [...readings].reverse(), 0.1);
          expect(back.best).toBeCloseTo(size.best, 9);
          expect(back.u).toBeCloseTo(size.u, 9);
        },
      ),
      { seed: 3, numRuns: 300 },
    );
  });
});

test('exact has no uncertainty and moves no chain but by its value', () => {
  const set = exact('survey', 'rear higher', 17);
  expect(set).toMatchObject({ u: 0, tolerance: 0, best: 17 });
  const f = chain([2, set]);
  expect([best(f), uncertainty(f), worst(f)]).toEqual([34, 0, 0]);
});
