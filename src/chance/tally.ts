import { BINS } from './samplePlan.ts';

/** Counts of a run or of a share of one; typed arrays, to be handed over without copying. */
export interface Tally {
  readonly replicates: number;
  readonly samples: Float64Array;
  /** By replicate and finding: samples beyond act, and outside fits. */
  readonly beyond: Uint32Array;
  readonly outside: Uint32Array;
  /**
   * By replicate: how many samples have nothing beyond act, and everything inside fits; sums of chances where they
   * are products.
   */
  readonly noneBeyond: Float64Array;
  readonly allFit: Float64Array;
  /** The same as noneBeyond, leaving out the findings that must be acted on anyway. */
  readonly restClear: Float64Array;
  /** By finding: histogram of its value, with what lies under and over. */
  readonly histogram: Uint32Array;
  /** Histogram of the panel's largest kink, mm in steps of 0.01. */
  readonly largestKink: Uint32Array;
}

/** The histogram of the largest kink: mm a bin, and how many. */
export const KINK_STEP = 0.01;
export const KINK_BINS = 1000;

export function emptyTally(replicates: number, findings: number, histograms: boolean): Tally {
  return {
    replicates,
    samples: new Float64Array(replicates),
    beyond: new Uint32Array(replicates * findings),
    outside: new Uint32Array(replicates * findings),
    noneBeyond: new Float64Array(replicates),
    allFit: new Float64Array(replicates),
    restClear: new Float64Array(replicates),
    histogram: new Uint32Array(histograms ? findings * (BINS + 2) : 0),
    largestKink: new Uint32Array(KINK_BINS + 1),
  };
}

/** The buffers of a tally, to transfer to another thread. */
export function buffersOf(t: Tally): ArrayBufferLike[] {
  return [t.samples, t.beyond, t.outside, t.noneBeyond, t.allFit, t.restClear, t.histogram, t.largestKink].map(
    (a) => a.buffer,
  );
}

/** The counts of several shares of one run, added. */
export function merged(tallies: readonly Tally[]): Tally {
  const first = tallies[0]!;
  const sum = <T extends Uint32Array | Float64Array>(of: (t: Tally) => T): T => {
    const out = of(first).slice() as T;
    for (const t of tallies.slice(1)) for (const [i, v] of of(t).entries()) out[i]! += v;
    return out;
  };
  return {
    replicates: first.replicates,
    samples: sum((t) => t.samples),
    beyond: sum((t) => t.beyond),
    outside: sum((t) => t.outside),
    noneBeyond: sum((t) => t.noneBeyond),
    allFit: sum((t) => t.allFit),
    restClear: sum((t) => t.restClear),
    histogram: sum((t) => t.histogram),
    largestKink: sum((t) => t.largestKink),
  };
}
