import { best, type Chain } from '../chains/chain.ts';
import { BLOCK, blocksOf, type Causes, Sampler, SOBOL_DIMENSIONS, type Share, type Sums, sumInto } from '../chains/sampling.ts';
import type { Size } from '../chains/size.ts';
import { causesOf } from '../chains/update.ts';
import { smallestHolding } from '../geometry/circle.ts';
import type { Model } from '../model/schema.ts';
import { chordGapChain } from '../parts/meeting.ts';
import { type RibPlace, type Skeleton, skeletonOf } from '../parts/skeleton.ts';
import { flatOverrunChain } from './bendRide.ts';
import { checkAll } from './checkAll.ts';
import { reliefChain } from './corners.ts';
import type { CheckId, Finding } from './finding.ts';
import { chainOf, circlesOf } from './holes.ts';

/*
 * Asks: with every size where it may really be, all at once, how likely is each finding beyond its limit, and how likely
 * does the whole skeleton fit? Every chain becomes one row of a sparse matrix over independent causes, so that one sheet
 * moves everything cut from it. Findings that are no plain sum are worked out from their rows for each sample: daylight at
 * a relief that is never negative, the smallest circle round a hole's layers, the spar resting on the longest ribs, a
 * plate riding on a bend; and, over the whole panel, the largest kink and the largest needed drill.
 */

/** Findings about the readings, or about no size at all: they have no chance of their own here. */
const NOT_SAMPLED: ReadonlySet<CheckId> = new Set<CheckId>(['disagreement', 'temperature']);

/** How a value comes from rows of the matrix. Plain data, for it goes to a worker. */
type Step =
  | { readonly kind: 'sum'; readonly row: number }
  | { readonly kind: 'relief'; readonly row: number; readonly gap: number }
  | { readonly kind: 'hole'; readonly along: readonly number[]; readonly up: readonly number[]; readonly radii: readonly number[]; readonly final: number }
  | { readonly kind: 'ride'; readonly row: number; readonly half: number; readonly radius: number }
  | { readonly kind: 'seat'; readonly rows: readonly number[]; readonly ys: readonly number[]; readonly at: number };

/** Everything a sampling run needs; plain data and typed arrays. */
export interface SamplePlan {
  readonly causes: Causes;
  readonly sums: Sums;
  readonly ids: readonly string[];
  readonly steps: readonly Step[];
  /** Lower and upper bound of act and of fits for each finding; ±Infinity where open. */
  readonly bounds: Float64Array;
  /** Where each finding's histogram starts and how wide a bin is. */
  readonly bins: Float64Array;
  /** Places in `ids` of kinks and of hole clean-ups, for the largest of them. */
  readonly kinks: readonly number[];
  /** Causes that get pseudo-random points for want of Sobol dimensions. */
  readonly beyondTable: number;
}

/** Gathers rows over causes numbered as they come. */
class Matrix {
  readonly numbers = new Map<string, number>();
  readonly even: boolean[] = [];
  readonly rows: { base: number; terms: [number, number][] }[] = [];

  add(f: Chain, base: number): number {
    const terms = new Map<number, number>();
    for (const t of f) {
      for (const cause of causesOf(t.size)) {
        const k = this.cause(cause.source, t.size);
        terms.set(k, (terms.get(k) ?? 0) + t.c * cause.u);
      }
    }
    this.rows.push({ base, terms: [...terms].filter(([, w]) => w !== 0) });
    return this.rows.length - 1;
  }

  private cause(source: string, size: Size): number {
    let k = this.numbers.get(source);
    if (k === undefined) {
      k = this.numbers.size;
      this.numbers.set(source, k);
      // A drawing's or a stock's ±T is flat (JCGM 100:2008, 4.3.7); anything read, tied or picked is normal.
      this.even.push(source === `own ${size.key}` && size.origin !== 'measured' && Math.abs(size.u * Math.sqrt(3) - size.tolerance) < 1e-9);
    }
    return k;
  }

