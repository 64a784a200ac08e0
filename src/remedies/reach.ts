import { checkAll } from '../checks/checkAll.ts';
import type { CheckId, Finding } from '../checks/finding.ts';
import type { Limit } from '../model/limits.ts';
import { keptWhole } from '../model/rested.ts';
import type { Model } from '../model/schema.ts';
import { NEAR } from '../units/near.ts';
import { isDisputed } from './disputed.ts';

/*
 * How far does a finding reach into its limits, by its best value? 0 at home, 1 where "fits" ends, 2 where "act"
 * begins. The search for the least work looks at best values: doubt is taken away by measuring, not by metal. Beyond
 * 2 a finding is at act, or more likely than not; between 1 and 2 its place is "watch", however well it is known.
 */

type Bands = Pick<Limit, 'fits' | 'act'>;

/**
 * Past the end of fits by `past`, act lying `width` further: over 1, at 2 where act begins, and on at the same rate.
 */
function reachPast(past: number, width: number): number {
  if (width === Number.POSITIVE_INFINITY) return 2 - 1 / (1 + past);
  if (width < NEAR) return 2 + past;
  const reach = 1 + past / width;
  return past <= width + NEAR ? Math.min(2, reach) : reach;
}

/**
 * One side of home, `v` mm out: fits ends at `fits`, act begins at `act`; both open means nothing is ever wrong
 * there.
 */
function sideReach(v: number, fits: number | null, act: number | null): number {
  const end = fits ?? act;
  if (v < 0 || end === null) return 0;
  if (v > end + NEAR) return reachPast(v - end, Math.max(0, (act ?? Number.POSITIVE_INFINITY) - end));
  return end > 0 ? Math.min(1, v / end) : 0;
}

/**
 * One side of a band that does not hold zero: home anywhere inside fits. `past` is counted outwards from a threshold.
 */
function outsideReach(past: (threshold: number) => number, fits: number | null, act: number | null): number {
  const end = fits ?? act;
  if (end === null || past(end) <= NEAR) return 0;
  return reachPast(past(end), act === null ? Number.POSITIVE_INFINITY : past(end) - past(act));
}

const negated = (bound: number | null): number | null => (bound === null ? null : -bound);

/**
 * Reach of a value. Home is zero where fits holds it; for a band that does not (relief at least 0.5 mm, grip 1.6 to
 * 3.2 mm) anywhere inside fits is home.
 *
 * @example cap gap, fits -0.05 to 0.20, act -0.10 and 0.50: +0.38 reaches 1.6, -0.32 reaches 5.4
 */
export function reachOf(value: number, { fits: [low, high], act: [under, over] }: Bands): number {
  const holdsZero = (low === null || low <= 0) && (high === null || high >= 0);
  if (holdsZero) return Math.max(sideReach(value, high, over), sideReach(-value, negated(low), negated(under)));
  const above = outsideReach((threshold) => value - threshold, high, over);
  const below = outsideReach((threshold) => threshold - value, low, under);
  return Math.max(above, below);
}

/** 0 inside fits, 1 between fits and act, 2 beyond act. */
export type Level = 0 | 1 | 2;

export function levelOf(reach: number): Level {
  if (reach > 2) return 2;
  return reach > 1 ? 1 : 0;
}

/** What findings were before anything was done, by id: those that are to be measured first, with their reach. */
export type Before = ReadonlyMap<string, number>;

/**
 * Findings of a panel that no reading speaks for, or whose readings disagree. No metal is cut for these; they are to
 * be measured.
 */
export const measureFirst: (model: Model) => Before = keptWhole((model) => {
  const first = checkAll(model).filter((f) => (f.basis === 'drawing' && f.u > 0) || isDisputed(model, f));
  return new Map(first.map((f) => [f.id, reachOf(f.value, f.limits)]));
});

/** Questions about the readings themselves: settled by measuring again, never by metal. */
const OF_READINGS: ReadonlySet<CheckId> = new Set<CheckId>(['disagreement', 'temperature']);

/**
 * Whether a finding counts: not where it asks about readings, nor where it is to be measured first and is no worse
 * than it was.
 */
export function counts({ id, check }: Pick<Finding, 'id' | 'check'>, reach: number, before: Before): boolean {
  if (OF_READINGS.has(check)) return false;
  const was = before.get(id);
  return was === undefined || reach > was + 1e-6;
}

/** What a finding is counted by. */
export type Counted = Pick<Finding, 'id' | 'check' | 'value' | 'limits'>;

/** Level of a finding by its best value; 0 where it does not count. */
export function levelIn(f: Counted, before: Before): Level {
  const reach = reachOf(f.value, f.limits);
  return counts(f, reach, before) ? levelOf(reach) : 0;
}

/** What some findings leave, by best values. */
export interface Left {
  /** Findings beyond act. */
  readonly beyond: number;
  /** Findings between fits and act. */
  readonly outside: number;
  /** Sum of squared reaches, each no more than 3: how well in the middle all lies; tells equals apart. */
  readonly off: number;
}

/** What the findings that count leave. */
export function leftBy(findings: Iterable<Counted>, before: Before): Left {
  let [beyond, outside, off] = [0, 0, 0];
  for (const f of findings) {
    const reach = reachOf(f.value, f.limits);
    if (!counts(f, reach, before)) continue;
    const level = levelOf(reach);
    if (level === 2) beyond++;
    if (level === 1) outside++;
    off += Math.min(reach, 3) ** 2;
  }
  return { beyond, outside, off };
}
