import { best, type Chain } from '../chains/chain.ts';
import { type SampledCauses, SOBOL_DIMENSIONS, type Sums } from '../chains/sampling.ts';
import { isFlat, type Size } from '../chains/size.ts';
import { errorCausesOf } from '../chains/update.ts';
import { placeAt } from '../checks/at.ts';
import { checkAll } from '../checks/checkAll.ts';
import type { Finding } from '../checks/finding.ts';
import { flatOverrunChain } from '../checks/fit/bendRide.ts';
import { reliefChain } from '../checks/fit/corners.ts';
import { chainOf, circlesOf } from '../checks/holes/cleanUpDrill.ts';
import { checkRow } from '../model/checkTable.ts';
import type { Model } from '../model/schema.ts';
import type { Skeleton } from '../parts/layout/layout.ts';
import { chordGapChain } from '../parts/layout/meeting.ts';
import { skeletonOf } from '../parts/layout/skeleton.ts';
import type { SampleStep } from './sampleStep.ts';
import { type Clusters, clustered, commonCauses, outside } from './wholeChance.ts';

/*
 * Asks: with every size where it may really be, all at once, how likely is each finding beyond its limit, and how
 * likely does the whole skeleton fit? Every chain becomes one row of a sparse matrix over independent causes, so that
 * one sheet moves everything cut from it. Findings that are no plain sum are worked out from their rows for each
 * sample: daylight at a relief that is never negative, the smallest circle round a hole's layers, the spar resting on
 * the longest ribs, a plate riding on a bend; and, over the whole panel, the largest kink and the largest needed
 * drill.
 */

/** Everything a sampling run needs; plain data and typed arrays. */
export interface SamplePlan {
  readonly causes: SampledCauses;
  readonly sums: Sums;
  readonly ids: readonly string[];
  /** 1 for each finding that must be acted on anyway. */
  readonly acts: Uint8Array;
  readonly steps: readonly SampleStep[];
  /** Lower and upper bound of act and of fits for each finding; ±Infinity where open. */
  readonly bounds: Float64Array;
  /** Where each finding's histogram starts and how wide a bin is. */
  readonly bins: Float64Array;
  /** Places in `ids` of kinks and of hole clean-ups, for the largest of them. */
  readonly kinks: readonly number[];
  /** Findings that share nothing but small common errors, apart. */
  readonly clusters: Clusters;
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
      for (const cause of errorCausesOf(t.size)) {
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
      this.even.push(source === `own ${size.key}` && isFlat(size));
    }
    return k;
  }

  /**
   * Normal causes that enter every row in one and the same proportion act as one: their sum is normal too. Taken
   * together exactly, they leave fewer dimensions to fill.
   */
  private together(): void {
    const columns = new Map<number, [number, number][]>();
    for (const [i, { terms }] of this.rows.entries()) {
      for (const [k, w] of terms) {
        const had = columns.get(k);
        if (had) had.push([i, w]);
        else columns.set(k, [[i, w]]);
      }
    }
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
    for (const r of this.rows)
      r.terms = r.terms.flatMap(([k, w]): [number, number][] => (scale.has(k) ? [[k, w * scale.get(k)!]] : []));
    const kept = [...scale.keys()];
    const place = new Map(kept.map((k, i) => [k, i]));
    for (const r of this.rows) r.terms = r.terms.map(([k, w]) => [place.get(k)!, w]);
    const even = kept.map((k) => this.even[k]!);
    this.even.length = 0;
    this.even.push(...even);
  }

  /** The rows as arrays, causes that always go together taken as one. */
  finish(): Rows {
    this.together();
    return { rows: this.rows, even: this.even };
  }
}

interface Rows {
  readonly rows: readonly { readonly base: number; readonly terms: readonly (readonly [number, number])[] }[];
  readonly even: readonly boolean[];
}

/**
 * Rows over numbered causes, for a given set of findings: common errors first, then cluster by cluster, in each the
 * most influential first. Each cluster takes its Sobol dimensions from where those of the common errors end.
 */
