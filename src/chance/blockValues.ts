import { BLOCK, termsInto } from '../chains/sampling.ts';
import { smallestHolding } from '../geometry/circle.ts';
import type { SamplePlan } from './samplePlan.ts';
import type { SampleStep } from './sampleStep.ts';
import { rowsOfStep } from './wholeChance.ts';

/*
 * The values of findings over a block of samples: sample i of row p of a table is at p × BLOCK + i.
 */

/** What one radius worked out two ways may differ by, mm. */
const ROUNDING = 1e-12;

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
    holds = Math.sqrt((x[p * BLOCK + i]! - cx) ** 2 + (y[p * BLOCK + i]! - cy) ** 2) + radii[p]! <= r + ROUNDING;
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

type StepOf<K extends SampleStep['kind']> = Extract<SampleStep, { readonly kind: K }>;

/** Works out findings' values over a block of samples. */
export class BlockValues {
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
    const step = this.plan.steps[f]!;
    if (step.kind === 'sum') this.row(this.value, step.row, n, held);
    else if (step.kind === 'relief') this.relief(step, n, held);
    else if (step.kind === 'ride') this.ride(step, n, held);
    else if (step.kind === 'hole') this.hole(step, n, held);
    else this.seat(step, n, held);
  }

  /** What the notch clears, and the daylight at the web, which is never negative. */
  private relief({ row, gap }: StepOf<'relief'>, n: number, held: boolean): void {
    const { value, other } = this;
    this.row(value, row, n, held);
    this.row(other, gap, n, held);
    for (let i = 0; i < n; i++) value[i]! += Math.max(0, other[i]!);
  }

  /** How far a flat piece is held off by the bend that it runs into. */
  private ride({ row, half, radius: r }: StepOf<'ride'>, n: number, held: boolean): void {
    const { value, other } = this;
    this.row(other, row, n, held);
    for (let i = 0; i < n; i++) {
      const over = Math.min(r, Math.max(0, half + other[i]!));
      value[i] = r - Math.sqrt(r * r - over * over);
    }
  }

  /** What is left of the final size round the smallest circle that holds every layer's hole. */
  private hole({ along, up, radii, final }: StepOf<'hole'>, n: number, held: boolean): void {
    const { value, xs, ys } = this;
    for (const [p, row] of along.entries()) this.row(xs.subarray(p * BLOCK), row, n, held);
    for (const [p, row] of up.entries()) this.row(ys.subarray(p * BLOCK), row, n, held);
    for (let i = 0; i < n; i++) value[i] = final / 2 - holding(radii.length, xs, ys, radii, i);
  }

  /** Daylight of one seat; all seats are worked out once a block. */
  private seat({ rows, ys, at }: StepOf<'seat'>, n: number, held: boolean): void {
    const way = held ? 1 : 0;
    const resting = this.resting[way]!;
    if (!this.seated[way]) {
      for (const [p, row] of rows.entries()) this.row(this.ends.subarray(p * BLOCK), row, n, held);
      for (let i = 0; i < n; i++) restingInto(resting, this.ends, ys, i, this.corners);
      this.seated[way] = true;
    }
    this.value.set(resting.subarray(at * BLOCK, at * BLOCK + n));
  }

  /** Whether anything of a finding hangs on common errors. */
  rests(f: number): boolean {
    return rowsOfStep(this.plan.steps[f]!).some((row) => this.hasCommon(row));
  }
}
