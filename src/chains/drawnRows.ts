import { BLOCK, Sampler } from './sampling.ts';

/** A sum of numbered causes over a best value; each cause is normal, of mean 0 and standard deviation 1. */
export interface DrawnRow {
  readonly best: number;
  readonly terms: readonly (readonly [cause: number, weight: number])[];
}

export interface EvenDraws {
  /** A whole number of blocks. */
  readonly points: number;
  readonly seed: number;
}

/**
 * Share of evenly spread draws of all causes together in which something holds. `holds` is given the rows' values in
 * one draw, in an array that is used again for the next.
 *
 * @example one row 0 ± 1, asked whether it is above 0: 0.5
 */
export function shareWhere(
  rows: readonly DrawnRow[],
  causes: number,
  { points, seed }: EvenDraws,
  holds: (values: Float64Array) => boolean,
): number {
  const sampler = new Sampler({ count: causes, rectangular: new Uint8Array(causes) }, { seed });
  const drawn = new Float64Array(causes * BLOCK);
  const values = new Float64Array(rows.length);
  let good = 0;
  for (let from = 0; from < points; from += BLOCK) {
    sampler.fill(drawn, 0, from, BLOCK);
    for (let i = 0; i < BLOCK; i++) {
      for (let r = 0; r < rows.length; r++) {
        const { best, terms } = rows[r]!;
        let sum = best;
        for (const [k, w] of terms) sum += w * drawn[k * BLOCK + i]!;
        values[r] = sum;
      }
      if (holds(values)) good++;
    }
  }
  return good / points;
}
