import { DIRECTION_NUMBERS } from './directionNumbers.ts';
import { quantile } from './normal.ts';

/*
 * Points for sampling all sizes together: each size's causes (its own error, and those it shares) are one dimension
 * each. The most influential get Sobol points (Joe and Kuo's D6 direction numbers, Gray-code order, a digital shift
 * by seed); dimensions past the table get pseudo-random ones (xoshiro128+), which costs accuracy only where little
 * hangs on them. Everything comes in blocks, any block can be made alone (so workers share out one set of points),
 * and all state is in arguments and locals: integers kept in a module are many times slower in browsers.
 */

/** Points in a block; where a run of points starts must be a whole number of blocks. */
export const BLOCK = 512;

/** Dimensions that can have Sobol points. */
export const SOBOL_DIMENSIONS = DIRECTION_NUMBERS.split('|').length + 1;

const BITS = 32;

/** Direction numbers of the first `count` dimensions, 32 each. */
export function directions(count: number): Int32Array {
  const v = new Int32Array(count * BITS);
  const rows = DIRECTION_NUMBERS.split('|', Math.max(0, count - 1));
  for (let b = 0; b < BITS && count > 0; b++) v[b] = 1 << (31 - b);
  for (let d = 1; d < count; d++) {
    const [a, ...m] = rows[d - 1]!.split(' ').map(Number) as [number, ...number[]];
    const s = m.length;
    const at = d * BITS;
    for (let b = 0; b < BITS; b++) {
      if (b < s) {
        v[at + b] = m[b]! << (31 - b);
        continue;
      }
      let x = v[at + b - s]! ^ (v[at + b - s]! >>> s);
      for (let k = 1; k < s; k++) if ((a >> (s - 1 - k)) & 1) x ^= v[at + b - k]!;
      v[at + b] = x;
    }
  }
  return v;
}

/** A well mixed 32-bit number from two (the finisher of Murmur3). */
function mixed(a: number, b: number): number {
  let h = Math.imul(a ^ (a >>> 16), 0x85ebca6b) ^ Math.imul(b + 0x9e3779b9, 0xc2b2ae35);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  h = Math.imul(h ^ (h >>> 15), 0x85ebca6b);
  return h ^ (h >>> 16);
}

/** Fills 32-bit Sobol points of one dimension, `from` the first on, with a shift. */
function sobolInto(out: Int32Array, n: number, v: Int32Array, dimension: number, from: number, shift: number): void {
  const at = dimension * BITS;
  let x = shift;
  const gray = from ^ (from >>> 1);
  for (let b = 0; b < BITS; b++) if ((gray >>> b) & 1) x ^= v[at + b]!;
  for (let i = 0; i < n; i++) {
    out[i] = x;
    const k = ~(from + i);
    // Lowest clear bit of the index: 31 - clz of the lowest set bit of its complement.
    x ^= v[at + 31 - Math.clz32(k & -k)]!;
  }
}

/** Fills pseudo-random 32-bit points (Blackman and Vigna's xoshiro128+) that belong to one dimension and block. */
function randomInto(out: Int32Array, n: number, seed: number, dimension: number, from: number): void {
  let a = mixed(seed, dimension * 4 + 1);
  let b = mixed(a, from);
  let c = mixed(b, dimension);
  let d = mixed(c, seed) | 1;
  for (let i = -4; i < n; i++) {
    if (i >= 0) out[i] = (a + d) | 0;
    const t = b << 9;
    c ^= a;
    d ^= b;
    b ^= c;
    a ^= d;
    c ^= t;
    d = (d << 11) | (d >>> 21);
  }
}

/** The unit value of a 32-bit point, in the middle of its cell: never 0 or 1. */
const CELL = 1 / 4294967296;

/** Cells of the inverse for each halving of the distance to the nearer end. */
const CELLS = 64;
const HALVINGS = 26;

/**
 * The normal inverse as cubics, four figures a cell. A point's distance to the nearer end, in 2⁻³², plus 64, is cut
 * into 64 cells for each halving; in each the cubic meets value and slope of the inverse (Wichura's AS 241) at both
 * ends. Off it by less than 4e-9 anywhere, and without a branch.
 */
