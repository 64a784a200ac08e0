import { BLOCK, type RunShare, runBlocks, Sampler } from '../chains/sampling.ts';
import type { Model } from '../model/schema.ts';
import { BlockValues } from './blockValues.ts';
import { binned, clearOf, counted, type Marks, marked } from './counting.ts';
import { type SampleAnswer, sampleAnswer } from './sampleAnswer.ts';
import { type SamplePlan, samplePlan } from './samplePlan.ts';
import { emptyTally, KINK_BINS, KINK_STEP, type Tally } from './tally.ts';

/*
 * Runs a sampling plan block by block and counts: how often each finding lies beyond its limits, and how often the
 * whole skeleton goes together. The chances of the whole are products over clusters of findings, see wholeChance.ts.
 */

export interface SampleOptions {
  readonly seed: number;
  /** Samples in each replicate; 4096 unless told. */
  readonly points?: number;
  /** Independent replicates, 8 unless told: their scatter is the sampling error. */
  readonly replicates?: number;
  readonly kind?: 'sobol' | 'random';
  /** Whether to keep histograms for quantiles; true unless told. */
  readonly histograms?: boolean;
  readonly share?: RunShare;
  /**
   * How the chances of the whole are found: as products over clusters unless told; counted sample by sample, to
   * compare.
   */
  readonly whole?: 'product' | 'counted';
}

/** Counts of the whole are added in steps of 2⁻³⁰, so that the sum does not hang on which worker added first. */
const STEPS = 2 ** 30;

/**
 * Samples a plan block by block. Each step of the generator is one block: give up by not asking for the next. The tally
 * that it returns holds what was counted so far at any time.
 */
export function* sampled(
  plan: SamplePlan,
  options: SampleOptions,
): Generator<{ readonly done: number; readonly of: number; readonly tally: Tally }, Tally> {
  const { seed, points = 4096, replicates = 8, kind = 'sobol', histograms = true, share, whole = 'product' } = options;
  const { sums, steps, bounds, bins, clusters } = plan;
  const product = whole === 'product';
  const count = steps.length;
  const sampler = new Sampler(plan.causes, { seed, points: kind });
  const causes = new Float64Array(plan.causes.count * BLOCK);
  const questions = new BlockValues(plan, causes);
  const { value } = questions;
  const twice = Uint8Array.from(steps, (_, f) => (product && questions.rests(f) ? 1 : 0));
  const [act, fits, rest] = [new Uint8Array(BLOCK), new Uint8Array(BLOCK), new Uint8Array(BLOCK)];
  const marksOf = (f: number): Marks => ({ bounds, act, fits, rest: plan.acts[f] === 1 ? act : rest });
  const kink = new Float64Array(BLOCK);
  const isKink = new Uint8Array(count);
  for (const i of plan.kinks) isKink[i] = 1;
  const tally = emptyTally(replicates, count, histograms);
  const groups = clusters.start.length - 1;
  for (const { replicate, from, n, done, of } of runBlocks({ points, replicates, ...(share ? { share } : {}) })) {
    sampler.fill(causes, replicate, from, n);
    questions.next();
    kink.fill(0);
    let [goes, fit, others] = [1, 1, 1];
    act.fill(0);
    fits.fill(0);
    rest.fill(0);
    for (let g = 0; g <= groups; g++) {
      const last = g === groups;
      for (let o = clusters.start[g]!; o < (last ? count : clusters.start[g + 1]!); o++) {
        const f = clusters.order[o]!;
        const step = steps[f]!;
        if (twice[f] === 0 || last) {
          questions.ask(f, n, false);
          counted(value, n, f, { bounds, tally, replicate, count, marks: marksOf(f) });
        } else if (step.kind === 'sum') {
          const base = sums.base[step.row]!;
          questions.own(value, step.row, base, n);
          marked(value, n, f, marksOf(f), questions.held(step.row));
          questions.addCommon(value, step.row, n);
          counted(value, n, f, { bounds, tally, replicate, count });
        } else {
          questions.ask(f, n, true);
          marked(value, n, f, marksOf(f), 0);
          questions.ask(f, n, false);
          counted(value, n, f, { bounds, tally, replicate, count });
        }
        if (histograms) binned(value, n, f, tally, bins);
        if (isKink[f] === 1) for (let i = 0; i < n; i++) kink[i] = Math.max(kink[i]!, Math.abs(value[i]!));
      }
      if (!product || last) continue;
      goes *= clearOf(act, n);
      fit *= clearOf(fits, n);
      others *= clearOf(rest, n);
    }
    if (!product) [goes, fit, others] = [clearOf(act, n), clearOf(fits, n), clearOf(rest, n)];
    if (plan.kinks.length > 0)
      for (let i = 0; i < n; i++) tally.largestKink[Math.min(KINK_BINS, Math.floor(kink[i]! / KINK_STEP))]!++;
    tally.noneBeyond[replicate]! += Math.round(goes * n * STEPS) / STEPS;
    tally.allFit[replicate]! += Math.round(fit * n * STEPS) / STEPS;
    tally.restClear[replicate]! += Math.round(others * n * STEPS) / STEPS;
    tally.samples[replicate]! += n;
    yield { done, of, tally };
  }
  return tally;
}

/**
 * Samples all sizes of a panel together, at once. For long panels run `sampled` in a worker instead.
 *
 * @example `jointSample(model, { seed: 1 }).goesTogether` is `{ chance: 0, error: 0 }` on panel A as it was measured
 */
export function jointSample(model: Model, options: SampleOptions): SampleAnswer {
  const plan = samplePlan(model);
  const run = sampled(plan, options);
  for (;;) {
    const step = run.next();
    if (step.done) return sampleAnswer(plan, step.value);
  }
}
