import { describe, expect, test } from 'vitest';
import { quantile } from '../../src/chains/normal.ts';
import {
  BLOCK,
  normalsOf,
  runBlocks,
  Sampler,
  SOBOL_DIMENSIONS,
  type Sums,
  sobolPoints,
  sumInto,
} from '../../src/chains/sampling.ts';

/** All values of a signed sum of some causes, in replicate r. */
function values(
  weights: readonly number[],
  rectangular: boolean,
  count: number,
  options: { seed: number; points?: 'sobol' | 'random' },
  replicate = 0,
): Float64Array {
  const n = weights.length;
  const sampler = new Sampler({ count: n, rectangular: new Uint8Array(n).fill(rectangular ? 1 : 0) }, options);
  const sums: Sums = {
    outputs: 1,
    start: Int32Array.from([0, n]),
    cause: Int32Array.from(weights, (_, i) => i),
    weight: Float64Array.from(weights),
    base: new Float64Array(1),
  };
  const causes = new Float64Array(n * BLOCK);
  const out = new Float64Array(count);
  for (let from = 0; from < count; from += BLOCK) {
    sampler.fill(causes, replicate, from, BLOCK);
    sumInto(out.subarray(from, from + BLOCK), sums, 0, causes, BLOCK);
  }
  return out;
}

const mean = (v: Float64Array): number => v.reduce((a, b) => a + b, 0) / v.length;
const sd = (v: Float64Array): number => Math.sqrt(v.reduce((a, b) => a + b * b, 0) / v.length - mean(v) ** 2);
const half = (v: Float64Array): number => Float64Array.from(v, Math.abs).sort()[Math.ceil(0.95 * v.length) - 1]!;

describe('Sobol points', () => {
  // Row 12.1: S. Joe and F. Kuo 2008, the authors' example: first ten points in three dimensions, exact.
  test('12.1 the first ten in three dimensions', () => {
    expect(sobolPoints(3, 10)).toEqual([
      [0, 0, 0],
      [0.5, 0.5, 0.5],
      [0.75, 0.25, 0.25],
      [0.25, 0.75, 0.75],
      [0.375, 0.375, 0.625],
      [0.875, 0.875, 0.125],
      [0.625, 0.125, 0.875],
      [0.125, 0.625, 0.375],
      [0.1875, 0.3125, 0.9375],
      [0.6875, 0.8125, 0.4375],
    ]);
  });

  test('skipping ahead gives the same points', () => {
    const all = sobolPoints(6, 300);
    for (const from of [1, 2, 63, 64, 255]) expect(sobolPoints(6, 20, from)).toEqual(all.slice(from, from + 20));
  });

  // A (0, m, 1)-sequence: every dimension has one of the first 2^m points in each of 2^m cells.
  test('every dimension is even, up to the last of the table', () => {
    expect(SOBOL_DIMENSIONS).toBe(512);
    const n = 256;
    const columns = sobolPoints(SOBOL_DIMENSIONS, n);
    for (let d = 0; d < SOBOL_DIMENSIONS; d++)
      expect(new Set(columns.map((p) => Math.floor(p[d]! * n))).size, `dimension ${d + 1}`).toBe(n);
  });

  // D6 holds its two-dimensional pattern for neighbours early on: 2 × 2 blocks of the first 64 points in 64 cells.
  test('the first two dimensions fill 8 × 8 cells', () => {
    expect(new Set(sobolPoints(2, 64).map(([x, y]) => `${Math.floor(x! * 8)} ${Math.floor(y! * 8)}`)).size).toBe(64);
  });
});

describe('published sums', () => {
  // Rows 1.1, 1.2: JCGM 101:2008, 9.2: four inputs, u 2.00; half-widths 3.92 normal and 3.88 rectangular.
  test.each([
    ['sobol', false, 3.919927969080109],
    ['sobol', true, 3.879406741347821],
    ['random', false, 3.919927969080109],
    ['random', true, 3.879406741347821],
  ] as const)('1.1, 1.2 four inputs, %s, rectangular %s', (points, rectangular, expected) => {
    const v = values([1, 1, 1, 1], rectangular, 1 << 20, { seed: 3, points });
    expect(sd(v)).toBeCloseTo(2, points === 'sobol' ? 3 : 2);
    expect(Math.abs(half(v) - expected)).toBeLessThan(0.01);
  });

  // Rows 1.6, 1.7: Irwin-Hall, two and three even errors of half-width 1: 95 % inside 1.55279 and 1.93734.
  test.each([
    ['1.6', 2, 1.5527864045, 0.816496580928],
    ['1.7', 3, 1.93734143082, 1],
  ] as const)('%s', (_, n, expected, spread) => {
    const v = values(new Array<number>(n).fill(1 / Math.sqrt(3)), true, 1 << 19, { seed: 5 });
    expect(sd(v)).toBeCloseTo(spread, 4);
    expect(half(v)).toBeCloseTo(expected, 2);
  });
});

