import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { nacaDigits, nacaProfile } from '../src/geometry/airfoil.ts';
import { parseCoordinates } from '../src/geometry/coordinates.ts';
import { parseModel } from '../src/model/file/parse.ts';
import { parseReadings } from '../src/model/tables/readingRows.ts';
import { columnFrom, parseColumn, readingsTable } from '../src/model/tables/readingTable.ts';
import { parseAngle, parseLength } from '../src/units/read.ts';
import { COUNTS } from './counts.ts';
import { damaged, damages } from './damage.ts';

/*
 * Everything a person can type, paste or open, damaged: never thrown, and never taken to mean something else
 * without a word. Panel files are damaged in tests/model/damage.test.ts.
 */

const { damaged: MANY } = COUNTS;
const read = parseModel(readFileSync('models/narrow-tail.json', 'utf8'));
if (!read.ok) throw new Error('narrow-tail');
const MODEL = read.model;

const damage = damages({ size: 10, length: 5, letters: '0123456789.,;:-+/ \'"#eE=@inm\n\r\t\u0000é½°×' });

describe('damaged', () => {
  test(`${MANY} tables of readings: refused with a line, or every row taken with the value that stands in it`, () => {
    const table = readingsTable({ ...MODEL, readings: MODEL.readings.slice(0, 24) });
    fc.assert(
      fc.property(fc.array(damage, { minLength: 1, maxLength: 3 }), (all) => {
        const text = all.reduce(damaged, table);
        const result = parseReadings(MODEL, text);
        if (!result.ok) {
          for (const f of result.faults) expect(f.sentence.length).toBeGreaterThan(10);
          return;
        }
        // Whatever was taken is said in the text by a number that reads to it.
        // biome-ignore lint/suspicious/noControlCharactersInRegex: two control characters part the columns of a table too
        const cells = text.split(/[,;\t\n\r|\u001e\u001f"]/).map((c) => c.trim().replace(/^'(?=[=+\-@])/, ''));
        const said = new Set(
          cells
            .flatMap((c) =>
              [parseLength(c), parseAngle(c)].flatMap((v) => (v.ok ? [v.value, (v.value * 180) / Math.PI] : [])),
            )
            .map((v) => v.toPrecision(9)),
        );
        const quoted = /["]/.test(text.replace(/""/g, ''));
        for (const r of result.readings)
          if (!quoted) expect(said.has(r.value.toPrecision(9)), `${r.size} ${r.value}`).toBe(true);
      }),
      { seed: 31, numRuns: MANY },
    );
  });

  test(`${MANY} pasted columns: a value a line, in order, or a line that is refused`, () => {
    const places = columnFrom(MODEL, 'M2.length');
    const column = places.map((_, i) => `${(262 + i / 10).toFixed(2)}`).join('\n');
    fc.assert(
      fc.property(fc.array(damage, { minLength: 1, maxLength: 2 }), (all) => {
        const text = all.reduce(damaged, column);
        const result = parseColumn(MODEL, 'M2.length', text, 'mm', { instrument: 'rule' });
        if (!result.ok) return;
        const lines = text.replace(/\r\n?/g, '\n').split('\n');
        for (const r of result.readings) {
          const own = parseLength((lines[places.findIndex((p) => p.key === r.size)] ?? '').trim());
          expect(own.ok && own.value).toBe(r.value);
        }
      }),
      { seed: 32, numRuns: MANY },
    );
  });

  test(`${MANY} coordinate texts: refused with a line, or a closed section of sane size`, () => {
    const text = nacaProfile(nacaDigits('2412')!, { count: 21 })
      .points.map(([x, y]) => `${x.toFixed(5)} ${y.toFixed(5)}`)
      .join('\n');
    expect(parseCoordinates(text).ok).toBe(true);
    fc.assert(
      fc.property(fc.array(damage, { minLength: 1, maxLength: 3 }), (all) => {
        const result = parseCoordinates(all.reduce(damaged, text));
        if (result.ok)
          for (const [x, y] of result.profile.points)
            expect(Number.isFinite(x) && Number.isFinite(y) && Math.abs(y) < 2).toBe(true);
        else for (const f of result.faults) expect(f.line >= 1 && f.sentence.length > 10).toBe(true);
      }),
      { seed: 33, numRuns: MANY },
    );
  });

  test(`${MANY} typed sizes: a number with what follows understood whole, or a sentence`, () => {
    const typed = [
      '83.35',
      '3.28 in',
      '3 5/8"',
      '1\' 3-1/4"',
      '32 mil',
      '#40',
      '.032"',
      '92,5 mm',
      "1°12'",
      '-0.27 deg',
      '15/64',
    ];
    fc.assert(
      fc.property(fc.constantFrom(...typed), fc.array(damage, { minLength: 1, maxLength: 3 }), (text, all) => {
        const bad = all.reduce(damaged, text);
        for (const one of [parseLength(bad), parseAngle(bad)]) {
          if (one.ok) expect(Number.isFinite(one.value)).toBe(true);
          else expect(one.sentence.length).toBeGreaterThan(10);
        }
        // A length that is taken is the same with its spaces doubled and its letters turned large.
        const plain = parseLength(bad);
        const wide = parseLength(` ${bad} `);
        expect(wide.ok).toBe(plain.ok);
        if (plain.ok && wide.ok) expect(wide.value).toBe(plain.value);
      }),
      { seed: 34, numRuns: MANY },
    );
  });
});

describe('what must not pass in silence', () => {
  const one = (value: string) => `size,value\nM2.length,${value}\n`;
  test('a decimal comma in a comma table', () => {
    const result = parseReadings(MODEL, one('262,5'));
    expect(result.ok).toBe(false);
    if (!result.ok) expect(result.faults[0]!.sentence).toMatch(/more cells than the header/);
    const fine = parseReadings(MODEL, one('"262,5"'));
    expect(fine.ok && fine.readings[0]!.value).toBe(262.5);
  });
  test('two columns of one name, and a quote that is not closed', () => {
    const two = parseReadings(MODEL, 'size,value,value\nM2.length,262.5,261.5\n');
    expect(!two.ok && two.faults[0]!.sentence).toMatch(/two columns named "value"/);
    const open = parseReadings(MODEL, 'size,value,note\nM2.length,262.5,"by rule\nM3.length,262.4,\n');
    expect(!open.ok && open.faults[0]!.sentence).toMatch(/quote is opened/);
  });
  test('formulas: what a spreadsheet would run leaves as text, and comes back as it was', () => {
    for (const note of ['=1+1', '+cmd', '-cmd', '@x', '\tx', '=HYPERLINK("x")']) {
      const model = { ...MODEL, readings: [{ ...MODEL.readings[0]!, note }] };
      const text = readingsTable(model);
      expect(text.split('\n')[1]).not.toMatch(/(^|,)"?[=+\-@\t]/);
      const back = parseReadings(MODEL, text);
      expect(back.ok && back.readings[0]!.note).toBe(note.trim());
    }
  });
});
