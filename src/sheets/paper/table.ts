import type { Align, Ink } from './page.ts';
import { line, rectangle } from './path.ts';
import { LEAST_SIZE, leadOf, linesHeight, riseOf, textWidth, wrap } from './type.ts';

/*
 * A table on paper: columns as wide as they need, rows that break between lines, hairlines between rows.
 */

/** What stands in one place of a table. */
export type Cell =
  | string
  | { readonly text: string; readonly bold?: boolean }
  /** A square to tick. */
  | { readonly tick: true }
  /** A blank to fill in by pencil. */
  | { readonly blank: true };

export interface Column {
  readonly head: string;
  readonly align?: Align;
  /** Least width, mm: a blank to write in. */
  readonly least?: number;
  /** Its text may break into lines; else the column is as wide as its widest text. */
  readonly breaks?: boolean;
}

/** A row that runs over all columns: what the rows under it have in common. It never stands alone at a page's foot. */
export interface Across {
  readonly across: string;
  readonly bold?: boolean;
  /** On a light band, as the start of something. */
  readonly band?: boolean;
}

export type Row = readonly Cell[] | Across;

export interface Table {
  readonly columns: readonly Column[];
  readonly rows: readonly Row[];
  /** Kept on one page where a page holds it all. */
  readonly whole?: true;
  /** Points; 10 unless told. */
  readonly size?: number;
  /** Least height of a row, mm: room to write. */
  readonly rowHeight?: number;
}

/** Between a column's text and its edge, and above and below a row's text. */
const SIDE = 1.1;
/** More before a text that begins where a figure ended. */
const AFTER_FIGURE = 2.5;
const OVER = 0.9;
const TICK = 4;
/** A longer word than this in a column that breaks is cut, mm. */
const MOST_WORD = 40;

interface Laid {
  readonly lines: readonly string[];
  readonly bold: boolean;
  readonly cell: Cell;
}
export interface LaidRow {
  readonly cells: readonly Laid[];
  readonly height: number;
  readonly head: boolean;
  /** Runs over all columns. */
  readonly across: boolean;
  readonly band: boolean;
}
export interface LaidTable {
  readonly widths: readonly number[];
  readonly head: LaidRow;
  readonly rows: readonly LaidRow[];
  readonly table: Table;
}

const textOf = (cell: Cell): string => (typeof cell === 'string' ? cell : 'text' in cell ? cell.text : '');
const isAcross = (row: Row): row is Across => 'across' in row;
const boldOf = (cell: Cell): boolean => typeof cell !== 'string' && 'text' in cell && cell.bold === true;

/** From a column's left edge to its text. */
function leftOf({ columns }: Table, k: number): number {
  const begins = (columns[k]!.align ?? 'start') === 'start';
  return begins && columns[k - 1]?.align === 'end' ? SIDE + AFTER_FIGURE : SIDE;
}

/** The widest line as it stands and the widest that cannot be broken, mm, sides included. */
function needOf(table: Table, k: number, anyBreaks = false): { most: number; least: number } {
  const { head, least = 0, breaks } = table.columns[k]!;
  const size = table.size ?? LEAST_SIZE;
  const own = table.rows.flatMap((r): Cell[] => (isAcross(r) ? [] : [r[k] ?? '']));
  const body = own.map((c) => ({ text: textOf(c), bold: boldOf(c) }));
  const ticks = own.some((c) => typeof c === 'object' && 'tick' in c) ? TICK + 2 * SIDE : 0;
  const sides = leftOf(table, k) + SIDE;
  const wide = (text: string, bold: boolean): number =>
    Math.max(...text.split('\n').map((t) => textWidth(t, { size, bold }))) + sides;
  const word = (text: string, bold: boolean): number =>
    Math.max(...text.split(/\s/).map((t) => textWidth(t, { size, bold }))) + sides;
  const floor = Math.max(least, ticks);
  // A head may always break; other text only where its column says so.
  let [most, smallest] = [Math.max(floor, word(head, true)), Math.max(floor, word(head, true))];
  for (const t of body) {
    const whole = wide(t.text, t.bold);
    most = Math.max(most, whole);
    smallest = Math.max(smallest, breaks || anyBreaks ? Math.min(word(t.text, t.bold), MOST_WORD) : whole);
  }
  return { most, least: smallest };
}

/**
 * Widths that fill the whole: what each needs, and what is left (or lacking) shared by the columns that can break. Where
 * that is not enough, every column breaks between words; where even that is not, all are narrowed alike.
 */
