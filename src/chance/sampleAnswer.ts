import { NEAR } from '../units/near.ts';
import { BINS, type SamplePlan } from './samplePlan.ts';
import { KINK_STEP, type Tally } from './tally.ts';

/** A chance with its sampling error, one standard uncertainty, from the scatter of the replicates. */
export interface Chance {
  readonly chance: number;
  readonly error: number;
}

export interface SampledFinding {
  readonly id: string;
  /** Beyond its act threshold. */
  readonly beyond: Chance;
  /** Outside its fits threshold. */
  readonly outside: Chance;
}

export interface SampleAnswer {
  readonly samples: number;
  readonly findings: readonly SampledFinding[];
  /** Nothing anywhere beyond its act threshold: the whole skeleton goes together. */
  readonly goesTogether: Chance;
  /** Everything inside its fits threshold. */
  readonly allFit: Chance;
  /**
   * Nothing beyond its act threshold but what must be acted on anyway: what is to be hoped for once that is put
   * right.
   */
  readonly rest: Chance;
  /** How many must be acted on anyway. */
  readonly acts: number;
  /** Quantiles of a finding's value; undefined where the run kept no histograms. */
  quantile(id: string, p: number): number | undefined;
  /** Quantile of the largest kink of the panel, mm; undefined without kinks. */
  largestKink(p: number): number | undefined;
  readonly sentence: string;
}

function chanceOf(counts: (replicate: number) => number, samples: Float64Array): Chance {
  const rates = [...samples].flatMap((n, r) => (n > 0 ? [counts(r) / n] : []));
  const mean = rates.reduce((a, b) => a + b, 0) / rates.length;
  const error =
    rates.length > 1
      ? Math.sqrt(rates.reduce((s, v) => s + (v - mean) ** 2, 0) / (rates.length - 1) / rates.length)
      : Number.NaN;
  return { chance: mean, error };
}

/** Value below which a share p of a histogram lies: bins of equal width from `low`, straight within a bin. */
function quantileIn(counts: Uint32Array, low: number, width: number, p: number): number {
  let total = 0;
  for (const c of counts) total += c;
  let below = 0;
  for (let i = 0; i < counts.length; i++) {
    const c = counts[i]!;
    if (c > 0 && below + c >= p * total) return low + width * (i + (p * total - below) / c);
    below += c;
  }
  return low + width * counts.length;
}

/** Half of one in ten thousand: what a chance in ten thousand rounds to nothing. */
const UNCOUNTED = 5e-5;

/**
 * A chance out of a hundred with twice its sampling error, rounded up: `3.1 in 100 (± 0.4)`, `41 in 100 (± 2)`,
 * `7 in 10 000`, `under 1 in 10 000`.
 */
export function inHundred({ chance, error }: Chance): string {
  if (chance < UNCOUNTED) return 'under 1 in 10 000';
  if (chance > 1 - UNCOUNTED) return 'over 9999 in 10 000';
  if (chance < 0.001 || chance > 0.999) return `${Math.round(1e4 * chance)} in 10 000`;
  const off = Number.isFinite(error) ? 200 * error : 100;
  if (off >= 0.95) return `${(100 * chance).toFixed(0)} in 100 (± ${Math.ceil(off)})`;
  const tenths = Math.max(0.1, Math.ceil(off * 10 - NEAR) / 10);
  return `${(100 * chance).toFixed(1)} in 100 (± ${tenths.toFixed(1)})`;
}

/** What a tally says: chances with their sampling error, quantiles, and one sentence. */
export function sampleAnswer(plan: SamplePlan, tally: Tally): SampleAnswer {
  const count = plan.ids.length;
  const at = new Map(plan.ids.map((id, i) => [id, i]));
  const goesTogether = chanceOf((r) => tally.noneBeyond[r]!, tally.samples);
  const allFit = chanceOf((r) => tally.allFit[r]!, tally.samples);
  const samples = tally.samples.reduce((a, b) => a + b, 0);
  const past = plan.beyondTable > 0 ? ` ${plan.beyondTable} of the least influential sizes are drawn at random.` : '';
  return {
    samples,
    goesTogether,
    allFit,
    rest: chanceOf((r) => tally.restClear[r]!, tally.samples),
    acts: plan.acts.reduce((n, a) => n + a, 0),
    findings: plan.ids.map((id, f) => ({
      id,
      beyond: chanceOf((r) => tally.beyond[r * count + f]!, tally.samples),
      outside: chanceOf((r) => tally.outside[r * count + f]!, tally.samples),
    })),
    quantile(id, p) {
      const f = at.get(id);
      if (f === undefined || tally.histogram.length === 0) return undefined;
      const [low, width] = [plan.bins[2 * f]!, plan.bins[2 * f + 1]!];
      return quantileIn(tally.histogram.subarray(f * (BINS + 2), (f + 1) * (BINS + 2)), low - width, width, p);
    },
    largestKink: (p) => (plan.kinks.length > 0 ? quantileIn(tally.largestKink, 0, KINK_STEP, p) : undefined),
    sentence: `With every size where it may be, all drawn together ${samples} times: ${inHundred(goesTogether)} that the whole skeleton goes together as it is.${past}`,
  };
}
