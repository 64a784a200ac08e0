import Papa from 'papaparse';
import { exactLength, formatLength, parseAngle, parseLength } from '../../units.ts';
import { grainOf, onGrain } from '../drawn.ts';
import type { Edit } from '../edits/edits.ts';
import type { Kind } from '../quantities.ts';
import type { Model } from '../schema.ts';

/*
 * The panel as tables: a row a station or a part, a column a size of the drawing. What a cell says is read from the Model
 * and written back to it; nothing is held in between. Each column says what it is at the bench and where a drawing has it.
 */

export type CellValue = number | string;
export type Changes = ReadonlyMap<string, CellValue>;

export interface Column {
  readonly id: string;
  /** Heading, two or three words; `band` stands above the headings it shares. */
  readonly head: string;
  readonly band?: string;
  readonly name: string;
  readonly kind: 'length' | 'angle' | 'count' | 'number' | 'choice' | 'text';
  readonly choices?: (m: Model) => readonly (readonly [value: string, words: string])[];
  /** What it is at the bench. */
  readonly what: string;
  /** Where a drawing has it. */
  readonly where: string;
  /** The picture that shows where the jaws go. */
  readonly jaws?: Kind;
  /** Key of its Size in a row, where it is one. */
  readonly size?: (row: string) => string;
  /** Undefined where the row has no such thing. */
  readonly read: (m: Model, row: string) => CellValue | undefined;
  /** Absent: shown only. */
  readonly write?: (m: Model, changes: Changes) => Model;
}

export interface Row {
  readonly id: string;
  readonly name: string;
  readonly station: string | null;
  /** Place along the span, by which a taper is filled. */
  readonly y: number;
  /** The part it is about, for the bench to show. */
  readonly part?: string;
}

export interface Table {
  readonly id: string;
  readonly name: string;
  readonly rows: (m: Model) => readonly Row[];
  readonly columns: (m: Model) => readonly Column[];
}

export interface Cell {
  readonly row: string;
  readonly column: string;
}

/** One value put into some rows of one column. */
export interface Change extends Cell {
  readonly value: CellValue;
}

/** What a typed cell means, in mm, degrees, or as it stands. */
export function readCell(
  column: Column,
  model: Model,
  text: string,
): { ok: true; value: CellValue } | { ok: false; sentence: string } {
  const typed = text.trim();
  switch (column.kind) {
    case 'length': {
      const read = parseLength(typed, model.units);
      return read.ok ? { ok: true, value: read.value } : read;
    }
    case 'angle': {
      const read = parseAngle(typed);
      return read.ok ? { ok: true, value: Math.round(((read.value * 180) / Math.PI) * 1e9) / 1e9 } : read;
    }
    case 'count':
      return /^\d{1,4}$/.test(typed)
        ? { ok: true, value: Number(typed) }
        : { ok: false, sentence: `“${typed.slice(0, 24)}” is not a whole number.` };
    case 'number': {
      const v = Number(typed.replace(',', '.'));
      return typed !== '' && Number.isFinite(v)
        ? { ok: true, value: v }
        : { ok: false, sentence: `“${typed.slice(0, 24)}” is not a number.` };
    }
    case 'choice': {
      const all = column.choices?.(model) ?? [];
      const found =
        all.find(([v, words]) => v === typed || words.toLowerCase() === typed.toLowerCase()) ??
        all.find(([v]) => v.toLowerCase() === typed.toLowerCase());
      return found
        ? { ok: true, value: found[0] }
        : {
            ok: false,
            sentence: `“${typed.slice(0, 24)}” is not one of ${all
              .slice(0, 8)
              .map(([, w]) => w)
              .join(', ')}.`,
          };
    }
    case 'text':
      return { ok: true, value: typed };
  }
}

/** A cell as it stands in the table: two decimals of a millimetre, three of an inch. */
export function cellText(column: Column, model: Model, value: CellValue | undefined): string {
  if (value === undefined) return '';
  if (typeof value === 'string')
    return column.kind === 'choice' ? (column.choices?.(model).find(([v]) => v === value)?.[1] ?? value) : value;
  if (column.kind === 'length') return formatLength(value, model.units, { unitMark: false });
  return column.kind === 'angle' ? value.toFixed(2) : String(Math.round(value * 1e6) / 1e6);
}

/** A cell as it stands in its box while it is changed: every figure. */
export function cellEntry(column: Column, model: Model, value: CellValue | undefined): string {
  if (value === undefined) return '';
  if (typeof value === 'number' && column.kind === 'length')
    return exactLength(Math.round(value * 1e6) / 1e6, model.units).replace(/ (mm|in)$/, '');
  return String(value);
}

function columnOf(table: Table, m: Model, id: string): Column {
  const found = table.columns(m).find((c) => c.id === id);
  if (!found) throw new RangeError(`the table ${table.id} has no column "${id}"`);
  return found;
}

/** Writes many cells of a table as one step. */
export function setCells(table: Table, model: Model, changes: readonly Change[], name?: string): Edit {
  const first = changes[0];
  const said =
    name ??
    (first && changes.length === 1
      ? `changed the ${columnOf(table, model, first.column).name} of ${table.rows(model).find((r) => r.id === first.row)?.name ?? first.row}`
      : `changed ${changes.length} cells of ${table.name}`);
  return {
    name: said,
    apply: (m) => {
      const byColumn = new Map<string, Map<string, CellValue>>();
      for (const c of changes) byColumn.set(c.column, (byColumn.get(c.column) ?? new Map()).set(c.row, c.value));
      return [...byColumn].reduce((now, [column, values]) => columnOf(table, m, column).write?.(now, values) ?? now, m);
    },
  };
}