function inverseTable(): Float64Array {
  const t = new Float64Array(HALVINGS * CELLS * 4);
  const at = (distance: number): { z: number; slope: number } => {
    const z = -quantile((distance - CELLS + 0.5) * CELL);
    return { z, slope: -CELL * Math.sqrt(2 * Math.PI) * Math.exp((z * z) / 2) };
  };
  for (let w = 0; w < HALVINGS; w++) {
    // The last halving holds only the very middle.
    for (let c = 0; c < (w === HALVINGS - 1 ? 1 : CELLS); c++) {
      const h = 2 ** w;
      const [a, b] = [at((CELLS + c) * h), at((CELLS + c + 1) * h)];
      const rise = (b.z - a.z) / h;
      t.set(
        [(a.slope + b.slope - 2 * rise) / (h * h), (3 * rise - 2 * a.slope - b.slope) / h, a.slope, a.z],
        (w * CELLS + c) * 4,
      );
    }
  }
  return t;
}

/** The table, for whoever draws points elsewhere. */
export const INVERSE: Float64Array = inverseTable();

/** Normal values of 32-bit points. */
function normalInto(out: Float64Array, offset: number, points: Int32Array, n: number): void {
  const t = INVERSE;
  for (let i = 0; i < n; i++) {
    const k = points[i]!;
    const side = k >> 31;
    const d = ((k ^ side) + CELLS) | 0;
    const w = 25 - Math.clz32(d);
    const at = ((w << 6) | ((d >>> w) & 63)) << 2;
    const u = d & ((1 << w) - 1);
    const z = ((t[at]! * u + t[at + 1]!) * u + t[at + 2]!) * u + t[at + 3]!;
    out[offset + i] = z * (-1 - 2 * side);
  }
}

/** Normal values of some 32-bit points, read as unsigned: the middle of 2³² equal cells. */
export function normalsOf(points: Int32Array): Float64Array {
  const out = new Float64Array(points.length);
  normalInto(out, 0, points, points.length);
  return out;
}

/** Even values of standard deviation 1, ±√3, of 32-bit points. */
function evenInto(out: Float64Array, offset: number, points: Int32Array, n: number): void {
  const width = Math.sqrt(12);
  for (let i = 0; i < n; i++) out[offset + i] = (((points[i]! >>> 0) + 0.5) * CELL - 0.5) * width;
}

/** What a sampler makes: so many causes, each of mean 0 and standard deviation 1. */
export interface SampledCauses {
  readonly count: number;
  /** 1 where a cause is rectangular (a drawing's ±T), 0 where it is normal (a reading). Most influential first. */
  readonly rectangular: Uint8Array;
  /**
   * The Sobol dimension each takes its points from, -1 for pseudo-random ones; in order while the table lasts unless
   * given. Causes that never meet in one question may share a dimension: each is shifted by itself, so they are
   * independent.
   */
  readonly dimension?: Int32Array;
}

export interface SamplerOptions {
  readonly seed: number;
  /** Sobol where the table reaches, or pseudo-random throughout (to compare). */
  readonly points?: 'sobol' | 'random';
}

/**
 * Makes values of all causes for any block of any replicate. A replicate is the same set of points under another
 * digital shift, so replicates are independent and their scatter is the sampling error.
 */
export class Sampler {
  readonly causes: SampledCauses;
  private readonly seed: number;
  private readonly dimension: Int32Array;
  private readonly v: Int32Array;
  private readonly points = new Int32Array(BLOCK);

  constructor(causes: SampledCauses, { seed, points = 'sobol' }: SamplerOptions) {
    this.causes = causes;
    this.seed = seed | 0;
    this.dimension =
      points === 'random'
        ? new Int32Array(causes.count).fill(-1)
        : (causes.dimension ?? Int32Array.from({ length: causes.count }, (_, k) => (k < SOBOL_DIMENSIONS ? k : -1)));
    this.v = directions(this.dimension.reduce((most, d) => Math.max(most, d + 1), 0));
  }

  /**
   * Values of cause k of points from..from+n of a replicate into out[k·BLOCK …]; `from` is a whole number of blocks,
   * n at most BLOCK.
   */
  fill(out: Float64Array, replicate: number, from: number, n: number): void {
    const { count, rectangular } = this.causes;
    const own = mixed(this.seed, replicate + 1);
    const { points, v, dimension } = this;
    for (let k = 0; k < count; k++) {
      const d = dimension[k]!;
      if (d >= 0) sobolInto(points, n, v, d, from, mixed(own, k));
      else randomInto(points, n, own, k, from);
      if (rectangular[k] === 1) evenInto(out, k * BLOCK, points, n);
      else normalInto(out, k * BLOCK, points, n);
    }
  }
}

