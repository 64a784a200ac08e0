import { chance } from '../chains/normal.ts';
import { NEAR } from '../units/near.ts';
import type { SampleStep } from './sampleStep.ts';

/*
 * Asks: how likely does the whole skeleton go together? Counting whole samples, yes or no, wastes what is known: two
 * rib ends that share nothing fail independently of each other. So findings are gathered into clusters that share no
 * size but a few small common errors (a sheet's thickness, a tape's scale). Those are held for a block of samples,
 * each cluster's chance is counted over the block by itself, and the block's chance of the whole is their product.
 * Every cause of every cluster is shifted by itself, so given the common errors the clusters' counts are independent
 * and the product is unbiased; and each cluster is a question of few dimensions, which low-discrepancy points answer
 * far better.
 */

/** Findings gathered for the chance of the whole. Plain data, for it goes to a worker. */
export interface Clusters {
  /** Findings, cluster by cluster; last those that surely fit and need not be asked about the whole. */
  readonly order: Int32Array;
  /** Where each cluster starts in `order`, and where the last one ends. */
  readonly start: Int32Array;
  /** By row: where among its terms the common errors start; its own come first. */
  readonly split: Int32Array;
}

/** A row's terms: cause and weight. */
export interface RowTerms {
  readonly terms: readonly (readonly [cause: number, weight: number])[];
}

/**
 * A common error may carry at most this share of the variance of a row that is in doubt: picked, so that a block's
 * one value of it is no loss.
 */
const MOST_SHARE = 0.15;

/** Fewest rows for an error to be common. */
const FEWEST_ROWS = 4;

/** A finding less likely outside its limits than this surely fits. */
const SURELY = 1e-9;

/** Chance that a normal value lies outside a band. */
export function outside(value: number, u: number, a: number, b: number): number {
  if (!(u > 0)) return value >= a - NEAR && value <= b + NEAR ? 0 : 1;
  return 1 - chance((b - value) / u) + chance((a - value) / u);
}

/** Every row that a step reads. */
export function rowsOfStep(step: SampleStep): readonly number[] {
  if (step.kind === 'sum' || step.kind === 'ride') return [step.row];
  if (step.kind === 'relief') return [step.row, step.gap];
  return step.kind === 'hole' ? [...step.along, ...step.up] : step.rows;
}

/**
 * Causes that enter many rows and weigh little wherever something is in doubt. `risk` is by step the chance of being
 * outside fits.
 */
export function commonCauses(
  rows: readonly RowTerms[],
  steps: readonly SampleStep[],
  risk: readonly number[],
  count: number,
): Uint8Array {
  const uses = new Int32Array(count);
  const most = new Float64Array(count);
  steps.forEach((step, f) => {
    const doubtful = Math.min(risk[f]!, 1 - risk[f]!) > 1e-6;
    for (const r of rowsOfStep(step)) {
      const { terms } = rows[r]!;
      const v = terms.reduce((sum, [, w]) => sum + w * w, 0);
      for (const [k, w] of terms) {
        uses[k]!++;
        if (doubtful) most[k] = Math.max(most[k]!, (w * w) / v);
      }
    }
  });
  return Uint8Array.from(uses, (n, k) => (n >= FEWEST_ROWS && most[k]! <= MOST_SHARE ? 1 : 0));
}

/** The cluster of each step and of each cause, -1 for steps that surely fit and for common causes. */
export function clustered(
  rows: readonly RowTerms[],
  steps: readonly SampleStep[],
  risk: readonly number[],
  common: Uint8Array,
): { steps: Int32Array; causes: Int32Array; count: number } {
  const parent = Int32Array.from(common, (_, k) => k);
  const top = (k: number): number => {
    let t = k;
    while (parent[t] !== t) {
      parent[t] = parent[parent[t]!]!;
      t = parent[t]!;
    }
    return t;
  };
  const asked = steps.map((step, f) => step.kind !== 'sum' || risk[f]! > SURELY);
  const own = steps.map((step) =>
    rowsOfStep(step).flatMap((r) => rows[r]!.terms.flatMap(([k]) => (common[k] ? [] : [k]))),
  );
  own.forEach((causes, f) => {
    if (asked[f]) for (const k of causes) parent[top(k)] = top(causes[0]!);
  });
  const numbers = new Map<number, number>();
  const number = (t: number): number => {
    const n = numbers.get(t) ?? numbers.size;
    numbers.set(t, n);
    return n;
  };
  const ofStep = Int32Array.from(steps, (_, f) =>
    !asked[f] ? -1 : number(own[f]!.length > 0 ? top(own[f]![0]!) : -1 - f),
  );
  const ofCause = Int32Array.from(common, (c, k) => (c ? -1 : number(top(k))));
  return { steps: ofStep, causes: ofCause, count: numbers.size };
}
