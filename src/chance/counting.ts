import { NEAR } from '../units/near.ts';
import { BINS } from './samplePlan.ts';
import type { Tally } from './tally.ts';

/* Counts over one block of samples: where findings lie against their limits. Four bounds a finding: act, then fits. */

/** Share of a block's samples that are not marked; the marks are taken off. */
export function clearOf(marks: Uint8Array, n: number): number {
  let marked = 0;
  for (let i = 0; i < n; i++) marked += marks[i]!;
  marks.fill(0);
  return 1 - marked / n;
}

export interface Marks {
  readonly bounds: Float64Array;
  readonly act: Uint8Array;
  readonly fits: Uint8Array;
  /** Marked beyond act as well, but for findings that must be acted on anyway. */
  readonly rest: Uint8Array;
}

/** Marks the samples in which a finding lies beyond act, and outside fits, once `more` is added to its value. */
export function marked(
  value: Float64Array,
  n: number,
  f: number,
  { bounds, act, fits, rest }: Marks,
  more: number,
): void {
  const a0 = bounds[4 * f]! - NEAR - more;
  const a1 = bounds[4 * f + 1]! + NEAR - more;
  const f0 = bounds[4 * f + 2]! - NEAR - more;
  const f1 = bounds[4 * f + 3]! + NEAR - more;
  for (let i = 0; i < n; i++) {
    const v = value[i]!;
    if (v >= f0 && v <= f1) continue;
    fits[i] = 1;
    if (v < a0 || v > a1) {
      act[i] = 1;
      rest[i] = 1;
    }
  }
}

export interface Counting {
  readonly bounds: Float64Array;
  readonly tally: Tally;
  readonly replicate: number;
  readonly count: number;
  /** Samples to mark too. */
  readonly marks?: Marks;
}

/** Counts the samples in which a finding lies beyond act, and outside fits. */
export function counted(
  value: Float64Array,
  n: number,
  f: number,
  { bounds, tally, replicate, count, marks }: Counting,
): void {
  const a0 = bounds[4 * f]! - NEAR;
  const a1 = bounds[4 * f + 1]! + NEAR;
  const f0 = bounds[4 * f + 2]! - NEAR;
  const f1 = bounds[4 * f + 3]! + NEAR;
  let beyond = 0;
  let outside = 0;
  for (let i = 0; i < n; i++) {
    const v = value[i]!;
    // The inner band lies inside the outer one, so most values are settled by two comparisons.
    if (v >= f0 && v <= f1) continue;
    outside++;
    if (marks) marks.fits[i] = 1;
    if (v < a0 || v > a1) {
      beyond++;
      if (!marks) continue;
      marks.act[i] = 1;
      marks.rest[i] = 1;
    }
  }
  tally.beyond[replicate * count + f]! += beyond;
  tally.outside[replicate * count + f]! += outside;
}

/** Counts a finding's values into its histogram. */
export function binned(value: Float64Array, n: number, f: number, tally: Tally, bins: Float64Array): void {
  const [low, width] = [bins[2 * f]!, bins[2 * f + 1]!];
  const at = f * (BINS + 2);
  for (let i = 0; i < n; i++)
    tally.histogram[at + Math.min(BINS + 1, Math.max(0, 1 + Math.floor((value[i]! - low) / width)))]!++;
}