/** The value of the first row, put into the others. */
export function copyDown(table: Table, model: Model, column: string, rows: readonly string[]): Change[] {
  const value = rows[0] === undefined ? undefined : columnOf(table, model, column).read(model, rows[0]);
  return value === undefined ? [] : rows.slice(1).map((row) => ({ row, column, value }));
}

/** A straight line from the first row's value to the last one's by their places, on the drawing's grain: 166 at 30 and 120 at 2650 give 160.29 at 355. */
export function fillTaper(table: Table, model: Model, column: string, rows: readonly string[]): Change[] {
  const c = columnOf(table, model, column);
  const at = new Map(table.rows(model).map((r) => [r.id, r.y]));
  const [a, b] = [rows[0], rows[rows.length - 1]];
  if (a === undefined || b === undefined) return [];
  const [va, vb, ya, yb] = [c.read(model, a), c.read(model, b), at.get(a) ?? 0, at.get(b) ?? 0];
  if (typeof va !== 'number' || typeof vb !== 'number' || ya === yb) return [];
  const grain = c.kind === 'length' ? grainOf(model.units) : 0.01;
  return rows
    .slice(1, -1)
    .map((row) => ({ row, column, value: onGrain(va + ((vb - va) * ((at.get(row) ?? 0) - ya)) / (yb - ya), grain) }));
}

export type Pasted =
  | { readonly ok: true; readonly changes: readonly Change[] }
  | { readonly ok: false; readonly faults: readonly (Cell & { readonly sentence: string })[] };

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
  const block = blockOf(text);
  const room = { down: rows.length - r0, across: columns.length - c0 };
  const fits = (b: readonly (readonly string[])[]): boolean =>
    b.length <= room.down && Math.max(...b.map((l) => l.length)) <= room.across;
  const headed = (b: readonly (readonly string[])[]): readonly (readonly string[])[] =>
    b.length > 1 &&
    b[0]!.every((cell, i) => {
      const c = columns[c0 + i];
      return !c || c.kind === 'text' || cell.trim() === '' || !readCell(c, model, cell).ok;
    })
      ? b.slice(1)
      : b;
  const upright = headed(block);
  const turned = headed((block[0] ?? []).map((_, i) => block.map((line) => line[i] ?? '')));
  const lies = (block[0]?.length ?? 0) > block.length;
  const laid = fits(upright) ? upright : lies && fits(turned) ? turned : undefined;
  if (!laid)
    return fault(
      `The block has ${upright.length} rows of ${Math.max(...upright.map((l) => l.length))}, and from here on the table has ${room.down} rows of ${room.across}; start further up or left, or paste less.`,
    );
  const changes: Change[] = [];
  const faults: (Cell & { sentence: string })[] = [];
  laid.forEach((line, i) =>
    line.forEach((cell, k) => {
      const [row, column] = [rows[r0 + i]!, columns[c0 + k]!];
      if (cell.trim() === '' || column.read(model, row) === undefined) return;
      const read = readCell(column, model, cell);
      if (read.ok) changes.push({ row, column: column.id, value: read.value });
      else faults.push({ row, column: column.id, sentence: read.sentence });
    }),
  );
  return faults.length > 0 ? { ok: false, faults } : { ok: true, changes };
}

/** Cells of pasted text: tabs between, else semicolons, else commas that are not decimal ones; a plain column has one a line. */
function blockOf(text: string): string[][] {
  const plain = text
    .replace(/^\uFEFF/, '')
    .replace(/\r\n?/g, '\n')
    .replace(/\n+$/, '');
  const delimiter = plain.includes('\t')
    ? '\t'
    : plain.includes(';')
      ? ';'
      : /,\s|,.*,/.test(plain.split('\n')[0] ?? '')
        ? ','
        : '\t';
  return Papa.parse<string[]>(plain, { delimiter }).data;
}

/** The commonest value of a column, and the rows that have another; undefined where no value is had by half the rows or more. */
export function commonOf(
  column: Column,
  model: Model,
  rows: readonly Row[],
): { readonly value: CellValue; readonly exceptions: ReadonlySet<string> } | undefined {
  const values = rows.flatMap((r) => {
    const v = column.read(model, r.id);
    return v === undefined ? [] : [[r.id, v] as const];
  });
  const counts = new Map<CellValue, number>();
  for (const [, v] of values) counts.set(v, (counts.get(v) ?? 0) + 1);
  const [value, n] = [...counts].sort((a, b) => b[1] - a[1])[0] ?? [undefined, 0];
  if (value === undefined || 2 * n < values.length || values.length < 2) return undefined;
  return { value, exceptions: new Set(values.filter(([, v]) => v !== value).map(([id]) => id)) };
}

/** The common value changed everywhere it holds; the exceptions keep their own. */
export function setCommon(column: Column, model: Model, rows: readonly Row[], value: CellValue): Change[] {
  const common = commonOf(column, model, rows);
  return common
    ? rows
        .filter((r) => column.read(model, r.id) === common.value)
        .map((r) => ({ row: r.id, column: column.id, value }))
    : [];
}
