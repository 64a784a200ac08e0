import { BLOCK, blocksOf, Sampler, type Share, termsInto } from '../chains/sampling.ts';
import { smallestHolding } from '../geometry/circle.ts';
import type { Model } from '../model/schema.ts';
import { NEAR } from '../units/near.ts';
import { BINS, type SamplePlan, samplePlan } from './samplePlan.ts';
import { rowsOf } from './wholeChance.ts';

/*
 * Runs a sampling plan block by block and counts: how often each finding lies beyond its limits, and how often the whole
 * skeleton goes together. The chances of the whole are products over clusters of findings, see wholeChance.ts.
 */

/** Counts of a run or of a share of one; typed arrays, to be handed over without copying. */
export interface Tally {
  readonly replicates: number;
  readonly samples: Float64Array;
  /** By replicate and finding: samples beyond act, and outside fits. */
  readonly beyond: Uint32Array;
  readonly outside: Uint32Array;
  /** By replicate: how many samples have nothing beyond act, and everything inside fits; sums of chances where they are products. */
  readonly noneBeyond: Float64Array;
  readonly allFit: Float64Array;
  /** The same as noneBeyond, leaving out the findings that must be acted on anyway. */
  readonly restClear: Float64Array;
  /** By finding: histogram of its value, with what lies under and over. */
  readonly histogram: Uint32Array;
  /** Histogram of the panel's largest kink, mm in steps of 0.01. */
  readonly largestKink: Uint32Array;
}

const KINK_STEP = 0.01;
const KINK_BINS = 1000;

