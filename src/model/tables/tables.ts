import { grainOf, onGrain } from '../drawn.ts';
import type { Edit } from '../edits/edits.ts';
import type { Kind } from '../quantities.ts';
import type { Model } from '../schema.ts';

/*
 * The panel as tables: a row a station or a part, a column a size of the drawing. What a cell says is read from the
 * Model and written back to it; nothing is held in between. Each column says what it is at the bench and where a
 * drawing has it.
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

/** A table's column by its name; throws RangeError where it has none. */
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

/**
 * A straight line from the first row's value to the last one's by their places, on the drawing's grain: 166 at 30 and
 * 120 at 2650 give 160.29 at 355.
 */
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

/**
 * The commonest value of a column, and the rows that have another; undefined where no value is had by half the rows
 * or more.
 */
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