  /**
   * Normal causes that enter every row in one and the same proportion act as one: their sum is normal too. Taken together
   * exactly, they leave fewer dimensions to fill.
   */
  private together(): void {
    const columns = new Map<number, [number, number][]>();
    this.rows.forEach((r, i) => r.terms.forEach(([k, w]) => {
      const had = columns.get(k);
      if (had) had.push([i, w]);
      else columns.set(k, [[i, w]]);
    }));
    const alike = new Map<string, number[]>();
    for (const [k, column] of columns) {
      const first = column[0]![1];
      const sign = this.even[k] ? `alone ${k}` : column.map(([i, w]) => `${i} ${(w / first).toPrecision(9)}`).join(',');
      const group = alike.get(sign);
      if (group) group.push(k);
      else alike.set(sign, [k]);
    }
    const scale = new Map<number, number>();
    for (const group of alike.values()) {
      const lead = columns.get(group[0]!)![0]![1];
      scale.set(group[0]!, Math.sqrt(group.reduce((sum, k) => sum + (columns.get(k)![0]![1] / lead) ** 2, 0)));
    }
    for (const r of this.rows) r.terms = r.terms.flatMap(([k, w]): [number, number][] => (scale.has(k) ? [[k, w * scale.get(k)!]] : []));
    const kept = [...scale.keys()];
    const place = new Map(kept.map((k, i) => [k, i]));
    for (const r of this.rows) r.terms = r.terms.map(([k, w]) => [place.get(k)!, w]);
    const even = kept.map((k) => this.even[k]!);
    this.even.length = 0;
    this.even.push(...even);
  }

  /** The rows with causes renumbered, most influential first. */
  finish(): { causes: Causes; sums: Sums } {
    this.together();
    const weight = new Float64Array(this.even.length);
    for (const { terms } of this.rows) {
      let v = 0;
      for (const [, w] of terms) v += w * w;
      if (v > 0) for (const [k, w] of terms) weight[k]! += (w * w) / v;
    }
    const order = [...weight.keys()].sort((a, b) => weight[b]! - weight[a]! || a - b);
    const place = new Int32Array(order.length);
    order.forEach((k, i) => { place[k] = i; });
    const start = new Int32Array(this.rows.length + 1);
    this.rows.forEach((r, i) => { start[i + 1] = start[i]! + r.terms.length; });
    const cause = new Int32Array(start[this.rows.length]!);
    const weights = new Float64Array(cause.length);
    this.rows.forEach((r, i) => r.terms.forEach(([k, w], j) => {
      cause[start[i]! + j] = place[k]!;
      weights[start[i]! + j] = w;
    }));
    return {
      causes: { count: order.length, rectangular: Uint8Array.from(order, (k) => (this.even[k] ? 1 : 0)) },
      sums: { outputs: this.rows.length, start, cause, weight: weights, base: Float64Array.from(this.rows, (r) => r.base) },
    };
  }
}

function placeOf(skeleton: Skeleton, f: Finding): RibPlace | undefined {
  return f.station === null ? undefined : skeleton.placesAt(f.station).find((p) => `${p.rib.id} ${p.end}` === f.place || p.doublers.some((d) => d.id === f.place));
}

function stepOf(skeleton: Skeleton, matrix: Matrix, f: Finding, seats: Seats | undefined): Step {
  const { model } = skeleton;
  const plain = (): Step => {
    const sum = best(f.restsOn);
    const clipped = f.check === 'cap-split' || f.check === 'bend-ride';
    return { kind: 'sum', row: matrix.add(f.restsOn, clipped ? sum : f.value) };
  };
  const place = placeOf(skeleton, f);
  if (f.check === 'relief' && place?.bay.main && place.rib === place.bay.main && model.spars.rear && ((place.end === 'front' && model.stand === 'rear') || (place.end === 'rear' && model.stand === 'front'))) {
    const k = chordGapChain(skeleton, place.bay, place.bay.main, 'straight');
    const bare = reliefChain({ ...skeleton, model: { ...model, stand: 'clamped' } }, place);
    const rim = f.value - best(f.restsOn);
    return { kind: 'relief', row: matrix.add(bare, best(bare) + rim), gap: matrix.add(k, best(k)) };
  }
  if (f.check === 'bend-ride') {
    const d = place?.doublers.find((x) => x.id === f.place);
    if (place && d?.form === 'flat' && d.height !== undefined) {
      const over = flatOverrunChain(skeleton, place);
      return { kind: 'ride', row: matrix.add(over, best(over)), half: d.height / 2, radius: skeleton.book.get(`${place.spar}.radius`).best };
    }
  }
  if (f.check === 'hole-cleanup') {
    const joint = skeleton.jointsAt(f.station ?? '').find((j) => f.place.startsWith(`${j.id} hole `));
    const hole = joint?.holes.find((h) => f.place === `${joint.id} hole ${h.id}`);
    if (joint && hole) {
      const circles = circlesOf(skeleton, joint, hole);
      return {
        kind: 'hole', final: joint.final, radii: circles.map((c) => c.diameter / 2),
        along: circles.map((c) => matrix.add(chainOf(c, 'along'), c.along.best)), up: circles.map((c) => matrix.add(chainOf(c, 'up'), c.up.best)),
      };
    }
  }
  if (f.check === 'seating' && seats) {
    const at = seats.stations.indexOf(f.station ?? '');
    if (at >= 0) return { kind: 'seat', rows: seats.rows, ys: seats.ys, at };
  }
  return plain();
}

