import { NEAR } from '../units/near.ts';
import { type Chain, chain, combine } from './chain.ts';
import type { SharedError, Size } from './size.ts';

/*
 * What several readings say together. A chain computed from its parts and the same thing read directly are correlated
 * estimates; the best answer moves every part a little and narrows all of them at once: weighted least squares over
 * all sizes (a Gaussian update). Sizes are written as sums of independent standard errors ("causes": each size's own,
 * and each one that several share), so the prior covariance, shared sheets and one tape's scale included, is carried
 * exactly.
 *
 * In causes z the prior is the unit matrix and the posterior information is I + AᵀA, with one row of A for each direct
 * reading. It is sparse (a station's sizes meet only in its own gaps and in the shared causes), and so is its Cholesky
 * factor L when private causes are eliminated first: z = mean + L⁻ᵀw. A size's row times L⁻ᵀ is its signed loadings on
 * the new independent causes w: a factor of the posterior covariance, carried as `shared`.
 */

/** One thing known twice: a chain says it from its parts, and `read` says it directly. */
export interface DirectReading {
  readonly computed: Chain;
  readonly read: Size;
}

/** Sizes after all direct readings were taken in. */
export interface Posterior {
  /** The Size as now known; the same object where no direct reading bears on it. Needs the Size as it was before. */
  adjust(size: Size): Size;
}

/**
 * Least variance of a direct reading, mm²: a reading given as exact is taken as good to a millionth of a millimetre.
 */
const LEAST = 1e-12;

/** A size's own part of its uncertainty, what it shares taken off. */
function ownUncertainty(size: Size): number {
  if (!size.shared) return size.u;
  let rest = size.u * size.u;
  for (const s of size.shared) rest -= s.u * s.u;
  return rest > 1e-14 * size.u * size.u ? Math.sqrt(rest) : 0;
}

/** A size as loadings on independent standard causes: its own under its key, shared ones under their source. */
export function errorCausesOf(size: Size): SharedError[] {
  const own = ownUncertainty(size);
  const causes: SharedError[] = own > 0 ? [{ source: `own ${size.key}`, u: own }] : [];
  for (const s of size.shared ?? []) if (s.u !== 0) causes.push({ source: s.source, u: s.u });
  return causes;
}

/** A chain as loadings on independent standard causes; its variance is the sum of their squares. */
export function loadingsOf(f: Chain): Map<string, number> {
  const all = new Map<string, number>();
  for (const t of f)
    for (const cause of errorCausesOf(t.size)) all.set(cause.source, (all.get(cause.source) ?? 0) + t.c * cause.u);
  return all;
}

/** A row of loadings with the cause numbers they belong to. */
type Row = Map<number, number>;

/**
 * Takes in direct readings. `read` may share errors with sizes (one instrument's scale) but not be one of them.
 *
 * @example a gap of 1.00 ± 0.10 by its parts, felt as 1.20 ± 0.03: the parts move by 0.83 of the difference in all, the
 * gap becomes 1.183 ± 0.029 (weights 1/0.01 and 1/0.0009).
 */
export function posterior(readings: readonly DirectReading[]): Posterior {
  const names: string[] = [];
  const numbers = new Map<string, number>();
  const rows: { row: Row; miss: number }[] = [];
  const meets: number[] = [];
  for (const { computed, read } of readings) {
    const difference = combine([1, computed], [-1, chain([1, read])]);
    const loadings = loadingsOf(difference);
    const mine = `own ${read.key}`;
    const spread = Math.sqrt(Math.max(LEAST, (loadings.get(mine) ?? 0) ** 2));
    loadings.delete(mine);
    let miss = 0;
    for (const t of difference) miss -= t.c * t.size.best;
    const row: Row = new Map();
    for (const [source, u] of loadings) {
      let n = numbers.get(source);
      if (n === undefined) {
        n = names.length;
        names.push(source);
        numbers.set(source, n);
        meets.push(0);
      }
      meets[n]!++;
      row.set(n, u / spread);
    }
    rows.push({ row, miss: miss / spread });
  }
  const factor = factored(rows, meets);
  const mean = factor.solve(rows);
  const known = new Map<string, { readonly from: Size; readonly moved: Size }>();
  const move = (size: Size): Size => {
    const row: Row = new Map();
    const kept: SharedError[] = [];
    for (const cause of errorCausesOf(size)) {
      const n = numbers.get(cause.source);
      if (n !== undefined) row.set(n, (row.get(n) ?? 0) + cause.u);
      else if (cause.source !== `own ${size.key}`) kept.push(cause);
    }
    if (row.size === 0) return size;
    let best = size.best;
    let bound = 0;
    for (const [n, u] of row) {
      best += u * mean[n]!;
      bound += u * u;
    }
    let variance = size.u * size.u - bound;
    const shared = kept;
    for (const [n, u] of factor.forward(row)) {
      if (u === 0) continue;
      variance += u * u;
      shared.push({ source: `felt ${names[n]!}`, u });
    }
    const u = Math.sqrt(Math.max(0, variance));
    return { ...size, best, u, tolerance: Math.min(size.tolerance, 2 * u), shared };
  };
  return {
    adjust(size) {
      const had = known.get(size.key);
      if (had?.from === size) return had.moved;
      const moved = move(size);
      known.set(size.key, { from: size, moved });
      return moved;
    },
  };
}

