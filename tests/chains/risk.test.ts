import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { chance, chanceBoth, quantile } from '../../src/chains/normal.ts';
import { chanceSettled, lossAfter, lossNow, type Outlook, type Thresholds } from '../../src/chains/risk.ts';

/** Slow twin: the chance by summing over the first variable in thin slices, the second conditional on it. */
function bySlices(x: number, y: number, r: number): number {
  const n = 40_000;
  let sum = 0;
  const top = Math.min(x, 9);
  const d = (top + 9) / n;
  for (let i = 0; i < n; i++) {
    const m = -9 + (i + 0.5) * d;
    sum += (Math.exp((-m * m) / 2) / Math.sqrt(2 * Math.PI)) * d * chance((y - r * m) / Math.sqrt(1 - r * r));
  }
  return sum;
}

describe('two normals together', () => {
  // Sheppard's identity: 1/4 + asin(r)/2π at the origin.
  test.each([-1, -0.99, -0.9, -0.5, -0.2, 0, 0.1, 0.5, 0.8, 0.93, 0.999, 1])('at the origin, r = %d', (r) =>
    expect(chanceBoth(0, 0, r)).toBeCloseTo(0.25 + Math.asin(r) / (2 * Math.PI), 12),
  );

  test('without correlation it is the product, with full correlation the smaller', () => {
    expect(chanceBoth(0.3, -1.1, 0)).toBeCloseTo(chance(0.3) * chance(-1.1), 14);
    expect(chanceBoth(0.3, -1.1, 1)).toBeCloseTo(chance(-1.1), 12);
    expect(chanceBoth(0.3, 1.1, -1)).toBeCloseTo(chance(0.3) + chance(1.1) - 1, 12);
    expect(chanceBoth(Infinity, 1, 0.5)).toBe(chance(1));
    expect(chanceBoth(-Infinity, 1, 0.5)).toBe(0);
  });

  test('against slices', () => {
    for (const [x, y, r] of [
      [0.5, -0.3, 0.4],
      [1.2, 2, -0.7],
      [-1, -1.5, 0.9],
      [0.2, 0.25, 0.97],
      [2, -2, -0.95],
      [-0.4, 1, 0.99],
    ] as const)
      expect(chanceBoth(x, y, r)).toBeCloseTo(bySlices(x, y, r), 7);
  });
});

const limit: Thresholds = { fits: [-0.1, 0.3], act: [-0.2, 0.6] };

describe('loss of a verdict', () => {
  test('unsettled is 1; settled is the chance of being wrong', () => {
    expect(lossNow(0, 0.27, limit)).toBe(1);
    expect(lossNow(0.1, 0.1, limit)).toBeCloseTo(2 * chance(-2), 12);
    expect(lossNow(0.4, 0.1, limit)).toBeCloseTo(chance(-2) + chance(-6), 12);
    expect(lossNow(-0.5, 0.1, limit)).toBeCloseTo(chance(-3), 9);
    expect(lossNow(0.1, 0, limit)).toBe(0);
  });
});

/** Slow twin of the expected loss: truth and reading drawn over a grid of equal chances, the verdict drawn as the bench draws it. */
function byGrid(best: number, u: number, lim: Thresholds, uReading: number): number {
  const n = 1500;
  const weight = u ** 2 / (u ** 2 + uReading ** 2);
  const after = Math.sqrt(u ** 2 * (1 - weight));
  let loss = 0;
  for (let i = 0; i < n; i++) {
    const seen = best + Math.sqrt(u ** 2 + uReading ** 2) * quantile((i + 0.5) / n);
    loss += lossNow(best + weight * (seen - best), after, lim) / n;
  }
  return loss;
}

describe('loss after a reading', () => {
  const weighed = (u: number, uReading: number): Outlook => {
    const spread = u ** 4 / (u ** 2 + uReading ** 2);
    return { u: Math.sqrt(u ** 2 - spread), spread, tied: spread };
  };
  const band = (lo: number, inner: number, width: number, outer: number): Thresholds => ({
    fits: [lo, lo + width],
    act: [lo - inner, lo + width + outer],
  });
  const d = (min: number, max: number) => fc.double({ min, max, noNaN: true });

  // Given the reading, the truth is normal about the new best: the loss is the mean of the losses of what may be read.
  test('against a grid of readings', () => {
    fc.assert(
      fc.property(
        d(-0.6, 0.6),
        d(0.02, 0.5),
        d(0.02, 0.4),
        d(-0.5, 0.2),
        d(0, 0.3),
        d(0.05, 0.9),
        d(0, 0.3),
        (best, u, ur, lo, inner, width, outer) => {
          const lim = band(lo, inner, width, outer);
          expect(Math.abs(lossAfter(best, u, lim, weighed(u, ur)) - byGrid(best, u, lim, ur))).toBeLessThan(3e-3);
        },
      ),
      { seed: 71, numRuns: 150 },
    );
  });

  test('one-sided limits', () => {
    for (const lim of [
      { fits: [null, 0.1], act: [null, 0.25] },
      { fits: [0.5, null], act: [0, null] },
      { fits: [2, null], act: [2, null] },
    ] as Thresholds[]) {
      for (const best of [-0.1, 0.2, 0.4, 2])
        expect(lossAfter(best, 0.2, lim, weighed(0.2, 0.05))).toBeCloseTo(byGrid(best, 0.2, lim, 0.05), 2);
    }
  });

  test('a reading that says nothing changes nothing; one that says all leaves no loss', () => {
    expect(lossAfter(0, 0.27, limit, { u: 0.27, spread: 0, tied: 0 })).toBe(1);
    expect(lossAfter(0, 0.27, limit, weighed(0.27, 1e-5))).toBeLessThan(1e-3);
    expect(chanceSettled(0, limit, weighed(0.27, 1e-5))).toBeGreaterThan(0.999);
  });
});
