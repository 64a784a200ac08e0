import { describe, expect, it } from 'vitest';
import { inOrder, nextCell, rowsBetween, sortedBy, type Walk } from '../../../src/app/build/grid/inOrder.ts';
import type { Column, Row } from '../../../src/model/tables/tables.ts';
import { panel } from '../../model/panels.ts';

/* The order a table is read and walked in, on a table of three rows and three columns whose middle cell is missing. */

const column = (id: string): Column => ({
  id,
  head: id,
  name: id,
  kind: 'text',
  what: '',
  where: '',
  read: (_, row) => (id === 'b' && row === '2' ? undefined : `${row}${id}`),
});
const columns = ['a', 'b', 'c'].map(column);
const walk: Walk = { rows: ['1', '2', '3'], columns, has: (row, c) => !(c.id === 'b' && row === '2') };
const at = (place: string) => ({ row: place[0]!, column: place[1]! });

describe('the next cell', () => {
  it.each<[string, [number, number], string | undefined]>([
    ['1a', [0, 1], '1b'],
    ['1c', [0, 1], '2a'],
    ['2a', [0, -1], '1c'],
    ['2a', [0, 1], '2c'],
    ['2c', [0, -1], '2a'],
    ['1b', [1, 0], '3b'],
    ['3b', [-1, 0], '1b'],
    ['3a', [1, 0], undefined],
    ['1a', [-1, 0], undefined],
    ['3c', [0, 1], undefined],
    ['1a', [0, -1], undefined],
  ])('from %s by %o is %s', (from, by, to) => {
    expect(nextCell(at(from), by, walk)).toEqual(to === undefined ? undefined : at(to));
  });
  it('is none where no cell can be had', () => {
    expect(nextCell(at('1a'), [0, 1], { ...walk, has: () => false })).toBeUndefined();
    expect(nextCell(at('1a'), [1, 0], { rows: [], columns: [], has: () => true })).toBeUndefined();
  });
});

it('takes the rows from one to another, whichever stands first', () => {
  const order = ['1', '2', '3', '4'];
  expect(rowsBetween(order, '2', '4')).toEqual(['2', '3', '4']);
  expect(rowsBetween(order, '4', '2')).toEqual(['2', '3', '4']);
  expect(rowsBetween(order, '3', '3')).toEqual(['3']);
  expect(rowsBetween(order, '3', 'gone')).toEqual([]);
});

it('sorts a column rising, falling, and then not; M10 after M2', () => {
  const model = panel('plain');
  const row = (id: string): Row => ({ id, name: id, station: null, y: 0 });
  const rows = ['M10', 'M2', 'M1'].map(row);
  const named: Column = { ...column('a'), read: (_, id) => id };
  const order = (sort: ReturnType<typeof sortedBy>): string[] => inOrder(rows, sort, [named], model).map((r) => r.id);
  const rising = sortedBy('a', null);
  expect(order(rising)).toEqual(['M1', 'M2', 'M10']);
  const falling = sortedBy('a', rising);
  expect(order(falling)).toEqual(['M10', 'M2', 'M1']);
  expect(sortedBy('a', falling)).toBeNull();
  expect(order(null)).toEqual(['M10', 'M2', 'M1']);
  expect(sortedBy('b', falling)).toEqual({ column: 'b', way: 1 });
});