function arranged(
  { rows, even }: Rows,
  steps: readonly SampleStep[],
  risk: readonly number[],
): Pick<SamplePlan, 'causes' | 'sums' | 'clusters' | 'beyondTable'> {
  const weight = new Float64Array(even.length);
  for (const { terms } of rows) {
    const v = terms.reduce((sum, [, w]) => sum + w * w, 0);
    if (v > 0) for (const [k, w] of terms) weight[k]! += (w * w) / v;
  }
  const common = commonCauses(rows, steps, risk, even.length);
  const cluster = clustered(rows, steps, risk, common);
  const order = [...weight.keys()].sort(
    (a, b) => cluster.causes[a]! - cluster.causes[b]! || weight[b]! - weight[a]! || a - b,
  );
  const place = new Int32Array(order.length);
  const dimension = new Int32Array(order.length);
  const shared = common.reduce((n, c) => n + c, 0);
  let past = 0;
  order.forEach((k, i) => {
    place[k] = i;
    const same = i > 0 && cluster.causes[order[i - 1]!] === cluster.causes[k];
    const first = i < shared ? 0 : shared;
    past = same ? past + 1 : first;
    dimension[i] = past < SOBOL_DIMENSIONS ? past : -1;
  });
  const start = new Int32Array(rows.length + 1);
  rows.forEach((r, i) => {
    start[i + 1] = start[i]! + r.terms.length;
  });
  const cause = new Int32Array(start[rows.length]!);
  const weights = new Float64Array(cause.length);
  const split = new Int32Array(rows.length);
  rows.forEach((r, i) => {
    const own = r.terms.filter(([k]) => !common[k]);
    split[i] = start[i]! + own.length;
    [...own, ...r.terms.filter(([k]) => common[k])].forEach(([k, w], j) => {
      cause[start[i]! + j] = place[k]!;
      weights[start[i]! + j] = w;
    });
  });
  const last = cluster.count;
  const at = (f: number): number => (cluster.steps[f]! < 0 ? last : cluster.steps[f]!);
  const asked = [...steps.keys()].sort((a, b) => at(a) - at(b) || a - b);
  const starts = [0];
  asked.forEach((f, i) => {
    if (at(f) < last && (i === 0 || at(f) !== at(asked[i - 1]!)) && i > 0) starts.push(i);
  });
  starts.push(asked.filter((f) => at(f) < last).length);
  return {
    causes: { count: order.length, rectangular: Uint8Array.from(order, (k) => (even[k] ? 1 : 0)), dimension },
    sums: { outputs: rows.length, start, cause, weight: weights, base: Float64Array.from(rows, (r) => r.base) },
    clusters: { order: Int32Array.from(asked), start: Int32Array.from(starts), split },
    beyondTable: dimension.reduce((n, d) => n + (d < 0 ? 1 : 0), 0),
  };
}

/** A check whose value is no plain sum of its chain: its step; undefined where at this place it is one. */
type Stepped = (skeleton: Skeleton, matrix: Matrix, f: Finding, seats: Seats | undefined) => SampleStep | undefined;

/** The end of a main rib that stands free, by which web it stands home against. */
const FREE_END = { rear: 'front', front: 'rear', clamped: undefined } as const;

/** At a free end the notch clears by the chord gap too, and that is never negative. */
const relief: Stepped = (skeleton, matrix, f) => {
  const { model } = skeleton;
  const place = placeAt(skeleton, f.at);
  const main = place?.bay.main;
  if (!place || !main || place.rib !== main || !model.spars.rear || place.end !== FREE_END[model.stand])
    return undefined;
  const k = chordGapChain(skeleton, place.bay, main, 'straight');
  const bare = reliefChain({ ...skeleton, model: { ...model, stand: 'clamped' } }, place);
  const rim = f.value - best(f.restsOn);
  return { kind: 'relief', row: matrix.add(bare, best(bare) + rim), gap: matrix.add(k, best(k)) };
};

/** A flat piece rides by how far it runs into the spar's bend. */
const ride: Stepped = (skeleton, matrix, f) => {
  const place = placeAt(skeleton, f.at);
  const d = place?.doublers.find((x) => x.id === f.at.doubler);
  if (!place || d?.form !== 'flat' || d.height === undefined) return undefined;
  const over = flatOverrunChain(skeleton, place);
  const radius = skeleton.book.get(`${place.spar}.radius`).best;
  return { kind: 'ride', row: matrix.add(over, best(over)), half: d.height / 2, radius };
};