interface Seats {
  readonly rows: readonly number[];
  readonly ys: readonly number[];
  readonly stations: readonly string[];
}

function seatsOf(skeleton: Skeleton, matrix: Matrix): Seats | undefined {
  const mains = skeleton.model.spars.rear ? skeleton.bays.filter((b) => b.main) : [];
  if (mains.length < 2) return undefined;
  const rows = mains.map((b) => {
    const k = chordGapChain(skeleton, b, b.main!, 'straight');
    return matrix.add(k, best(k));
  });
  return { rows, ys: mains.map((b) => b.station.y), stations: mains.map((b) => b.station.id) };
}

const BINS = 512;

/** All findings of a panel as one plan for sampling. */
export function samplePlan(model: Model, findings: readonly Finding[] = checkAll(model)): SamplePlan {
  const skeleton = skeletonOf(model);
  const matrix = new Matrix();
  const asked = findings.filter((f) => !NOT_SAMPLED.has(f.check));
  const seats = asked.some((f) => f.check === 'seating') ? seatsOf(skeleton, matrix) : undefined;
  const steps = asked.map((f) => stepOf(skeleton, matrix, f, seats));
  const bounds = new Float64Array(asked.length * 4);
  const bins = new Float64Array(asked.length * 2);
  asked.forEach((f, i) => {
    const { act, fits } = f.limits;
    bounds.set([act[0] ?? Number.NEGATIVE_INFINITY, act[1] ?? Number.POSITIVE_INFINITY, fits[0] ?? Number.NEGATIVE_INFINITY, fits[1] ?? Number.POSITIVE_INFINITY], i * 4);
    const reach = Math.max(6 * f.u, 1e-6);
    bins.set([f.value - reach, (2 * reach) / BINS], i * 2);
  });
  const { causes, sums } = matrix.finish();
  return { causes, sums, ids: asked.map((f) => f.id), steps, bounds, bins, kinks: asked.flatMap((f, i) => (f.check === 'nose-kink' ? [i] : [])), beyondTable: Math.max(0, causes.count - SOBOL_DIMENSIONS) };
}

/** Counts of a run or of a share of one; typed arrays, to be handed over without copying. */
export interface Tally {
  readonly replicates: number;
  readonly samples: Float64Array;
  /** By replicate and finding: samples beyond act, and outside fits. */
  readonly beyond: Uint32Array;
  readonly outside: Uint32Array;
  /** By replicate: samples with nothing beyond act, and with everything inside fits. */
  readonly noneBeyond: Uint32Array;
  readonly allFit: Uint32Array;
  /** By finding: histogram of its value, with what lies under and over. */
  readonly histogram: Uint32Array;
  /** Histogram of the panel's largest kink, mm in steps of 0.01. */
  readonly largestKink: Uint32Array;
}

const KINK_STEP = 0.01;
const KINK_BINS = 1000;

function emptyTally(replicates: number, findings: number, histograms: boolean): Tally {
  return {
    replicates, samples: new Float64Array(replicates), beyond: new Uint32Array(replicates * findings), outside: new Uint32Array(replicates * findings),
    noneBeyond: new Uint32Array(replicates), allFit: new Uint32Array(replicates), histogram: new Uint32Array(histograms ? findings * (BINS + 2) : 0), largestKink: new Uint32Array(KINK_BINS + 1),
  };
}

/** The buffers of a tally, to transfer to another thread. */
export function buffersOf(t: Tally): ArrayBufferLike[] {
  return [t.samples, t.beyond, t.outside, t.noneBeyond, t.allFit, t.histogram, t.largestKink].map((a) => a.buffer);
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
  for (let p = 0; p < n && holds; p++) holds = Math.sqrt((x[p * BLOCK + i]! - cx) ** 2 + (y[p * BLOCK + i]! - cy) ** 2) + radii[p]! <= r + 1e-12;
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
  for (let p = 0; p < n; p++) out[p * BLOCK + i] = Math.max(0, -k[a * BLOCK + i]! + slope * (ys[p]! - ys[a]!) + k[p * BLOCK + i]!);
}