function emptyTally(replicates: number, findings: number, histograms: boolean): Tally {
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

export interface SampleOptions {
  readonly seed: number;
  /** Samples in each replicate; 4096 unless told. */
  readonly points?: number;
  /** Independent replicates, 8 unless told: their scatter is the sampling error. */
  readonly replicates?: number;
  readonly kind?: 'sobol' | 'random';
  /** Whether to keep histograms for quantiles; true unless told. */
  readonly histograms?: boolean;
  readonly share?: Share;
  /** How the chances of the whole are found: as products over clusters unless told; counted sample by sample, to compare. */
  readonly whole?: 'product' | 'counted';
}

/** Radius of the smallest circle that holds circles of given radii, sample i of the rows held in x and y. */
function holding(n: number, x: Float64Array, y: Float64Array, radii: readonly number[], i: number): number {
  let r = 0;
  let [a, b] = [0, 0];
  for (let p = 0; p < n; p++) {
    r = Math.max(r, radii[p]!);
    for (let q = p + 1; q < n; q++) {
      const d = Math.sqrt((x[p * BLOCK + i]! - x[q * BLOCK + i]!) ** 2 + (y[p * BLOCK + i]! - y[q * BLOCK + i]!) ** 2);
      const two = Math.max(radii[p]!, radii[q]!, (d + radii[p]! + radii[q]!) / 2);
      if (two > r) [r, a, b] = [two, p, q];
    }
  }
  if (n < 3 || a === b) return r;
  // The widest pair's circle holds all the others, or three of them decide.
  const [ax, ay, bx, by] = [x[a * BLOCK + i]!, y[a * BLOCK + i]!, x[b * BLOCK + i]!, y[b * BLOCK + i]!];
  const d = Math.sqrt((bx - ax) ** 2 + (by - ay) ** 2);
  const t = d > 0 ? (r - radii[a]!) / d : 0;
  const [cx, cy] = [ax + t * (bx - ax), ay + t * (by - ay)];
  let holds = true;
  for (let p = 0; p < n && holds; p++)
    holds = Math.sqrt((x[p * BLOCK + i]! - cx) ** 2 + (y[p * BLOCK + i]! - cy) ** 2) + radii[p]! <= r + 1e-12;
  if (holds) return r;
  if (n === 3 && radii[0] === radii[1] && radii[1] === radii[2]) {
    const [x0, y0, x1, y1, x2, y2] = [x[i]!, y[i]!, x[BLOCK + i]!, y[BLOCK + i]!, x[2 * BLOCK + i]!, y[2 * BLOCK + i]!];
    const l0 = Math.sqrt((x1 - x2) ** 2 + (y1 - y2) ** 2);
    const l1 = Math.sqrt((x0 - x2) ** 2 + (y0 - y2) ** 2);
    const l2 = Math.sqrt((x0 - x1) ** 2 + (y0 - y1) ** 2);
    const twice = Math.abs((x1 - x0) * (y2 - y0) - (x2 - x0) * (y1 - y0));
    return (l0 * l1 * l2) / (2 * twice) + radii[0]!;
  }
  return smallestHolding(radii.map((radius, p) => ({ x: x[p * BLOCK + i]!, y: y[p * BLOCK + i]!, r: radius }))).r;
}

/** Daylight of every seat under a straight spar resting on the longest ribs with the least total gap; ys in order. */
function restingInto(out: Float64Array, k: Float64Array, ys: readonly number[], i: number, corners: Int32Array): void {
  const n = ys.length;
  let top = 0;
  let mean = 0;
  for (let p = 0; p < n; p++) {
    mean += ys[p]! / n;
    const u = -k[p * BLOCK + i]!;
    while (top >= 2) {
      const [b, a] = [corners[top - 1]!, corners[top - 2]!];
      const [ub, ua] = [-k[b * BLOCK + i]!, -k[a * BLOCK + i]!];
      if ((ub - ua) * (ys[p]! - ys[a]!) - (u - ua) * (ys[b]! - ys[a]!) > 0) break;
      top--;
    }
    corners[top++] = p;
  }
  let e = 0;
  while (e + 2 < top && ys[corners[e + 1]!]! < mean) e++;
  const [a, b] = [corners[e]!, corners[e + 1]!];
  const slope = (k[a * BLOCK + i]! - k[b * BLOCK + i]!) / (ys[b]! - ys[a]!);
  for (let p = 0; p < n; p++)
    out[p * BLOCK + i] = Math.max(0, -k[a * BLOCK + i]! + slope * (ys[p]! - ys[a]!) + k[p * BLOCK + i]!);
}

/** Works out findings' values over a block of samples. */
class Questions {
  readonly value = new Float64Array(BLOCK);
  private readonly plan: SamplePlan;
  private readonly causes: Float64Array;
  private readonly other = new Float64Array(BLOCK);
  private readonly xs: Float64Array;
  private readonly ys: Float64Array;
  private readonly ends: Float64Array;
  /** Daylight of every seat, with common errors as they are and held. */
  private readonly resting: readonly [Float64Array, Float64Array];
  private readonly corners: Int32Array;
  /** Which of them are worked out for this block. */
  private readonly seated = [false, false];

  constructor(plan: SamplePlan, causes: Float64Array) {
    this.plan = plan;
    this.causes = causes;
    const most = plan.steps.reduce((n, s) => Math.max(n, s.kind === 'hole' ? s.radii.length : 1), 1);
    [this.xs, this.ys] = [new Float64Array(most * BLOCK), new Float64Array(most * BLOCK)];
    const seat = plan.steps.find((s) => s.kind === 'seat');
    const seats = seat?.kind === 'seat' ? seat.rows.length : 0;
    [this.ends, this.corners] = [new Float64Array(seats * BLOCK), new Int32Array(seats + 1)];
    this.resting = [new Float64Array(seats * BLOCK), new Float64Array(seats * BLOCK)];
  }

  /** A new block of samples stands in `causes`. */
  next(): void {
    this.seated.fill(false);
  }

  /** What a row's common errors add in the block's first sample: what the whole block is held at. */
  held(row: number): number {
    const { sums, clusters } = this.plan;
    let sum = 0;
    for (let j = clusters.split[row]!; j < sums.start[row + 1]!; j++)
      sum += sums.weight[j]! * this.causes[sums.cause[j]! * BLOCK]!;
    return sum;
  }

  /** Whether common errors enter a row. */
  hasCommon(row: number): boolean {
    return this.plan.clusters.split[row]! < this.plan.sums.start[row + 1]!;
  }

  /** A row's own causes over `base`, without the common errors. */
  own(out: Float64Array, row: number, base: number, n: number): void {
    const { sums, clusters } = this.plan;
    termsInto(out, sums, { from: sums.start[row]!, to: clusters.split[row]!, base }, this.causes, n);
  }

  /** Adds a row's common errors, sample by sample. */
  addCommon(out: Float64Array, row: number, n: number): void {
    const { sums, clusters } = this.plan;
    termsInto(out, sums, { from: clusters.split[row]!, to: sums.start[row + 1]!, base: undefined }, this.causes, n);
  }

  private row(out: Float64Array, row: number, n: number, held: boolean): void {
    const base = this.plan.sums.base[row]!;
    if (held) this.own(out, row, base + this.held(row), n);
    else {
      this.own(out, row, base, n);
      this.addCommon(out, row, n);
    }
  }

  /** Fills `value` with a finding's values, common errors held or not. */
  ask(f: number, n: number, held: boolean): void {
    const { value, other, xs, ys } = this;
    const step = this.plan.steps[f]!;
    if (step.kind === 'sum') this.row(value, step.row, n, held);
    else if (step.kind === 'relief') {
      this.row(value, step.row, n, held);
      this.row(other, step.gap, n, held);
      for (let i = 0; i < n; i++) value[i]! += Math.max(0, other[i]!);
    } else if (step.kind === 'ride') {
      this.row(other, step.row, n, held);
      const r = step.radius;
      for (let i = 0; i < n; i++) {
        const o = Math.min(r, Math.max(0, step.half + other[i]!));
        value[i] = r - Math.sqrt(r * r - o * o);
      }
    } else if (step.kind === 'hole') {
      step.along.forEach((row, p) => this.row(xs.subarray(p * BLOCK), row, n, held));
      step.up.forEach((row, p) => this.row(ys.subarray(p * BLOCK), row, n, held));
      for (let i = 0; i < n; i++) value[i] = step.final / 2 - holding(step.radii.length, xs, ys, step.radii, i);
    } else {
      const at = held ? 1 : 0;
      const resting = this.resting[at]!;
      if (!this.seated[at]) {
        step.rows.forEach((row, p) => this.row(this.ends.subarray(p * BLOCK), row, n, held));
        for (let i = 0; i < n; i++) restingInto(resting, this.ends, step.ys, i, this.corners);
        this.seated[at] = true;
      }
      value.set(resting.subarray(step.at * BLOCK, step.at * BLOCK + n));
    }
  }

  /** Whether anything of a finding hangs on common errors. */
  rests(f: number): boolean {
    return rowsOf(this.plan.steps[f]!).some((row) => this.hasCommon(row));
  }
}

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
  const questions = new Questions(plan, causes);
  const { value } = questions;
  const twice = Uint8Array.from(steps, (_, f) => (product && questions.rests(f) ? 1 : 0));
  const [act, fits, rest] = [new Uint8Array(BLOCK), new Uint8Array(BLOCK), new Uint8Array(BLOCK)];
  const marksOf = (f: number): Marks => ({ bounds, act, fits, rest: plan.acts[f] === 1 ? act : rest });
  const kink = new Float64Array(BLOCK);
  const isKink = new Uint8Array(count);
  for (const i of plan.kinks) isKink[i] = 1;
  const tally = emptyTally(replicates, count, histograms);
  const groups = clusters.start.length - 1;
  for (const { replicate, from, n, done, of } of blocksOf({ points, replicates, ...(share ? { share } : {}) })) {
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
    // In steps of 2⁻³⁰, so that the sum does not hang on which worker added first.
    tally.noneBeyond[replicate]! += Math.round(goes * n * STEPS) / STEPS;
    tally.allFit[replicate]! += Math.round(fit * n * STEPS) / STEPS;
    tally.restClear[replicate]! += Math.round(others * n * STEPS) / STEPS;
    tally.samples[replicate]! += n;
    yield { done, of, tally };
  }
  return tally;
}