function widthsOf(table: Table, width: number): number[] {
  const sum = (list: readonly number[]): number => list.reduce((a, b) => a + b, 0);
  const needs = table.columns.map((_, k) => needOf(table, k));
  const most = sum(needs.map((n) => n.most));
  if (most <= width) {
    const spread = (width - most) / needs.length;
    return needs.map((n) => n.most + spread);
  }
  const shared = (all: readonly { most: number; least: number }[]): number[] | undefined => {
    const least = sum(all.map((n) => n.least));
    const more = sum(all.map((n) => n.most)) - least;
    return least <= width ? all.map((n) => n.least + ((n.most - n.least) * (width - least)) / more) : undefined;
  };
  const words = table.columns.map((_, k) => needOf(table, k, true));
  const wide = sum(words.map((n) => n.least));
  return shared(needs) ?? shared(words) ?? words.map((n) => (n.least * width) / wide);
}

function laidRow(table: Table, widths: readonly number[], row: Row, head: boolean): LaidRow {
  const size = table.size ?? LEAST_SIZE;
  if (isAcross(row)) {
    const bold = row.bold ?? false;
    const lines = wrap(row.across, widths.reduce((a, b) => a + b, 0) - 2 * SIDE, { size, bold });
    return {
      cells: [{ cell: row.across, bold, lines }],
      head,
      across: true,
      band: row.band ?? false,
      height: linesHeight(lines.length, size) + 2 * OVER,
    };
  }
  const cells = row;
  const laid = table.columns.map((_, k): Laid => {
    const cell = cells[k] ?? '';
    const bold = head || boldOf(cell);
    const text = textOf(cell);
    return { cell, bold, lines: text === '' ? [] : wrap(text, widths[k]! - leftOf(table, k) - SIDE, { size, bold }) };
  });
  const ticked = laid.some((l) => typeof l.cell === 'object' && 'tick' in l.cell) ? TICK + 2 * OVER : 0;
  const tall = Math.max(...laid.map((l) => linesHeight(l.lines.length, size)), linesHeight(1, size)) + 2 * OVER;
  return {
    cells: laid,
    head,
    across: false,
    band: false,
    height: Math.max(tall, ticked, head ? 0 : (table.rowHeight ?? 0)),
  };
}

/** A table laid out to a width, row by row. */
export function layTable(table: Table, width: number): LaidTable {
  const widths = widthsOf(table, width);
  return {
    table,
    widths,
    head: laidRow(
      table,
      widths,
      table.columns.map((c) => c.head),
      true,
    ),
    rows: table.rows.map((r) => laidRow(table, widths, r, false)),
  };
}

/** The ink of one row with its top left corner at (x, y), and the line under it. */
export function rowInk({ table, widths }: LaidTable, row: LaidRow, x: number, y: number): Ink[] {
  const size = table.size ?? LEAST_SIZE;
  const ink: Ink[] = [];
  const right = x + widths.reduce((a, b) => a + b, 0);
  const oneLine = row.cells.every((c) => c.lines.length <= 1);
  let left = x;
  if (row.band) ink.push(rectangle(x, y, right - x, row.height, null, 'light'));
  row.cells.forEach(({ cell, lines, bold }, k) => {
    const width = row.across ? right - x : widths[k]!;
    const align = row.across ? 'start' : (table.columns[k]!.align ?? 'start');
    const at =
      align === 'end'
        ? left + width - SIDE
        : align === 'middle'
          ? left + width / 2
          : left + (row.across ? SIDE : leftOf(table, k));
    // A head stands at the foot of its row, single lines in the middle of theirs, more lines from the top.
    const top = row.head
      ? y + row.height - OVER - linesHeight(lines.length, size)
      : oneLine
        ? y + (row.height - linesHeight(1, size)) / 2
        : y + OVER;
    lines.forEach((text, i) => {
      if (text !== '')
        ink.push({ kind: 'text', x: at, y: top + riseOf(size) + i * leadOf(size), text, size, bold, align });
    });
    if (typeof cell === 'object' && 'tick' in cell)
      ink.push(
        rectangle(
          left + (align === 'middle' ? (width - TICK) / 2 : leftOf(table, k)),
          oneLine ? y + (row.height - TICK) / 2 : y + OVER,
          TICK,
          TICK,
          'outline',
        ),
      );
    if (typeof cell === 'object' && 'blank' in cell)
      ink.push(rectangle(left + 0.5, y + 0.8, width - 1, row.height - 1.6));
    left += width;
  });
  if (!row.across)
    ink.push(
      line(
        [
          [x, y + row.height],
          [right, y + row.height],
        ],
        row.head ? 'outline' : 'hairline',
      ),
    );
  return ink;
}