/**
 * Samples a plan block by block. Each step of the generator is one block: give up by not asking for the next. The tally
 * that it returns holds what was counted so far at any time.
 */
export function* sampled(plan: SamplePlan, options: SampleOptions): Generator<{ readonly done: number; readonly of: number; readonly tally: Tally }, Tally> {
  const { seed, points = 4096, replicates = 8, kind = 'sobol', histograms = true, share } = options;
  const { sums, steps, bounds, bins } = plan;
  const count = steps.length;
  const sampler = new Sampler(plan.causes, { seed, points: kind });
  const causes = new Float64Array(plan.causes.count * BLOCK);
  const value = new Float64Array(BLOCK);
  const other = new Float64Array(BLOCK);
  const most = Math.max(1, ...steps.map((s) => (s.kind === 'hole' ? s.radii.length : 1)));
  const [xs, ys] = [new Float64Array(most * BLOCK), new Float64Array(most * BLOCK)];
  const seat = steps.find((s) => s.kind === 'seat');
  const seats = seat?.kind === 'seat' ? seat.rows.length : 0;
  const [ends, resting, corners] = [new Float64Array(seats * BLOCK), new Float64Array(seats * BLOCK), new Int32Array(seats + 1)];
  const [beyondAny, outsideAny] = [new Uint8Array(BLOCK), new Uint8Array(BLOCK)];
  const kink = new Float64Array(BLOCK);
  const isKink = new Uint8Array(count);
  for (const i of plan.kinks) isKink[i] = 1;
  const tally = emptyTally(replicates, count, histograms);
  for (const { replicate, from, n, done, of } of blocksOf({ points, replicates, ...(share ? { share } : {}) })) {
    sampler.fill(causes, replicate, from, n);
    beyondAny.fill(0);
    outsideAny.fill(0);
    kink.fill(0);
    let seated = false;
    for (let f = 0; f < count; f++) {
      const step = steps[f]!;
      if (step.kind === 'sum') sumInto(value, sums, step.row, causes, n);
      else if (step.kind === 'relief') {
        sumInto(value, sums, step.row, causes, n);
        sumInto(other, sums, step.gap, causes, n);
        for (let i = 0; i < n; i++) value[i]! += Math.max(0, other[i]!);
      } else if (step.kind === 'ride') {
        sumInto(other, sums, step.row, causes, n);
        const r = step.radius;
        for (let i = 0; i < n; i++) {
          const o = Math.min(r, Math.max(0, step.half + other[i]!));
          value[i] = r - Math.sqrt(r * r - o * o);
        }
      } else if (step.kind === 'hole') {
        step.along.forEach((row, p) => sumInto(xs.subarray(p * BLOCK), sums, row, causes, n));
        step.up.forEach((row, p) => sumInto(ys.subarray(p * BLOCK), sums, row, causes, n));
        for (let i = 0; i < n; i++) value[i] = step.final / 2 - holding(step.radii.length, xs, ys, step.radii, i);
      } else {
        if (!seated) {
          step.rows.forEach((row, p) => sumInto(ends.subarray(p * BLOCK), sums, row, causes, n));
          for (let i = 0; i < n; i++) restingInto(resting, ends, step.ys, i, corners);
          seated = true;
        }
        value.set(resting.subarray(step.at * BLOCK, step.at * BLOCK + n));
      }
      counted(value, n, f, { bounds, bins, tally, replicate, count, beyondAny, outsideAny });
      if (isKink[f] === 1) for (let i = 0; i < n; i++) kink[i] = Math.max(kink[i]!, Math.abs(value[i]!));
    }
    let [clear, fit] = [0, 0];
    for (let i = 0; i < n; i++) {
      clear += 1 - beyondAny[i]!;
      fit += 1 - outsideAny[i]!;
      if (plan.kinks.length > 0) tally.largestKink[Math.min(KINK_BINS, Math.floor(kink[i]! / KINK_STEP))]!++;
    }
    tally.noneBeyond[replicate]! += clear;
    tally.allFit[replicate]! += fit;
    tally.samples[replicate]! += n;
    yield { done, of, tally };
  }
  return tally;
}

