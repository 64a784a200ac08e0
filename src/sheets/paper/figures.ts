import type { Chain } from '../../chains/chain.ts';
import type { Size } from '../../chains/size.ts';
import { basisOfSize } from '../../checks/basis.ts';
import { show } from '../../checks/describe.ts';
import type { Limit } from '../../model/limits.ts';
import { INSTRUMENTS } from '../../model/quantities.ts';
import type { Model, Reading } from '../../model/schema.ts';
import { sizeBook } from '../../model/sizes.ts';
import { formatAngle, formatLength } from '../../units.ts';
import type { Cell } from './table.ts';

/*
 * Numbers as tables hold them: in the panel's unit, the unit itself said once in the column's head.
 */

/** A length without its unit mark: `0.32`, or `0.013` where the panel is in inches. */
export const figure = (model: Model, mm: number): string => formatLength(mm, model.units, { unitMark: false });

/** The same with its sign: `+0.32`. */
export const signedFigure = (model: Model, mm: number): string =>
  formatLength(mm, model.units, { unitMark: false, signed: true });

/** A size as a table holds it, with the mark of what it rests on; a blank to write in where it is not known. */
export const sizeCell = (
  model: Model,
  size: Size | undefined,
  printed: (v: number) => string = (v) => figure(model, v),
): Cell => (size ? { text: printed(size.best), basis: basisOfSize(size) } : { blank: true });

/** A twist in words, for nobody agrees on its sign: `0.33° nose down`, `level`. */
export function nose(degrees: number): string {
  const text = formatAngle((Math.abs(degrees) * Math.PI) / 180);
  return text === '0.00°' ? 'level' : `${text} nose ${degrees < 0 ? 'down' : 'up'}`;
}

/** A limit as a person would say it: `fits -0.05 to 0.20 mm, act beyond -0.10 or 0.50 mm`. */
export function limitText(model: Model, limit: Limit): string {
  const said = (v: number): string => show(model, v, limit.unit);
  return [bandText(limit.fits, said, FITS), bandText(limit.act, said, ACT)].filter(Boolean).join('; ');
}

/** How a band is said by the bounds it has. A band alike on both sides of nothing is said by its upper bound alone. */
interface BandWords {
  readonly from: (low: string) => string;
  readonly upTo: (high: string) => string;
  readonly both: (low: string, high: string) => string;
}

const FITS: BandWords = {
  from: (low) => `fits ${low} and up`,
  upTo: (high) => `fits to ${high}`,
  both: (low, high) => `fits ${low} to ${high}`,
};
const ACT: BandWords = {
  from: (low) => `act under ${low}`,
  upTo: (high) => `act over ${high}`,
  both: (low, high) => `act under ${low} or over ${high}`,
};

function bandText([low, high]: Limit['fits'], said: (v: number) => string, words: BandWords): string {
  if (high === null) return low === null ? '' : words.from(said(low));
  if (low === null || low === -high) return words.upTo(said(high));
  return words.both(said(low), said(high));
}

/** The readings that a chain rests on: with what, and on which days. */
export function readWith(model: Model, chain: Chain): { readonly instruments: string; readonly days: string } {
  const book = sizeBook(model);
  const readings: readonly Reading[] = chain.flatMap((t) => book.readingsOf(t.size.key));
  const each = (list: readonly string[]): string[] => [...new Set(list)].sort();
  return {
    instruments: each(readings.map((r) => INSTRUMENTS[r.instrument] ?? r.instrument)).join(', '),
    days: each(readings.flatMap((r) => (r.date ? [r.date] : []))).join(', '),
  };
}
