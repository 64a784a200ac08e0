import Papa from 'papaparse';
import type { Model } from '../schema.ts';
import { readCell } from './cells.ts';
import type { Cell, Change, Column, Table } from './tables.ts';

/* A block from a spreadsheet, laid into one of Build's tables. */

export type Pasted =
  | { readonly ok: true; readonly changes: readonly Change[] }
  | { readonly ok: false; readonly faults: readonly (Cell & { readonly sentence: string })[] };

/** Lines of cells, as pasted. */
type Block = readonly (readonly string[])[];

const widthOf = (block: Block): number => Math.max(...block.map((line) => line.length));

/**
 * What separates the cells: tabs, else semicolons, else commas that are not decimal ones; a plain column has one a
 * line.
 */
function delimiterOf(text: string): string {
  if (text.includes('\t')) return '\t';
  if (text.includes(';')) return ';';
  return /,\s|,.*,/.test(text.split('\n')[0] ?? '') ? ',' : '\t';
}

function blockOf(text: string): Block {
  const plain = text
    .replace(/^\uFEFF/, '')
    .replace(/\r\n?/g, '\n')
    .replace(/\n+$/, '');
  return Papa.parse<string[]>(plain, { delimiter: delimiterOf(plain) }).data;
}

/** The block without its first line where that is a header: words that its columns do not take. */
function withoutHead(block: Block, columns: readonly Column[], model: Model): Block {
  const [head, ...rest] = block;
  if (!head || rest.length === 0) return block;
  const isWord = (cell: string, i: number): boolean => {
    const c = columns[i];
    return !c || c.kind === 'text' || cell.trim() === '' || !readCell(c, model, cell).ok;
  };
  return head.every(isWord) ? rest : block;
}

/** The block turned, lines for columns. */
const turned = (block: Block): Block => (block[0] ?? []).map((_, i) => block.map((line) => line[i] ?? ''));

/** The rows and columns that a block may be laid in, from the cell on that it is pasted at. */
interface Room {
  readonly rows: readonly string[];
  readonly columns: readonly Column[];
}

/**
 * The block as it fits: as it is, or turned where it lies across and only that way fits; undefined where neither
 * does.
 */
function laidIn(block: Block, { rows, columns }: Room, model: Model): Block | undefined {
  const fits = (b: Block): boolean => b.length <= rows.length && widthOf(b) <= columns.length;
  const upright = withoutHead(block, columns, model);
  if (fits(upright)) return upright;
  const lies = (block[0]?.length ?? 0) > block.length;
  const other = lies ? withoutHead(turned(block), columns, model) : undefined;
  return other && fits(other) ? other : undefined;
}

/** What laid cells mean, one after another; empty ones, and those of rows that have no such thing, change nothing. */
function meaningOf(block: Block, { rows, columns }: Room, model: Model): Pasted {
  const changes: Change[] = [];
  const faults: (Cell & { sentence: string })[] = [];
  for (const [i, line] of block.entries()) {
    for (const [k, text] of line.entries()) {
      const [row, column] = [rows[i], columns[k]];
      if (row === undefined || !column || text.trim() === '' || column.read(model, row) === undefined) continue;
      const read = readCell(column, model, text);
      if (read.ok) changes.push({ row, column: column.id, value: read.value });
      else faults.push({ row, column: column.id, sentence: read.sentence });
    }
  }
  return faults.length > 0 ? { ok: false, faults } : { ok: true, changes };
}

/**
 * A block from a spreadsheet, laid with its upper left cell at a cell. A header line of words is left out; a block that
 * lies across where the table runs down is turned, when only that way it fits; empty cells change nothing.
 */
export function pasteCells(table: Table, model: Model, from: Cell, text: string, order?: readonly string[]): Pasted {
  const rows = order ?? table.rows(model).map((r) => r.id);
  const columns = table.columns(model).filter((c) => c.write);
  const [r0, c0] = [rows.indexOf(from.row), columns.findIndex((c) => c.id === from.column)];
  const fault = (sentence: string): Pasted => ({ ok: false, faults: [{ ...from, sentence }] });
  if (r0 < 0 || c0 < 0) return fault('Choose a cell that can be changed, then paste.');
  const room: Room = { rows: rows.slice(r0), columns: columns.slice(c0) };
  const block = blockOf(text);
  const laid = laidIn(block, room, model);
  if (laid) return meaningOf(laid, room, model);
  const upright = withoutHead(block, room.columns, model);
  return fault(
    `The block has ${upright.length} rows of ${widthOf(upright)}, and from here on the table has ${room.rows.length} rows of ${room.columns.length}; start further up or left, or paste less.`,
  );
}