describe('the inverse normal used for speed', () => {
  // Wichura's AS 241 gives the table its corners; between them it is asked at points the table does not hold.
  test('over the whole range, out to the last cells', () => {
    const edges = [
      0,
      1,
      2,
      3,
      62,
      63,
      64,
      65,
      127,
      128,
      129,
      ...Array.from({ length: 25 }, (_, b) => [
        2 ** (b + 6) - 66,
        2 ** (b + 6) - 65,
        2 ** (b + 6) - 63,
        2 ** (b + 6) + 1,
      ]).flat(),
      2 ** 31 - 66,
      2 ** 31 - 65,
      2 ** 31 - 64,
      2 ** 31 - 63,
      2 ** 31 - 2,
      2 ** 31 - 1,
    ];
    const spread = Array.from({ length: 40_000 }, (_, i) => Math.floor(2 ** (31 * ((i + 0.37) / 40_000))));
    const points = Int32Array.from([...edges, ...spread].flatMap((d) => [d, ~d]));
    const z = normalsOf(points);
    let worst = 0;
    points.forEach((k, i) => {
      worst = Math.max(worst, Math.abs(z[i]! - quantile(((k >>> 0) + 0.5) / 2 ** 32)));
    });
    expect(worst).toBeLessThan(4e-9);
    expect(Math.max(...z)).toBeCloseTo(6.3379, 2); // the outermost cell, half of 2⁻³² from the end
  });

  // The same, by way of a whole run.
  test('against AS 241 at the points themselves', () => {
    const v = values([1], false, 4096, { seed: 11 });
    const uniform = values([1 / Math.sqrt(12)], true, 4096, { seed: 11 });
    v.forEach((z, i) => {
      const exact = quantile(uniform[i]! + 0.5);
      expect(Math.abs(z - exact)).toBeLessThan(2e-9 * Math.max(1, Math.abs(exact)));
    });
  });
});

describe('blocks', () => {
  test('workers share out the same blocks', () => {
    const run = { points: 5000, replicates: 3 };
    const key = (b: { replicate: number; from: number }): string => `${b.replicate} ${b.from}`;
    const all = [...runBlocks(run)].map(key);
    const parts = [0, 1].flatMap((part) => [...runBlocks({ ...run, share: { part, parts: 2 } })].map(key));
    expect(parts.sort()).toEqual([...all].sort());
    expect(all).toHaveLength(3 * Math.ceil(5000 / BLOCK));
    const last = [...runBlocks(run)].at(-1)!;
    expect(last.done).toBe(last.of);
  });

  test('a block alone is the block in the run; replicates and seeds differ', () => {
    const causes = { count: 520, rectangular: new Uint8Array(520) };
    const [a, b] = [new Float64Array(520 * BLOCK), new Float64Array(520 * BLOCK)];
    new Sampler(causes, { seed: 1 }).fill(a, 2, 3 * BLOCK, BLOCK);
    const again = new Sampler(causes, { seed: 1 });
    again.fill(b, 0, 0, BLOCK);
    again.fill(b, 2, 3 * BLOCK, BLOCK);
    expect(b).toEqual(a);
    again.fill(b, 1, 3 * BLOCK, BLOCK);
    expect(b[0]).not.toBe(a[0]);
    new Sampler(causes, { seed: 2 }).fill(b, 2, 3 * BLOCK, BLOCK);
    expect(b[0]).not.toBe(a[0]);
    // Past the table the points are drawn at random, each dimension its own.
    expect(a[515 * BLOCK]).not.toBe(a[516 * BLOCK]);
  });

  test('values are of mean 0 and spread 1, independent of each other', () => {
    const n = 1 << 16;
    for (const points of ['sobol', 'random'] as const) {
      const s = values([1, 1], false, n, { seed: 9, points });
      const d = values([1, -1], false, n, { seed: 9, points });
      expect(Math.abs(mean(s))).toBeLessThan(0.02);
      expect(Math.abs(sd(s) ** 2 - sd(d) ** 2)).toBeLessThan(0.06);
    }
  });

  test('Sobol points tell a mean far more closely than random ones', () => {
    const error = (points: 'sobol' | 'random'): number =>
      Math.sqrt(
        [1, 2, 3, 4, 5, 6].reduce(
          (sum, seed) => sum + mean(values([1, 0.5, 0.25], false, 1 << 14, { seed, points })) ** 2,
          0,
        ) / 6,
      );
    expect(error('sobol') * 20).toBeLessThan(error('random'));
  });
});