/** The plain Sobol points, without a shift: `sobolPoints(3, 10)[1]` is [0.5, 0.5, 0.5]. For tests and pictures. */
export function sobolPoints(dimensions: number, count: number, from = 0): number[][] {
  const v = directions(dimensions);
  const columns = Array.from({ length: dimensions }, (_, d) => {
    const out = new Int32Array(count);
    sobolInto(out, count, v, d, from, 0);
    return out;
  });
  return Array.from({ length: count }, (_, i) => columns.map((c) => (c[i]! >>> 0) * CELL));
}

/**
 * Signed sums of causes: output o is base[o] + Σ weight[j]·cause[j] over j from start[o] to start[o + 1]. Plain
 * arrays, so that it can be handed to a worker.
 */
export interface Sums {
  readonly outputs: number;
  readonly start: Int32Array;
  readonly cause: Int32Array;
  readonly weight: Float64Array;
  readonly base: Float64Array;
}

/** One output's values over a block. */
export function sumInto(out: Float64Array, sums: Sums, o: number, causes: Float64Array, n: number): void {
  termsInto(out, sums, { from: sums.start[o]!, to: sums.start[o + 1]!, base: sums.base[o]! }, causes, n);
}

/**
 * Some of the terms of an output: from one place in its list to another, over a base, or added to what is there
 * without one.
 */
export interface TermRange {
  readonly from: number;
  readonly to: number;
  readonly base: number | undefined;
}

/** Sums terms over a block. Up to four causes in one pass, so that a value is written once. */
export function termsInto(
  out: Float64Array,
  sums: Sums,
  { from, to, base: over }: TermRange,
  causes: Float64Array,
  n: number,
): void {
  const { cause, weight } = sums;
  let j = from;
  let first = over !== undefined;
  const base = over ?? 0;
  if (!first && j >= to) return;
  do {
    const left = to - j;
    const a = left > 0 ? cause[j]! * BLOCK : 0;
    const b = left > 1 ? cause[j + 1]! * BLOCK : a;
    const c = left > 2 ? cause[j + 2]! * BLOCK : a;
    const d = left > 3 ? cause[j + 3]! * BLOCK : a;
    const w = left > 0 ? weight[j]! : 0;
    const x = left > 1 ? weight[j + 1]! : 0;
    const y = left > 2 ? weight[j + 2]! : 0;
    const z = left > 3 ? weight[j + 3]! : 0;
    if (!first) {
      if (left > 2)
        for (let i = 0; i < n; i++)
          out[i]! += w * causes[a + i]! + x * causes[b + i]! + y * causes[c + i]! + z * causes[d + i]!;
      else for (let i = 0; i < n; i++) out[i]! += w * causes[a + i]! + x * causes[b + i]!;
    } else if (left > 2)
      for (let i = 0; i < n; i++)
        out[i] = base + w * causes[a + i]! + x * causes[b + i]! + y * causes[c + i]! + z * causes[d + i]!;
    else if (left > 0) for (let i = 0; i < n; i++) out[i] = base + w * causes[a + i]! + x * causes[b + i]!;
    else out.fill(base, 0, n);
    first = false;
    j += 4;
  } while (j < to);
}

/** Share of a set of points: worker `part` of `parts`. */
export interface RunShare {
  readonly part: number;
  readonly parts: number;
}

export interface Run {
  /** Points in each replicate; made a whole number of blocks. */
  readonly points: number;
  readonly replicates: number;
  readonly share?: RunShare;
}

/** Every block of a run that falls to one worker: which replicate, from which point, how many. */
export function* runBlocks({ points, replicates, share = { part: 0, parts: 1 } }: Run): Generator<{
  readonly replicate: number;
  readonly from: number;
  readonly n: number;
  readonly done: number;
  readonly of: number;
}> {
  const each = Math.max(1, Math.ceil(points / BLOCK));
  const of = Math.ceil((each * replicates - share.part) / share.parts);
  let done = 0;
  for (let k = share.part; k < each * replicates; k += share.parts)
    yield { replicate: Math.floor(k / each), from: (k % each) * BLOCK, n: BLOCK, done: ++done, of };
}
