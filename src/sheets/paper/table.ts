import { BASIS, type BasisWord } from '../../checks/basis.ts';
import { basisInk, MARK_ROOM } from './basisMark.ts';
import type { Align, Ink } from './page.ts';
import { rectangle, segment } from './path.ts';
import { textLines } from './text.ts';
import { LEAST_SIZE, linesHeight, riseOf, textWidth, wrap } from './type.ts';

/*
 * A table on paper: columns as wide as they need, rows that break between lines, hairlines between rows.
 */

/** What stands in one place of a table. */
export type Cell =
  | string
  /** A text; before it the mark of what its value rests on. */
  | { readonly text: string; readonly bold?: boolean; readonly basis?: BasisWord }
  /** A square to tick. */
  | { readonly tick: true }
  /** A blank to fill in by pencil. */
  | { readonly blank: true };

interface Column {
  readonly head: string;
  readonly align?: Align;
  /** Least width, mm: a blank to write in. */
  readonly least?: number;
  /** Its text may break into lines; else the column is as wide as its widest text. */
  readonly breaks?: boolean;
}

/** A row that runs over all columns: what the rows under it have in common. It never stands alone at a page's foot. */
interface Across {
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

/** One cell laid out: its lines, how wide its column is, and how far its text stands from the column's left edge. */
interface Laid {
  readonly cell: Cell;
  readonly lines: readonly string[];
  readonly bold: boolean;
  readonly width: number;
  readonly left: number;
  readonly align: Align;
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

const isAcross = (row: Row): row is Across => 'across' in row;
const isTick = (cell: Cell): boolean => typeof cell === 'object' && 'tick' in cell;
const isBlank = (cell: Cell): boolean => typeof cell === 'object' && 'blank' in cell;
const boldOf = (cell: Cell): boolean => typeof cell === 'object' && 'text' in cell && cell.bold === true;

/** The mark before a cell's text; undefined where it has none. */
function markOf(cell: Cell): BasisWord | undefined {
  const basis = typeof cell === 'object' && 'text' in cell && cell.text !== '' ? cell.basis : undefined;
  return basis && BASIS[basis].mark ? basis : undefined;
}

/** Room for the mark before a cell's text. */
const markRoom = (cell: Cell): number => (markOf(cell) ? MARK_ROOM : 0);

function textOf(cell: Cell): string {
  if (typeof cell === 'string') return cell;
  return 'text' in cell ? cell.text : '';
}

const sum = (list: readonly number[]): number => list.reduce((a, b) => a + b, 0);

/** A column with what stands in it, and how far its text is from its left edge. */
interface Placed {
  readonly column: Column;
  readonly cells: readonly Cell[];
  readonly left: number;
}

function placedColumns({ columns, rows }: Table): Placed[] {
  return columns.map((column, k) => ({
    column,
    cells: rows.flatMap((row): Cell[] => (isAcross(row) ? [] : [row[k] ?? ''])),
    left: leftOf(column, columns[k - 1]),
  }));
}

function leftOf({ align = 'start' }: Column, before: Column | undefined): number {
  const afterFigure = align === 'start' && before?.align === 'end';
  return afterFigure ? SIDE + AFTER_FIGURE : SIDE;
}

/** The widest line of a column as it stands, and the widest that cannot be broken, mm, sides included. */
interface Need {
  readonly most: number;
  readonly least: number;
}

function needOf({ column, cells, left }: Placed, size: number, anyBreaks: boolean): Need {
  const sides = left + SIDE;
  const widest = (parts: readonly string[], bold: boolean): number =>
    Math.max(...parts.map((t) => textWidth(t, { size, bold }))) + sides;
  const ticks = cells.some(isTick) ? TICK + 2 * SIDE : 0;
  // A head may always break; other text only where its column says so.
  const floor = Math.max(column.least ?? 0, ticks, widest(column.head.split(/\s/), true));
  const needs = cells.map((cell): Need => {
    const text = textOf(cell);
    const most = widest(text.split('\n'), boldOf(cell)) + markRoom(cell);
    const breaks = column.breaks || anyBreaks;
    const word = Math.min(widest(text.split(/\s/), boldOf(cell)), MOST_WORD) + markRoom(cell);
    return { most, least: breaks ? word : most };
  });
  return {
    most: Math.max(floor, ...needs.map((n) => n.most)),
    least: Math.max(floor, ...needs.map((n) => n.least)),
  };
}

/**
 * Widths that fill the whole: what each needs, and what is left (or lacking) shared by the columns that can break.
 * Where that is not enough, every column breaks between words; where even that is not, all are narrowed alike.
 */
function widthsOf(table: Table, width: number): number[] {
  const size = table.size ?? LEAST_SIZE;
  const columns = placedColumns(table);
  const needs = columns.map((c) => needOf(c, size, false));
  const spare = width - sum(needs.map((n) => n.most));
  if (spare >= 0) return needs.map((n) => n.most + spare / needs.length);
  const words = columns.map((c) => needOf(c, size, true));
  const wide = sum(words.map((n) => n.least));
  return shared(needs, width) ?? shared(words, width) ?? words.map((n) => (n.least * width) / wide);
}

/**
 * The least of each column, and what is left of the width by how much more each would like; undefined where there is
 * not the least.
 */
function shared(needs: readonly Need[], width: number): number[] | undefined {
  const least = sum(needs.map((n) => n.least));
  const more = sum(needs.map((n) => n.most)) - least;
  return least <= width ? needs.map((n) => n.least + ((n.most - n.least) * (width - least)) / more) : undefined;
}

function acrossRow({ across, bold = false, band = false }: Across, width: number, size: number): LaidRow {
  const lines = wrap(across, width - 2 * SIDE, { size, bold });
  return {
    cells: [{ cell: across, bold, lines, width, left: SIDE, align: 'start' }],
    head: false,
    across: true,
    band,
    height: linesHeight(lines.length, size) + 2 * OVER,
  };
}

/** Where a row is laid: a table with the widths of its columns. */
interface Room {
  readonly table: Table;
  readonly widths: readonly number[];
}

function cellsRow({ table, widths }: Room, cells: readonly Cell[], head: boolean): LaidRow {
  const { columns, size = LEAST_SIZE, rowHeight = 0 } = table;
  const laid = columns.map((column, k): Laid => {
    const cell = cells[k] ?? '';
    const [bold, text] = [head || boldOf(cell), textOf(cell)];
    const align = column.align ?? 'start';
    const width = widths[k] ?? 0;
    const left = leftOf(column, columns[k - 1]) + markRoom(cell);
    const lines = text === '' ? [] : wrap(text, width - left - SIDE, { size, bold });
    return { cell, bold, lines, width, left, align };
  });
  const ticked = cells.some(isTick) ? TICK + 2 * OVER : 0;
  const most = Math.max(1, ...laid.map((l) => l.lines.length));
  const tall = linesHeight(most, size) + 2 * OVER;
  return {
    cells: laid,
    head,
    across: false,
    band: false,
    height: Math.max(tall, ticked, head ? 0 : rowHeight),
  };
}

/** A table laid out to a width, row by row. */
export function layTable(table: Table, width: number): LaidTable {
  const widths = widthsOf(table, width);
  const room = { table, widths };
  const heads = table.columns.map((c) => c.head);
  return {
    table,
    widths,
    head: cellsRow(room, heads, true),
    rows: table.rows.map((row) =>
      isAcross(row) ? acrossRow(row, sum(widths), table.size ?? LEAST_SIZE) : cellsRow(room, row, false),
    ),
  };
}

/** The ink of one row with its top left corner at (x, y), and the line under it. */
export function rowInk({ table, widths }: LaidTable, row: LaidRow, x: number, y: number): Ink[] {
  const right = x + sum(widths);
  const ink: Ink[] = row.band ? [rectangle(x, y, right - x, row.height, null, 'light')] : [];
  let left = x;
  for (const laid of row.cells) {
    ink.push(...cellInk(laid, { row, left, y, size: table.size ?? LEAST_SIZE }));
    left += laid.width;
  }
  const under = y + row.height;
  if (!row.across) ink.push(segment([x, under], [right, under], row.head ? 'outline' : 'hairline'));
  return ink;
}

/** Where a cell of a row is drawn. */
interface Spot {
  readonly row: LaidRow;
  readonly left: number;
  readonly y: number;
  readonly size: number;
}

function cellInk(laid: Laid, spot: Spot): Ink[] {
  const { row, left, y, size } = spot;
  const { cell, lines, bold, align } = laid;
  const at = left + textLeft(laid);
  const written = { size, bold, align };
  const text = textLines(lines, [at, topOf(laid, spot)], written).filter((_, i) => lines[i] !== '');
  if (isTick(cell)) {
    const from = align === 'middle' ? (laid.width - TICK) / 2 : laid.left;
    const top = isOneLine(row) ? y + (row.height - TICK) / 2 : y + OVER;
    return [...text, rectangle(left + from, top, TICK, TICK, 'outline')];
  }
  if (isBlank(cell)) return [...text, rectangle(left + 0.5, y + 0.8, laid.width - 1, row.height - 1.6)];
  return [...markInk(laid, at, topOf(laid, spot), size), ...text];
}

/** The mark before the first line of a text that stands at x. */
function markInk({ cell, lines, bold, align }: Laid, x: number, top: number, size: number): Ink[] {
  const basis = markOf(cell);
  if (!basis) return [];
  const wide = textWidth(lines[0] ?? '', { size, bold });
  const shares = { start: 0, middle: 0.5, end: 1 };
  const from = x - shares[align] * wide;
  return basisInk(basis, [from - MARK_ROOM / 2 - 0.3, top + riseOf(size) / 2 + 0.4]);
}

/** From a cell's left edge to where its text stands. */
function textLeft({ width, left, align }: Laid): number {
  if (align === 'end') return width - SIDE;
  return align === 'middle' ? width / 2 : left;
}

const isOneLine = (row: LaidRow): boolean => row.cells.every((c) => c.lines.length <= 1);

/** A head stands at the foot of its row, single lines in the middle of theirs, more lines from the top. */
function topOf({ lines }: Laid, { row, y, size }: Spot): number {
  if (row.head) return y + row.height - OVER - linesHeight(lines.length, size);
  return isOneLine(row) ? y + (row.height - linesHeight(1, size)) / 2 : y + OVER;
}
