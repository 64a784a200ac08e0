import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { chance, chanceBelow, quantile } from '../../src/chains/normal.ts';

const relative = (found: number, expected: number): number => Math.abs(found / expected - 1);

describe('chance below z', () => {
  // sources-math row 12.7: any table of the normal distribution prints .8413447, .9772499, .9986501.
  test.each([
    [1, 0.84134474606854295],
    [2, 0.97724986805182079],
    [3, 0.99865010196836991],
  ])('row 12.7: at %d', (z, expected) => {
    expect(Math.abs(chance(z) - expected)).toBeLessThan(1e-14);
    expect(Math.abs(chance(-z) - (1 - expected))).toBeLessThan(1e-14);
  });

  test('at 0 it is one half, and far out it is 0 and 1', () => {
    expect(chance(0)).toBe(0.5);
    expect(chance(-40)).toBe(0);
    expect(chance(40)).toBe(1);
  });

  // A slow and obvious twin: the power series of the distribution, good to about 1e-13 inside three.
  test('agrees with the power series', () => {
    const series = (z: number): number => {
      let term = z;
      let sum = z;
      for (let k = 1; k < 400; k++) {
        term *= (z * z) / (2 * k + 1);
        sum += term;
      }
      return 0.5 + (sum * Math.exp((-z * z) / 2)) / Math.sqrt(2 * Math.PI);
    };
    for (let z = -3; z <= 3; z += 0.0625) expect(Math.abs(chance(z) - series(z))).toBeLessThan(1e-13);
  });

  test('the two sides add to 1 and it never falls', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -8, max: 8, noNaN: true }),
        fc.double({ min: 0, max: 4, noNaN: true }),
        (z, step) => {
          expect(chance(z) + chance(-z)).toBeCloseTo(1, 14);
          expect(chance(z + step)).toBeGreaterThanOrEqual(chance(z) - 1e-15);
        },
      ),
      { seed: 1, numRuns: 500 },
    );
  });
});

describe('z below which a chance lies', () => {
  // Rows 12.4 (READ-2: the three test values printed with AS 241, Appl. Stat. 37 (1988) 477) and 12.5 (own, 40 digits).
  test.each([
    ['12.4', 0.25, -0.674489750196081743],
    ['12.4', 0.001, -3.09023230616781354],
    ['12.4', 1e-20, -9.26234008979840757],
    ['12.5', 0.9, 1.28155156554460047],
    ['12.5', 0.975, 1.95996398454005424],
    ['12.5', 0.995, 2.57582930354890076],
  ])('row %s: at %d', (_, p, expected) => {
    expect(relative(quantile(p), expected)).toBeLessThan(1e-12);
  });

  test('0, 1 and beyond have no answer', () => {
    for (const p of [0, 1, -0.1, 1.1, Number.NaN]) expect(() => quantile(p)).toThrow(RangeError);
  });

  test('there and back', () => {
    fc.assert(
      fc.property(fc.double({ min: 1e-12, max: 1 - 1e-12, noNaN: true }), (p) => {
        expect(Math.abs(chance(quantile(p)) - p)).toBeLessThan(1e-13);
      }),
      { seed: 2, numRuns: 500 },
    );
  });
});

describe('chance below x of a size known as best ± u', () => {
  test('without uncertainty it is 0, one half or 1', () => {
    expect([chanceBelow(1, 2, 0), chanceBelow(2, 2, 0), chanceBelow(3, 2, 0)]).toEqual([0, 0.5, 1]);
  });

  // By hand: 0.10 over a best of -0.32 with u 0.096 is 4.375 of them.
  test('counts in standard uncertainties', () => {
    expect(chanceBelow(0.1, -0.32, 0.096)).toBe(chance(4.375));
    expect(chanceBelow(-0.416, -0.32, 0.096)).toBeCloseTo(1 - 0.84134474606854295, 12);
  });
});
