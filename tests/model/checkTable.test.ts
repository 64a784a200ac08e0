import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { checkAll } from '../../src/checks/checkAll.ts';
import { CHECKS, checkRow, checksWhere } from '../../src/model/checkTable.ts';
import { parseModel } from '../../src/model/file/parse.ts';
import type { Model } from '../../src/model/schema.ts';

const panel = (name: string): Model => {
  const read = parseModel(readFileSync(new URL(`../../models/${name}.json`, import.meta.url), 'utf8'));
  if (!read.ok) throw new Error(read.faults.map((f) => f.sentence).join('\n'));
  return read.model;
};
const PANELS = ['plain', 'narrow-tail', 'washed-out-wing'].map(panel);
const IDS = checksWhere(() => true);

describe('the table of checks', () => {
  test('every row but those of the built solids is answered on the panels shipped with the program', () => {
    const answered = new Set<string>(PANELS.flatMap((m) => checkAll(m).map((f) => f.check)));
    // Readings disagree on none of them, and no joint of them has rows beside each other.
    const silent = new Set(['disagreement', 'rows']);
    for (const id of checksWhere((row) => row.asks !== 'solids'))
      expect(answered.has(id) || silent.has(id), id).toBe(true);
  });

  test('every finding has a row', () => {
    for (const f of PANELS.flatMap((m) => [...checkAll(m)])) expect(Object.hasOwn(CHECKS, f.check), f.id).toBe(true);
  });

  test.each(IDS)('%s: fits lies inside act, and its words fill in', (id) => {
    const { limit, label } = checkRow(id);
    if (limit) {
      const [low, high] = limit.fits;
      const [under, over] = limit.act;
      if (low !== null && under !== null) expect(under).toBeLessThanOrEqual(low);
      if (high !== null && over !== null) expect(over).toBeGreaterThanOrEqual(high);
      expect(limit.origin).not.toBe('');
    }
    for (const text of Object.values(label ?? {}))
      expect(text.replace(/\{(?:size|angle|ratio|sense)\}/g, '')).not.toMatch(/[{}]/);
  });
});
