import { describe, expect, test } from 'vitest';
import { rowKey } from '../../src/drilling/rowKey.ts';
import { panel } from '../model/panels.ts';

/* Read off the panel files by eye: which parts each row of joints takes to which spar. */
describe('what the letters of the rows stand for', () => {
  test('panel A', () => {
    expect(rowKey(panel('narrow-tail'))).toEqual([
      { letters: 'F', where: 'front web to nose ribs, ribs, doublers' },
      { letters: 'R', where: 'rear web to tip ribs, ribs' },
      { letters: 'K', where: 'rear web to brackets' },
    ]);
  });
  test('letters used for two rows are not explained', () => {
    const A = panel('narrow-tail');
    const mixed = { ...A, joints: A.joints.map((j) => (j.id === 'R3' ? { ...j, id: 'F33' } : j)) };
    expect(rowKey(mixed).map((r) => r.letters)).toEqual(['R', 'K']);
  });
});
