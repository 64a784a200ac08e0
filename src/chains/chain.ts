import { once } from '../once.ts';
import { chanceBelow } from './normal.ts';
import type { SharedError, Size } from './size.ts';

/** One link: the Size and the signed factor by which it enters. */
export interface Term {
  readonly size: Size;
  readonly c: number;
}

/**
 * A signed sum of Sizes, f = Σ cᵢxᵢ: every fit question becomes one.
 * Terms of one key are merged, so a sheet that enters twice counts 2×, not √2×.
 */
export type Chain = readonly Term[];

/**
 * Builds a chain from [factor, Size] pairs. `chain([1, clear], [-1, height], [-2, sheet])` is a cap gap with a
 * channel doubler.
 */
export function chain(...links: readonly (readonly [number, Size])[]): Chain {
  const terms: { size: Size; c: number }[] = [];
  for (const [c, size] of links) {
    if (c === 0) continue;
    const same = terms.find((t) => t.size.key === size.key);
    if (same) same.c += c;
    else terms.push({ size, c });
  }
  return terms;
}

/** Joins chains with factors: `combine([1, noseHere], [-0.5, noseLeft], [-0.5, noseRight])` is a kink. */
export function combine(...parts: readonly (readonly [number, Chain])[]): Chain {
  const links: [number, Size][] = [];
  for (const [k, part] of parts) for (const t of part) links.push([k * t.c, t.size]);
  return chain(...links);
}

/** Best value Σ cᵢ·bestᵢ. */
export function best(f: Chain): number {
  let sum = 0;
  for (const t of f) sum += t.c * t.size.best;
  return sum;
}

/** Worst case ± Σ |cᵢ| Tᵢ. */
export function worst(f: Chain): number {
  let sum = 0;
  for (const t of f) sum += Math.abs(t.c) * t.size.tolerance;
  return sum;
}

/** Covariance of two Sizes: u² with itself, the shared errors with another, else 0. */
export function covariance(a: Size, b: Size): number {
  if (a.key === b.key) return a.u * a.u;
  if (!a.shared || !b.shared) return 0;
  const [few, many] = a.shared.length <= b.shared.length ? [a.shared, b.shared] : [b.shared, a.shared];
  let sum = 0;
  if (few.length * many.length <= 16)
    for (const s of few) for (const t of many) if (s.source === t.source) sum += s.u * t.u;
  if (few.length * many.length > 16) {
    const by = bySource(many);
    for (const s of few) sum += s.u * (by.get(s.source) ?? 0);
  }
  return sum;
}

/** A Size's shared errors by source: felt readings tie many sizes together. */
const bySource = once(
  (shared: readonly SharedError[]): ReadonlyMap<string, number> => new Map(shared.map((s) => [s.source, s.u])),
);

/** u² = cᵀΣc, shared errors included. Never negative. */
export function variance(f: Chain): number {
  let sum = 0;
  for (let i = 0; i < f.length; i++) {
    const a = f[i]!;
    sum += a.c * a.c * a.size.u * a.size.u;
    if (!a.size.shared) continue;
    for (let j = i + 1; j < f.length; j++) sum += 2 * a.c * f[j]!.c * covariance(a.size, f[j]!.size);
  }
  return Math.max(0, sum);
}

/** Standard uncertainty of the chain. */
export function uncertainty(f: Chain): number {
  return Math.sqrt(variance(f));
}

/** Each Size's share of u², in chain order, summing to 1 (all 0 when u is 0): cᵢ(Σc)ᵢ / cᵀΣc. */
export function shares(f: Chain): number[] {
  const whole = variance(f);
  return f.map((a) => {
    if (whole === 0) return 0;
    let row = 0;
    for (const b of f) row += b.c * covariance(a.size, b.size);
    return (a.c * row) / whole;
  });
}

/** Chance that the chain lies below x (normal). */
export function below(f: Chain, x: number): number {
  return chanceBelow(x, best(f), uncertainty(f));
}

/** The same chain with one Size's best value replaced, all else held: "what if this were …". */
export function withBest(f: Chain, key: string, value: number): Chain {
  return f.map((t) => (t.size.key === key ? { c: t.c, size: { ...t.size, best: value } } : t));
}