interface Counting {
  readonly bounds: Float64Array;
  readonly bins: Float64Array;
  readonly tally: Tally;
  readonly replicate: number;
  readonly count: number;
  readonly beyondAny: Uint8Array;
  readonly outsideAny: Uint8Array;
}

const NEAR = 1e-9;

function counted(value: Float64Array, n: number, f: number, c: Counting): void {
  const { bounds, tally, beyondAny, outsideAny } = c;
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
    outsideAny[i] = 1;
    if (v < a0 || v > a1) {
      beyond++;
      beyondAny[i] = 1;
    }
  }
  tally.beyond[c.replicate * c.count + f]! += beyond;
  tally.outside[c.replicate * c.count + f]! += outside;
  if (tally.histogram.length === 0) return;
  const [low, width] = [c.bins[2 * f]!, c.bins[2 * f + 1]!];
  const at = f * (BINS + 2);
  for (let i = 0; i < n; i++) tally.histogram[at + Math.min(BINS + 1, Math.max(0, 1 + Math.floor((value[i]! - low) / width)))]!++;
}

/** The counts of several shares of one run, added. */
export function merged(tallies: readonly Tally[]): Tally {
  const first = tallies[0]!;
  const sum = <T extends Uint32Array | Float64Array>(of: (t: Tally) => T): T => {
    const out = of(first).slice() as T;
    for (const t of tallies.slice(1)) of(t).forEach((v, i) => { out[i]! += v; });
    return out;
  };
  return {
    replicates: first.replicates, samples: sum((t) => t.samples), beyond: sum((t) => t.beyond), outside: sum((t) => t.outside), noneBeyond: sum((t) => t.noneBeyond),
    allFit: sum((t) => t.allFit), histogram: sum((t) => t.histogram), largestKink: sum((t) => t.largestKink),
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
  /** Quantiles of a finding's value; undefined where the run kept no histograms. */
  quantile(id: string, p: number): number | undefined;
  /** Quantile of the largest kink of the panel, mm; undefined without kinks. */
  largestKink(p: number): number | undefined;
  readonly sentence: string;
}

function chanceOf(counts: (replicate: number) => number, samples: Float64Array): Chance {
  const rates = [...samples].flatMap((n, r) => (n > 0 ? [counts(r) / n] : []));
  const mean = rates.reduce((a, b) => a + b, 0) / rates.length;
  const error = rates.length > 1 ? Math.sqrt(rates.reduce((s, v) => s + (v - mean) ** 2, 0) / (rates.length - 1) / rates.length) : Number.NaN;
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

const percent = (c: Chance): string => `${(100 * c.chance).toFixed(c.error < 5e-4 ? 1 : 0)} % (± ${(200 * c.error).toFixed(1)})`;

/** What a tally says: chances with their sampling error, quantiles, and one sentence. */
export function sampleAnswer(plan: SamplePlan, tally: Tally): SampleAnswer {
  const count = plan.ids.length;
  const at = new Map(plan.ids.map((id, i) => [id, i]));
  const goesTogether = chanceOf((r) => tally.noneBeyond[r]!, tally.samples);
  const allFit = chanceOf((r) => tally.allFit[r]!, tally.samples);
  const samples = tally.samples.reduce((a, b) => a + b, 0);
  const past = plan.beyondTable > 0 ? ` ${plan.beyondTable} of the least influential sizes are drawn at random.` : '';
  return {
    samples, goesTogether, allFit,
    findings: plan.ids.map((id, f) => ({ id, beyond: chanceOf((r) => tally.beyond[r * count + f]!, tally.samples), outside: chanceOf((r) => tally.outside[r * count + f]!, tally.samples) })),
    quantile(id, p) {
      const f = at.get(id);
      if (f === undefined || tally.histogram.length === 0) return undefined;
      const [low, width] = [plan.bins[2 * f]!, plan.bins[2 * f + 1]!];
      return quantileIn(tally.histogram.subarray(f * (BINS + 2), (f + 1) * (BINS + 2)), low - width, width, p);
    },
    largestKink: (p) => (plan.kinks.length > 0 ? quantileIn(tally.largestKink, 0, KINK_STEP, p) : undefined),
    sentence: `With every size where it may be, the whole skeleton goes together as it is in ${percent(goesTogether)} of ${samples} samples.${past}`,
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
