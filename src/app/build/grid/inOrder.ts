import type { Model } from '../../../model/schema.ts';
import type { Cell, Column, Row } from '../../../model/tables/tables.ts';

/* The order a table is read and walked in. */

/** The row of common values, above the others. */
export const COMMON = '*';

export interface Sort {
  readonly column: string;
  readonly way: 1 | -1;
}

/** What a tap on a column's heading makes of the order: rising, then falling, then as the table has it. */
export function sortedBy(column: string, sort: Sort | null): Sort | null {
  if (sort?.column !== column) return { column, way: 1 };
  return sort.way === 1 ? { column, way: -1 } : null;
}

/** Rows in the order asked for; numbers as numbers, names by their numbers too (M2 before M10). */
export function inOrder(
  rows: readonly Row[],
  sort: Sort | null,
  columns: readonly Column[],
  model: Model,
): readonly Row[] {
  const by = columns.find((c) => c.id === sort?.column);
  if (!by || !sort) return rows;
  const key = (r: Row): number | string => by.read(model, r.id) ?? '';
  const rising = (a: number | string, b: number | string): number =>
    typeof a === 'number' && typeof b === 'number'
      ? a - b
      : String(a).localeCompare(String(b), 'en', { numeric: true });
  return [...rows].sort((a, b) => sort.way * rising(key(a), key(b)));
}

/** Rows from one to another, whichever stands first; none where one of them is not there. */
export function rowsBetween(order: readonly string[], a: string, b: string): readonly string[] {
  const [i, k] = [order.indexOf(a), order.indexOf(b)];
  return i < 0 || k < 0 ? [] : order.slice(Math.min(i, k), Math.max(i, k) + 1);
}

/** What a walk through the cells goes over: rows from above, the row of common values first where there is one. */
export interface Walk {
  readonly rows: readonly string[];
  readonly columns: readonly Column[];
  readonly has: (row: string, column: Column) => boolean;
}

/**
 * The next cell so many rows down and columns across. Cells that a row does not have are stepped over; a line ends in
 * the next one; undefined past the edge of the table.
 */
export function nextCell(from: Cell, [down, across]: readonly [number, number], walk: Walk): Cell | undefined {
  const { rows, columns, has } = walk;
  let [r, c] = [rows.indexOf(from.row), columns.findIndex((x) => x.id === from.column)];
  for (let tries = rows.length * columns.length; tries >= 0; tries--) {
    [r, c] = [r + down, c + across];
    if (c >= columns.length) [r, c] = [r + 1, 0];
    if (c < 0) [r, c] = [r - 1, columns.length - 1];
    const [row, column] = [rows[r], columns[c]];
    if (row === undefined || column === undefined) return undefined;
    if (has(row, column)) return { row, column: column.id };
  }
  return undefined;
}
