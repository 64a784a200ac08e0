import { describe, expect, test } from 'vitest';
import { checkAll } from '../../../src/checks/checkAll.ts';
import { applyEdit, confirmed, measure, measureMore, takeReadings } from '../../../src/model/edits/edits.ts';
import { parseModel } from '../../../src/model/file/parse.ts';
import { writeModel } from '../../../src/model/file/write.ts';
import type { Reading } from '../../../src/model/schema.ts';
import { sizeBook } from '../../../src/model/sizes.ts';
import { panel } from '../panels.ts';

/* A doubtful reading is a question, not a refusal. What counts as doubtful: picked (15 % off, or near a slip of unit or point). */

const A = panel('narrow-tail');
const read = (size: string, value: number, instrument: string, sure?: true): Reading => ({
  size,
  value,
  instrument,
  ...(sure ? { sure } : {}),
});

describe('a reading far from its drawing', () => {
  // 0.6 mm typed as 0.6 in is 15.24 mm, 24 times the drawing's 0.635.
  test("is asked about, in the panel's own unit", () => {
    const tried = applyEdit(A, measure(A, 'sheet.s025', [15.24], { instrument: 'micrometer' }));
    expect(tried).toMatchObject({
      ok: false,
      faults: [{ question: 'The drawing says 0.64 mm: millimetres and inches look exchanged.' }],
    });
    const inches = { ...A, units: 'in' as const };
    expect(applyEdit(inches, measure(inches, 'front.depth@S2', [60], { instrument: 'caliper' }))).toMatchObject({
      ok: false,
      faults: [{ question: 'The drawing says 3.386 in: that is 30 % off.' }],
    });
  });

  // How far a small size may be off before it is asked about: picked (three tolerances and a floor, at least 15 %, at most half).
  test('is asked about at a small size too: a sheet, a radius, a row', () => {
    const asked = (size: string, value: number, instrument: string): string | undefined => {
      const tried = applyEdit(A, measure(A, size, [value], { instrument }));
      return tried.ok ? undefined : tried.faults[0]?.question;
    };
    expect(asked('sheet.s020', 95.1, 'micrometer')).toBe(
      'The drawing says 0.51 mm: that is 187 times as much. Is it another sheet?',
    );
    expect(asked('sheet.s020', 0.8, 'micrometer')).toBe(
      'The drawing says 0.51 mm: that is 57 % off. Is it another sheet? Sheet s032 is 0.81 mm.',
    );
    expect(asked('front.radius', 95, 'radius-leaf')).toBe('The drawing says 2.40 mm: that is 40 times as much.');
    expect(asked('M2.front.row', 1, 'caliper')).toMatch(/that is \d\d % off/);
    // What three tolerances allow is taken without a word: 0.05 on a sheet, 0.2 on a radius.
    for (const [size, by, instrument] of [
      ['sheet.s020', 0.15, 'micrometer'],
      ['front.radius', 0.6, 'radius-leaf'],
    ] as const) {
      expect(asked(size, sizeBook(A).nominal(size)! + by, instrument), size).toBeUndefined();
    }
  });

  test('is taken where the answer is yes, stays in the file, and every check can live with it', () => {
    const done = applyEdit(A, measure(A, 'front.depth@S2', [60], { instrument: 'caliper', sure: true }));
    if (!done.ok) throw new Error(done.faults[0]?.sentence);
    const again = parseModel(writeModel(done.model));
    if (!again.ok) throw new Error(again.faults[0]?.sentence);
    expect(again.model.readings.find((r) => r.size === 'front.depth@S2')).toMatchObject({ value: 60, sure: true });
    for (const [size, value] of [
      ['M2.length', 26.25],
      ['sheet.s025', 16],
      ['M3.front.height', 8.3],
      ['T8.length', 9.8],
      ['N4.length', 3],
    ] as const) {
      const odd = applyEdit(
        A,
        measure(A, size, [value], { instrument: sizeBook(A).readingsOf(size)[0]!.instrument, sure: true }),
      );
      expect(odd.ok, size).toBe(true);
      if (odd.ok) for (const f of checkAll(odd.model)) expect(f.sentence, f.id).not.toMatch(/NaN|undefined/);
    }
  });

  test('what cannot be is refused, asked or not', () => {
    for (const sure of [undefined, true] as const) {
      const tried = applyEdit(A, measure(A, 'M2.length', [-262], { instrument: 'rule', ...(sure ? { sure } : {}) }));
      expect(tried.ok).toBe(false);
      if (!tried.ok)
        expect(tried.faults.some((f) => f.question === undefined && /negative/.test(f.sentence))).toBe(true);
    }
  });

  test('of a pasted column only the doubtful ones are marked', () => {
    const column = [
      read('M2.length', 262.4, 'rule'),
      read('M3.length', 26.25, 'rule'),
      read('M4.length', 262.5, 'rule'),
    ];
    const tried = applyEdit(A, takeReadings(column));
    if (tried.ok) throw new Error('a decimal point slipped and nobody asked');
    const sure = confirmed(column, tried.faults);
    expect(sure.map((r) => r.sure)).toEqual([undefined, true, undefined]);
    expect(applyEdit(A, takeReadings(sure)).ok).toBe(true);
  });
});

test('once more keeps what was read before, by whatever instrument', () => {
  const size = 'M2.length';
  const had = sizeBook(A).readingsOf(size);
  const done = applyEdit(A, measureMore(A, size, { value: 262.4, instrument: 'caliper' }));
  if (!done.ok) throw new Error(done.faults[0]?.sentence);
  expect(sizeBook(done.model).readingsOf(size)).toEqual([...had, read(size, 262.4, 'caliper')]);
  expect(done.model.readings.length).toBe(A.readings.length + 1);
  const fresh = applyEdit(A, measureMore(A, 'lean@S3', { value: 0.5, instrument: 'square', over: 140 }));
  expect(fresh.ok && sizeBook(fresh.model).readingsOf('lean@S3')).toEqual([
    { size: 'lean@S3', value: 0.5, instrument: 'square', over: 140 },
  ]);
});