const hole: Stepped = (skeleton, matrix, f) => {
  const joint = skeleton.jointsAt(f.station ?? '').find((j) => j.id === f.at.joint);
  const own = joint?.holes.find((h) => h.id === f.at.hole);
  if (!joint || !own) return undefined;
  const circles = circlesOf(skeleton, joint, own);
  return {
    kind: 'hole',
    final: joint.final,
    radii: circles.map((c) => c.diameter / 2),
    along: circles.map((c) => matrix.add(chainOf(c, 'along'), c.along.best)),
    up: circles.map((c) => matrix.add(chainOf(c, 'up'), c.up.best)),
  };
};

const seat: Stepped = (_, __, f, seats) => {
  const at = seats?.stations.indexOf(f.station ?? '') ?? -1;
  return seats && at >= 0 ? { kind: 'seat', rows: seats.rows, ys: seats.ys, at } : undefined;
};

const STEPPED = { relief, ride, hole, seat } as const;

/** The step by the check's row in the table; where a value is held at the least it can be, what is sampled is not. */
function stepOf(skeleton: Skeleton, matrix: Matrix, f: Finding, seats: Seats | undefined): SampleStep {
  const { sampled } = checkRow(f.check);
  const own = sampled && sampled !== 'not' ? STEPPED[sampled](skeleton, matrix, f, seats) : undefined;
  return own ?? { kind: 'sum', row: matrix.add(f.restsOn, f.below ?? f.value) };
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

/** Bins of a finding's histogram. */
export const BINS = 512;

/** How likely each finding is outside its fits band, by the normal its histogram is centred on. */
function risks(plan: Pick<SamplePlan, 'ids' | 'bins' | 'bounds'>): number[] {
  return plan.ids.map((_, i) => {
    const reach = (plan.bins[2 * i + 1]! * BINS) / 2;
    return outside(plan.bins[2 * i]! + reach, reach / 6, plan.bounds[4 * i + 2]!, plan.bounds[4 * i + 3]!);
  });
}

/** A plan for some of the findings of another, or for other bounds. */
export function rearranged(
  plan: SamplePlan,
  change: Partial<Pick<SamplePlan, 'ids' | 'acts' | 'steps' | 'bounds' | 'bins' | 'kinks'>>,
): SamplePlan {
  const next = { ...plan, ...change };
  const { causes, sums } = plan;
  const rows = Array.from({ length: sums.outputs }, (_, o) => ({
    base: sums.base[o]!,
    terms: Array.from({ length: sums.start[o + 1]! - sums.start[o]! }, (__, j): [number, number] => [
      sums.cause[sums.start[o]! + j]!,
      sums.weight[sums.start[o]! + j]!,
    ]),
  }));
  return {
    ...next,
    ...arranged({ rows, even: Array.from(causes.rectangular, (r) => r === 1) }, next.steps, risks(next)),
  };
}

/** All findings of a panel as one plan for sampling. */
export function samplePlan(model: Model, findings: readonly Finding[] = checkAll(model)): SamplePlan {
  const skeleton = skeletonOf(model);
  const matrix = new Matrix();
  const asked = findings.filter((f) => checkRow(f.check).sampled !== 'not');
  const seats = asked.some((f) => checkRow(f.check).sampled === 'seat') ? seatsOf(skeleton, matrix) : undefined;
  const steps = asked.map((f) => stepOf(skeleton, matrix, f, seats));
  const bounds = new Float64Array(asked.length * 4);
  const bins = new Float64Array(asked.length * 2);
  asked.forEach((f, i) => {
    const { act, fits } = f.limits;
    bounds.set(
      [
        act[0] ?? Number.NEGATIVE_INFINITY,
        act[1] ?? Number.POSITIVE_INFINITY,
        fits[0] ?? Number.NEGATIVE_INFINITY,
        fits[1] ?? Number.POSITIVE_INFINITY,
      ],
      i * 4,
    );
    const reach = Math.max(6 * f.u, 1e-6);
    bins.set([f.value - reach, (2 * reach) / BINS], i * 2);
  });
  const plan = {
    ids: asked.map((f) => f.id),
    acts: Uint8Array.from(asked, (f) => (f.verdict === 'act' ? 1 : 0)),
    steps,
    bounds,
    bins,
    kinks: asked.flatMap((f, i) => (f.check === 'nose-kink' ? [i] : [])),
  };
  return { ...plan, ...arranged(matrix.finish(), steps, risks(plan)) };
}
