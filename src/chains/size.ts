import { NEAR } from '../units/near.ts';

/** Where the best value of a Size comes from. A drawing value is not a measurement and must look different. */
export type Origin = 'drawing' | 'stock' | 'measured';

/**
 * Why what was read of it is not to be taken for read: stale, read before something moved it; predicted, worked out
 * from work that was done and not read since; asked, read far off what its neighbours say and not confirmed.
 */
export type Aged = 'stale' | 'predicted' | 'asked';

/** A part of an uncertainty that other Sizes share: one tape's scale error, one sheet. Signed, per unit of the Size. */
export interface SharedError {
  readonly source: string;
  readonly u: number;
}

/**
 * What is known of one dimension: best value, standard uncertainty, drawing tolerance, and from what.
 *
 * Millimetres (degrees for angles that come from a level). One physical thing is one Size, known by its `key`,
 * wherever it appears; so both legs of a channel bent from one sheet move together.
 *
 * @example `{ key: 'M2.front.height', name: 'height of M2, front end', best: 83.35, u: 0.08, tolerance: 0.16, origin: 'measured' }`
 */
export interface Size {
  readonly key: string;
  readonly name: string;
  readonly best: number;
  /** One standard uncertainty, shared parts included. */
  readonly u: number;
  /** ± half-width used for the worst case: the drawing's, or 2u of a reading. */
  readonly tolerance: number;
  readonly origin: Origin;
  readonly aged?: Aged;
  /** What is asked about its reading, in a sentence, where it is. */
  readonly asked?: string;
  readonly shared?: readonly SharedError[];
}

/** Whether two Sizes say the same, to the last figure; two that are not there do. */
export function sameSize(a: Size | undefined, b: Size | undefined): boolean {
  if (a === b) return true;
  if (a === undefined || b === undefined) return false;
  return (
    a.best === b.best &&
    a.u === b.u &&
    a.tolerance === b.tolerance &&
    a.origin === b.origin &&
    a.aged === b.aged &&
    a.asked === b.asked &&
    a.key === b.key &&
    a.name === b.name &&
    sameShared(a.shared ?? NONE, b.shared ?? NONE)
  );
}

const NONE: readonly SharedError[] = [];

function sameShared(a: readonly SharedError[], b: readonly SharedError[]): boolean {
  return a.length === b.length && a.every((s, i) => s.source === b[i]?.source && s.u === b[i]?.u);
}

/** Rectangular ±T to one standard uncertainty, T/√3 (JCGM 100:2008, 4.3.7). `rectangular(0.3)` = 0.1732. */
export function rectangular(tolerance: number): number {
  return tolerance / Math.sqrt(3);
}

/** Whether a Size's doubt is flat: a drawing's or a stock's ±T is (JCGM 100:2008, 4.3.7), anything read is normal. */
export const isFlat = (size: Size): boolean =>
  size.origin !== 'measured' && Math.abs(size.u * Math.sqrt(3) - size.tolerance) < NEAR;

/** A Size known only from its drawing or stock: best is nominal, ±T is rectangular. */
export function fromDrawing(
  key: string,
  name: string,
  nominal: number,
  tolerance: number,
  origin: 'drawing' | 'stock' = 'drawing',
): Size {
  return { key, name, best: nominal, u: rectangular(tolerance), tolerance, origin };
}

/**
 * A Size from n readings with one instrument: the mean, and u² = s²/n + u_instrument² (JCGM 100:2008, 4.2.3 and 5.1.2).
 * One reading has no spread of its own; the instrument's u is all there is.
 */
export function fromReadings(key: string, name: string, readings: readonly number[], uInstrument: number): Size {
  const n = readings.length;
  if (n === 0) throw new RangeError(`${key}: a measured size needs at least one reading`);
  let sum = 0;
  for (const r of readings) sum += r;
  const best = sum / n;
  let squares = 0;
  for (const r of readings) squares += (r - best) ** 2;
  const typeA = n > 1 ? squares / (n - 1) / n : 0;
  const u = Math.sqrt(typeA + uInstrument ** 2);
  return { key, name, best, u, tolerance: 2 * u, origin: 'measured' };
}

/** Readings of one size with one instrument: its own uncertainty and, where it has one, its relative scale error. */
export interface InstrumentReadings {
  readonly instrument: string;
  readonly values: readonly number[];
  /** Standard uncertainty of one reading. */
  readonly u: number;
  /** Relative scale error of the instrument, one standard uncertainty, shared by all it reads. */
  readonly scale?: number | undefined;
}

/**
 * A Size from readings with one or several instruments: each instrument's mean, weighted by 1/u² (JCGM 100:2008, 4.2.3
 * and 5.1.2 for each mean). A scale error counts in the weights and stays shared with all else that instrument read.
 *
 * @example 262.50 by rule (0.25) and 262.60 by caliper (0.10): weights 16 and 100, 262.586 ± 0.093
 */
export function fromInstruments(key: string, name: string, groups: readonly InstrumentReadings[]): Size {
  const means = groups.map((g) => {
    const size = fromReadings(key, name, g.values, g.u);
    const scale = (g.scale ?? 0) * size.best;
    return { size, scale, source: g.instrument, weight: 1 / Math.max(size.u ** 2 + scale ** 2, 1e-24) };
  });
  const first = means[0];
  if (!first) throw new RangeError(`${key}: a measured size needs at least one reading`);
  if (means.length === 1 && first.scale === 0) return first.size;
  let total = 0;
  for (const m of means) total += m.weight;
  let best = 0;
  let own = 0;
  const shared: SharedError[] = [];
  for (const m of means) {
    const w = m.weight / total;
    best += w * m.size.best;
    own += (w * m.size.u) ** 2;
    if (m.scale !== 0) shared.push({ source: m.source, u: w * m.scale });
  }
  if (means.length === 1) best = first.size.best;
  let variance = own;
  for (const s of shared) variance += s.u ** 2;
  const u = Math.sqrt(variance);
  return { key, name, best, u, tolerance: 2 * u, origin: 'measured', ...(shared.length > 0 ? { shared } : {}) };
}

/** A Size taken as known exactly: a setting, or the zero of a state such as "held straight". */
export function exact(key: string, name: string, value: number, origin: Origin = 'drawing'): Size {
  return { key, name, best: value, u: 0, tolerance: 0, origin };
}