const STEPS = 2 ** 30;

/** Share of a block's samples that are not marked; the marks are taken off. */
function clearOf(marks: Uint8Array, n: number): number {
  let marked = 0;
  for (let i = 0; i < n; i++) marked += marks[i]!;
  marks.fill(0);
  return 1 - marked / n;
}

interface Marks {
  readonly bounds: Float64Array;
  readonly act: Uint8Array;
  readonly fits: Uint8Array;
  /** Marked beyond act as well, but for findings that must be acted on anyway. */
  readonly rest: Uint8Array;
}

/** Marks the samples in which a finding lies beyond act, and outside fits, once `more` is added to its value. */
function marked(value: Float64Array, n: number, f: number, { bounds, act, fits, rest }: Marks, more: number): void {
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

interface Counting {
  readonly bounds: Float64Array;
  readonly tally: Tally;
  readonly replicate: number;
  readonly count: number;
  /** Samples to mark too. */
  readonly marks?: Marks;
}

function counted(
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

function binned(value: Float64Array, n: number, f: number, tally: Tally, bins: Float64Array): void {
  const [low, width] = [bins[2 * f]!, bins[2 * f + 1]!];
  const at = f * (BINS + 2);
  for (let i = 0; i < n; i++)
    tally.histogram[at + Math.min(BINS + 1, Math.max(0, 1 + Math.floor((value[i]! - low) / width)))]!++;
}

/** The counts of several shares of one run, added. */
export function merged(tallies: readonly Tally[]): Tally {
  const first = tallies[0]!;
  const sum = <T extends Uint32Array | Float64Array>(of: (t: Tally) => T): T => {
    const out = of(first).slice() as T;
    for (const t of tallies.slice(1))
      of(t).forEach((v, i) => {
        out[i]! += v;
      });
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
  /** Nothing beyond its act threshold but what must be acted on anyway: what is to be hoped for once that is put right. */
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

/**
 * A chance out of a hundred with twice its sampling error, rounded up: `3.1 in 100 (± 0.4)`, `41 in 100 (± 2)`,
 * `7 in 10 000`, `under 1 in 10 000`.
 */
export function inHundred({ chance, error }: Chance): string {
  if (chance < 5e-5) return 'under 1 in 10 000';
  if (chance > 1 - 5e-5) return 'over 9999 in 10 000';
  if (chance < 0.001 || chance > 0.999) return `${Math.round(1e4 * chance)} in 10 000`;
  const off = Number.isFinite(error) ? 200 * error : 100;
  return off < 0.95
    ? `${(100 * chance).toFixed(1)} in 100 (± ${Math.max(0.1, Math.ceil(off * 10 - NEAR) / 10).toFixed(1)})`
    : `${(100 * chance).toFixed(0)} in 100 (± ${Math.ceil(off)})`;
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
