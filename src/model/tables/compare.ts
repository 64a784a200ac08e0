import { formatAngle, formatLength } from '../../units.ts';
import { mirrorModel } from '../edits/mirror.ts';
import { QUANTITIES } from '../quantities.ts';
import type { Model } from '../schema.ts';
import { isFeeler } from '../sizeEntries.ts';
import { sizeBook } from '../sizes.ts';
import { cellText } from './cells.ts';
import type { CellValue, Column, Row, Table } from './tables.ts';

/*
 * Two panels side by side: this one with its earlier self, with another file, with the other hand's, or one half of a
 * panel in one piece with its other half. The other is mirrored first where the hands differ, so that only what is
 * really unlike is told.
 */

export interface Difference {
  /** What differs: a size of the drawing, a reading, or a part that only one has. */
  readonly kind: 'drawing' | 'reading' | 'part';
  readonly station: string | null;
  /** The part it is about, where it is one part. */
  readonly part?: string | undefined;
  /** Row and column in words. */
  readonly what: string;
  readonly here: string;
  readonly there: string;
  /** here - there in mm or degrees, where both are numbers; and as it is printed, with its unit. */
  readonly by: number | undefined;
  readonly byText?: string;
}

/** The other panel made comparable: mirrored where its hand is the other one. */
export function alike(model: Model, other: Model): { readonly other: Model; readonly mirrored: boolean } {
  const opposite =
    (model.hand === 'left' && other.hand === 'right') || (model.hand === 'right' && other.hand === 'left');
  return opposite ? { other: mirrorModel(other), mirrored: true } : { other, mirrored: false };
}

const SAME = 5e-5;

/**
 * How a kind of value is printed: with how many decimals beyond the usual, and with its sign where it is a
 * difference.
 */
type Print = (v: number, more: number, signed: boolean) => string;

const rounded: Print = (v, _, signed) => `${signed && v > 0 ? '+' : ''}${Math.round(v * 1e6) / 1e6}`;
const inDegrees: Print = (v, more, signed) =>
  formatAngle((v * Math.PI) / 180, { digits: 2 + more, signed }).replace('°', '');
const inLength =
  (units: Model['units']): Print =>
  (v, more, signed) =>
    formatLength(v, units, { unitMark: false, digits: (units === 'in' ? 3 : 2) + more, signed });

/** A kind of column's way of printing, its unit, and the least difference that shows with the usual decimals. */
function wayOf({ units }: Model, kind: string): { print: Print; unit: string; shows: number } {
  if (kind === 'angle') return { print: inDegrees, unit: '°', shows: 0.005 };
  if (kind !== 'length') return { print: rounded, unit: '', shows: 0.005 };
  return { print: inLength(units), unit: ` ${units}`, shows: units === 'in' ? 0.0005 * 25.4 : 0.005 };
}

/**
 * Two numbers and by how much they differ, all with the same decimals: one more where the difference would not show.
 */
function told(
  model: Model,
  a: number | undefined,
  b: number | undefined,
  kind: string,
): Pick<Difference, 'here' | 'there' | 'by' | 'byText'> {
  const { print, unit, shows } = wayOf(model, kind);
  if (a === undefined || b === undefined) {
    const one = (v: number | undefined): string => (v === undefined ? 'not read' : print(v, 0, false));
    return { here: one(a), there: one(b), by: undefined };
  }
  const by = a - b;
  const more = Math.abs(by) < shows ? 1 : 0;
  return {
    here: print(a, more, false),
    there: print(b, more, false),
    by,
    byText: `${print(by, more, true)}${unit}`,
  };
}

/** How large a difference is; words of the drawing are the largest, and what only one has read the least. */
function weight(d: Difference): number {
  if (d.by !== undefined) return Math.abs(d.by);
  return d.kind === 'reading' ? -1 : Infinity;
}

/** The largest difference first, after words that differ in the drawing; what only one has read comes last. */
export const largestFirst = (all: readonly Difference[]): Difference[] =>
  [...all].sort((a, b) => weight(b) - weight(a) || 0);

/** Rows that only one of the panels has. */
function* partDifferences(table: Table, model: Model, other: Model): Generator<Difference> {
  const [rows, theirs] = [table.rows(model), table.rows(other)];
  const only = (list: readonly Row[], others: readonly Row[]): Row[] => {
    const ids = new Set(others.map((r) => r.id));
    return list.filter((r) => !ids.has(r.id));
  };
  const what = (r: Row): string => `${r.name}, of ${table.name}`;
  for (const r of only(rows, theirs))
    yield {
      kind: 'part',
      station: r.station,
      part: r.part,
      what: what(r),
      here: 'there',
      there: 'not there',
      by: undefined,
    };
  for (const r of only(theirs, rows))
    yield { kind: 'part', station: null, what: what(r), here: 'not there', there: 'there', by: undefined };
}

/** One cell that both panels have and that is not the same in both. */
function cellDifference(c: Column, r: Row, model: Model, other: Model): Difference | undefined {
  const [a, b] = [c.read(model, r.id), c.read(other, r.id)];
  if (same(a, b)) return undefined;
  const word = (v: CellValue | undefined): string => cellText(c, model, v) || 'none';
  const values =
    typeof a === 'number' && typeof b === 'number'
      ? told(model, a, b, c.kind)
      : { here: word(a), there: word(b), by: undefined };
  return { kind: 'drawing', station: r.station, part: r.part, what: `${c.name} of ${r.name}`, ...values };
}

function cellDifferences(table: Table, model: Model, other: Model): Difference[] {
  const theirs = new Set(table.rows(other).map((r) => r.id));
  const rows = table.rows(model).filter((r) => theirs.has(r.id));
  const columns = table.columns(model).filter((c) => c.write);
  return columns.flatMap((c) => rows.flatMap((r) => cellDifference(c, r, model, other) ?? []));
}

/** Every cell that differs, table by table, in the order of the first panel. */
export function differencesOf(tables: readonly Table[], model: Model, against: Model): Difference[] {
  const { other } = alike(model, against);
  return [
    ...tables.flatMap((t) => [...partDifferences(t, model, other), ...cellDifferences(t, model, other)]),
    ...readingDifferences(model, other),
  ];
}

const same = (a: CellValue | undefined, b: CellValue | undefined): boolean =>
  a === b || (typeof a === 'number' && typeof b === 'number' && Math.abs(a - b) < SAME);

/** Sizes that were read in either and are not the same in both; what only one has read is told as such. */
function readingDifferences(model: Model, other: Model): Difference[] {
  const [a, b] = [sizeBook(model), sizeBook(other)];
  const keys = [...a.entries.keys()].filter((k) => a.readingsOf(k).length > 0 || b.readingsOf(k).length > 0);
  return keys.flatMap((key): Difference[] => {
    const read = [a, b].map((book) => (book.readingsOf(key).length > 0 ? book.find(key)?.best : undefined));
    const [x, y] = read;
    if (same(x, y)) return [];
    const entry = a.entries.get(key);
    return [
      {
        kind: 'reading',
        station: entry?.station ?? null,
        part: isFeeler(entry) ? undefined : other.ribs.find((r) => r.id === entry?.of.part)?.id,
        what: entry?.name ?? key,
        ...told(model, x, y, entry && QUANTITIES[entry.kind].unit === 'deg' ? 'angle' : 'length'),
      },
    ];
  });
}