interface Factor {
  /** Σ over direct readings solved for the mean of every cause. */
  solve(rows: readonly { row: Row; miss: number }[]): Float64Array;
  /** L⁻¹ times a row, in no order. */
  forward(row: Row): Row;
}

/** Sparse Cholesky of I + AᵀA, least shared causes first. */
function factored(rows: readonly { row: Row }[], meets: readonly number[]): Factor {
  const count = meets.length;
  const order = meets.map((_, i) => i).sort((a, b) => meets[a]! - meets[b]! || a - b);
  const rank = new Int32Array(count);
  order.forEach((n, r) => {
    rank[n] = r;
  });
  // below[r]: entries of column r of what is left to factor, by the rank of their row, which is larger.
  const below: Map<number, number>[] = meets.map(() => new Map<number, number>());
  const diagonal = new Float64Array(count).fill(1);
  for (const { row } of rows) {
    const entries = [...row].map(([n, v]) => [rank[n]!, v] as const).sort((a, b) => a[0] - b[0]);
    entries.forEach(([r, v], i) => {
      diagonal[r]! += v * v;
      for (const [s, w] of entries.slice(i + 1)) below[r]!.set(s, (below[r]!.get(s) ?? 0) + v * w);
    });
  }
  for (let r = 0; r < count; r++) {
    const pivot = Math.sqrt(diagonal[r]!);
    diagonal[r] = pivot;
    const column = [...below[r]!].map(([s, v]) => [s, v / pivot] as const);
    below[r] = new Map(column);
    for (const [s, v] of column) {
      diagonal[s]! -= v * v;
      for (const [t, w] of column) if (t > s) below[s]!.set(t, (below[s]!.get(t) ?? 0) - v * w);
    }
  }
  return {
    forward(row) {
      const waiting: Row = new Map([...row].map(([n, v]) => [rank[n]!, v]));
      const done: Row = new Map();
      while (waiting.size > 0) {
        let r = count;
        for (const k of waiting.keys()) if (k < r) r = k;
        const v = waiting.get(r)! / diagonal[r]!;
        waiting.delete(r);
        done.set(order[r]!, v);
        if (v !== 0) for (const [s, l] of below[r]!) waiting.set(s, (waiting.get(s) ?? 0) - l * v);
      }
      return done;
    },
    solve(read) {
      const x = new Float64Array(count);
      for (const { row, miss } of read) for (const [n, v] of row) x[rank[n]!]! += v * miss;
      for (let r = 0; r < count; r++) {
        x[r]! /= diagonal[r]!;
        for (const [s, l] of below[r]!) x[s]! -= l * x[r]!;
      }
      for (let r = count - 1; r >= 0; r--) {
        for (const [s, l] of below[r]!) x[r]! -= l * x[s]!;
        x[r]! /= diagonal[r]!;
      }
      const mean = new Float64Array(count);
      order.forEach((n, r) => {
        mean[n] = x[r]!;
      });
      return mean;
    },
  };
}

/** How two statements of one thing differ: read less computed, and the standard uncertainty of that difference. */
export function differenceOf({ computed, read }: DirectReading): { readonly difference: number; readonly u: number } {
  const f = combine([1, chain([1, read])], [-1, computed]);
  let difference = 0;
  for (const t of f) difference += t.c * t.size.best;
  let variance = 0;
  for (const u of loadingsOf(f).values()) variance += u * u;
  return { difference, u: Math.sqrt(variance) };
}

/**
 * Which single size, if it alone were wrong, explains best why read and computed differ: the correction that least
 * squares gives each, in standard uncertainties of that correction; where they tie, as they must with one direct
 * reading, the one moved farthest for its own uncertainty. Returns sizes, most suspect first; the direct readings
 * stand among them.
 */
export function suspectsOf(
  readings: readonly DirectReading[],
  after: Posterior = posterior(readings),
): { readonly size: Size; readonly standardised: number; readonly moved: number }[] {
  const seen = new Map<string, { size: Size; standardised: number; moved: number }>();
  const note = (size: Size, correction: number, lost: number): void => {
    const spread = Math.sqrt(Math.max(0, lost));
    if (seen.has(size.key) || !(size.u > 0) || spread < NEAR * size.u) return;
    seen.set(size.key, { size, standardised: Math.abs(correction) / spread, moved: Math.abs(correction) / size.u });
  };
  for (const { computed, read } of readings) {
    let now = 0;
    const then: (readonly [number, Size])[] = [];
    for (const t of computed) {
      const moved = after.adjust(t.size);
      note(t.size, moved.best - t.size.best, t.size.u ** 2 - moved.u ** 2);
      now += t.c * moved.best;
      then.push([t.c, moved]);
    }
    let left = 0;
    for (const u of loadingsOf(chain(...then)).values()) left += u * u;
    note(read, now - read.best, read.u ** 2 - left);
  }
  return [...seen.values()].sort((a, b) =>
    Math.abs(a.standardised - b.standardised) > 1e-6 * (a.standardised + b.standardised)
      ? b.standardised - a.standardised
      : b.moved - a.moved,
  );
}
