import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chanceWithin, radiusWithin } from '../../src/chains/circular.ts';
import { chance } from '../../src/chains/normal.ts';

/* Published: Rayleigh identities; Marcum Q values (rows 9.1, 9.3, 9.5); Hoyt and CEP factors (Harter, JASA 55, 1960; rows 9.7, 9.9); rows 9.12, 9.14. */

const round = (uAlong: number, uUp = uAlong, along = 0, up = 0) => ({ along, up, uAlong, uUp });

describe('a wandering hole inside a circle', () => {
  it.each([
    [1, 0.393469340287367],
    [2, 0.864664716763387],
    [3, 0.988891003461758],
  ])('row 9.1, Rayleigh: within %f u', (R, p) => {
    expect(chanceWithin(R, round(1))).toBeCloseTo(p, 12);
  });

  it.each([
    [0.5, 1.17741002251547],
    [0.95, 2.44774683068082],
  ])('row 9.3, Rayleigh quantile %f', (p, R) => {
    expect(radiusWithin(p, round(1))).toBeCloseTo(R, 10);
  });

  it.each([
    [1, 1, 0.73287980379682],
    [2, 1, 0.918107696369406],
    [1, 2, 0.26901206003591],
  ])('row 9.5, Marcum Q1(%f, %f)', (a, b, q) => {
    expect(1 - chanceWithin(b, round(1, 1, a, 0))).toBeCloseTo(q, 11);
    expect(1 - chanceWithin(b, round(1, 1, 0, a))).toBeCloseTo(q, 11);
  });

  it.each([
    [1, 0.5, 1, 0.5900953294046],
    [1, 0.5, 2, 0.9454545785998],
  ])('row 9.7, Hoyt: u %f and %f, R %f', (sx, sy, R, p) => {
    expect(chanceWithin(R, round(sx, sy))).toBeCloseTo(p, 11);
    expect(chanceWithin(R, round(sy, sx))).toBeCloseTo(p, 11);
  });

  it.each([
    [0, 0.6744897502],
    [0.5, 0.87041742824],
    [1, 1.1774100225],
  ])('row 9.9, half of all: ratio %f', (c, k) => {
    expect(radiusWithin(0.5, round(1, c))).toBeCloseTo(k, 8);
  });

  it('rows 9.12 and 9.14: an offset, and a pair of holes', () => {
    expect(chanceWithin(0.25, round(0.1, 0.1, 0.1, 0))).toBeCloseTo(0.879145876851, 10);
    expect(chanceWithin(0.25, round(0.1 * Math.SQRT2))).toBeCloseTo(0.7903886128489, 11);
  });

  /** The slow and obvious way: thin slices across the other axis, each a chance between two bounds. */
  function bySlices(R: number, w: ReturnType<typeof round>): number {
    const n = 60_001;
    const [low, high] = [Math.max(-R, w.up - 9 * w.uUp), Math.min(R, w.up + 9 * w.uUp)];
    if (low >= high) return 0;
    const h = (high - low) / (n - 1);
    let sum = 0;
    for (let i = 0; i < n; i++) {
      const y = low + i * h;
      const z = (y - w.up) / w.uUp;
      const reach = Math.sqrt(Math.max(0, R * R - y * y));
      const across = chance((reach - w.along) / w.uAlong) - chance((-reach - w.along) / w.uAlong);
      sum +=
        (i === 0 || i === n - 1 ? 0.5 : 1) * h * (Math.exp(-0.5 * z * z) / (w.uUp * Math.sqrt(2 * Math.PI))) * across;
    }
    return sum;
  }

  it('law: as thin slices say, however unlike the two doubts', () => {
    const u = fc.double({ min: -4, max: 0.5, noNaN: true }).map((e) => 10 ** e);
    const off = fc.double({ min: -1.3, max: 1.3, noNaN: true });
    fc.assert(
      fc.property(u, u, off, off, (sx, sy, x, y) => {
        const w = { along: x, up: y, uAlong: sx, uUp: sy };
        const slow = sx < sy ? bySlices(1, { along: y, up: x, uAlong: sy, uUp: sx }) : bySlices(1, w);
        expect(Math.abs(chanceWithin(1, w) - slow)).toBeLessThan(2e-6);
      }),
      { seed: 71, numRuns: 150 },
    );
  });

  it('one doubt far smaller than the circle: as good as a line across it', () => {
    // Within ±0.8 of a unit circle at height 0.6: Φ(0.8/0.4) − Φ(−2) = 0.9545.
    expect(chanceWithin(1, { along: 0, up: 0.6, uAlong: 0.4, uUp: 1e-6 })).toBeCloseTo(0.9544997, 5);
    expect(chanceWithin(1, { along: 0.6, up: 0, uAlong: 1e-6, uUp: 0.4 })).toBeCloseTo(0.9544997, 5);
  });

  it('law: grows with the circle, falls with the offset, turns with the axes', () => {
    const size = fc.double({ min: 0.02, max: 2, noNaN: true });
    fc.assert(
      fc.property(size, size, size, size, size, (R, along, up, sx, sy) => {
        const p = chanceWithin(R, { along, up, uAlong: sx, uUp: sy });
        expect(p).toBeGreaterThanOrEqual(0);
        expect(p).toBeLessThanOrEqual(1);
        expect(chanceWithin(R * 1.1, { along, up, uAlong: sx, uUp: sy })).toBeGreaterThanOrEqual(p - 1e-9);
        expect(chanceWithin(R, { along: 0, up: 0, uAlong: sx, uUp: sy })).toBeGreaterThanOrEqual(p - 1e-9);
        expect(chanceWithin(R, { along: up, up: along, uAlong: sy, uUp: sx })).toBeCloseTo(p, 8);
      }),
      { seed: 7, numRuns: 200 },
    );
  });

  it('without any wander it is a yes or a no', () => {
    expect(chanceWithin(1, round(0, 0, 0.9, 0))).toBe(1);
    expect(chanceWithin(1, round(0, 0, 1.1, 0))).toBe(0);
    expect(chanceWithin(0, round(1))).toBe(0);
  });
});
