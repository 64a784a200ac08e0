import { PDFDocument, StandardFonts } from '@cantoo/pdf-lib';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { plainText } from '../../../src/sheets/paper/characters.ts';
import { heading, picture, pour, table, words } from '../../../src/sheets/paper/flow.ts';
import { placed, readPath } from '../../../src/sheets/paper/path.ts';
import { layTable, type Table } from '../../../src/sheets/paper/table.ts';
import { fallOf, linesHeight, riseOf, textWidth, wrap } from '../../../src/sheets/paper/type.ts';

/* Outside sources: widths by the PDF writer's own metrics; 72 points to the inch (PDF, ISO 32000); the rest are laws of a page. */

const pdf = await PDFDocument.create();
const plain = await pdf.embedFont(StandardFonts.Helvetica);

describe('type', () => {
  it('is as wide as the sum of the font’s widths, a point being 1/72 in', () => {
    const text = 'M5 binds 0.32 mm';
    const points = [...text].reduce((sum, c) => sum + plain.widthOfTextAtSize(c, 12), 0);
    expect(textWidth(text, { size: 12 })).toBeCloseTo((points * 25.4) / 72, 9);
    expect(textWidth(text, { size: 24 })).toBeCloseTo(2 * textWidth(text, { size: 12 }), 9);
  });

  it('breaks into lines that fit, losing and adding no word', () => {
    const word = fc.string({ unit: fc.constantFrom(...'abM.,-w1'), minLength: 1, maxLength: 12 });
    fc.assert(
      fc.property(
        fc.array(word, { minLength: 1, maxLength: 60 }),
        fc.double({ min: 37, max: 200, noNaN: true }),
        fc.boolean(),
        (all, width, bold) => {
          const lines = wrap(all.join(' '), width, { bold });
          expect(lines.join(' ')).toBe(plainText(all.join(' ')));
          // A word of 12 is at most 12 × 0.85 of 10 pt wide, 36 mm, so none is cut here.
          for (const l of lines) expect(textWidth(l, { bold })).toBeLessThanOrEqual(width + 1e-6);
        },
      ),
      { numRuns: 300 },
    );
  });

  it('cuts a word that alone is too wide, and loses none of it', () => {
    const lines = wrap('a'.repeat(200), 50);
    expect(lines.join('')).toBe('a'.repeat(200));
    for (const l of lines) expect(textWidth(l)).toBeLessThanOrEqual(50);
  });

  it('keeps line ends and empty lines', () => expect(wrap('one\n\ntwo', 100)).toEqual(['one', '', 'two']));
});

describe('a path', () => {
  it('is read step by step', () =>
    expect(readPath('M1 2L3,-4.5C1 2 3 4 5 6Z')).toEqual([
      ['M', 1, 2],
      ['L', 3, -4.5],
      ['C', 1, 2, 3, 4, 5, 6],
      ['Z'],
    ]));
  it('refuses what writers draw differently', () => {
    for (const d of ['M1 2A3 3 0 0 1 5 5', 'M1 2l3 4', 'M1', 'M1 2C1 2 3', 'M1 2H5'])
      expect(() => readPath(d), d).toThrow(RangeError);
  });
  it('is enlarged and moved', () =>
    expect(placed('M1 2L3 4Z', { scale: 10, x: 100, y: 200 })).toBe('M110 220L130 240Z'));
});

describe('a table', () => {
  const wide: Table = {
    columns: [{ head: 'hole' }, { head: 'why', breaks: true }, { head: 'mm', align: 'end' }],
    rows: [
      [
        'F2 h1',
        'because something is in the way and must be put right before anything is drilled here, whoever is in a hurry, and whatever the day',
        '0.39',
      ],
      [{ text: 'F2 h2', bold: true }, 'x', '-0.03'],
    ],
  };
  it('fills its width and breaks only where it may', () => {
    for (const width of [120, 186, 273]) {
      const t = layTable(wide, width);
      expect(t.widths.reduce((a, b) => a + b, 0)).toBeCloseTo(width, 6);
      expect(t.rows[0]!.cells[0]!.lines).toEqual(['F2 h1']);
      expect(t.rows[0]!.cells[2]!.lines).toEqual(['0.39']);
      expect(t.rows[0]!.height).toBeGreaterThanOrEqual(linesHeight(t.rows[0]!.cells[1]!.lines.length));
    }
  });

  const box = { x: 10, y: 20, width: 180, height: 100 };
  it('goes on over pages with its head on each, every row once and in order', () => {
    const rows = Array.from({ length: 60 }, (_, i) => [`row ${i}`, `${i}`]);
    const pages = pour([heading('All'), table({ columns: [{ head: 'name' }, { head: 'n' }], rows })], () => box);
    const texts = pages.map((ink) => ink.flatMap((i) => (i.kind === 'text' ? [i.text] : [])));
    expect(pages.length).toBeGreaterThan(2);
    for (const t of texts) expect(t.filter((x) => x === 'name')).toHaveLength(1);
    expect(texts.flat().filter((x) => x.startsWith('row '))).toEqual(rows.map((r) => r[0]));
  });

  it('never leaves a heading, or a row that runs across, alone at the foot', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 6 }), { minLength: 1, maxLength: 25 }), (groups) => {
        const rows = groups.flatMap((n, g) => [
          { across: `group ${g}`, band: true },
          ...Array.from({ length: n }, (_, i) => [`g${g} ${i}`]),
        ]);
        const pages = pour(
          [words('before'), heading('Heading'), words('under it'), table({ columns: [{ head: 'name' }], rows })],
          () => box,
        );
        for (const ink of pages) {
          const last = ink.filter((i) => i.kind === 'text').at(-1);
          expect(last?.kind === 'text' && last.text).toMatch(/^g\d+ \d+$/);
        }
      }),
      { numRuns: 200 },
    );
  });

  it('keeps all ink in the box', () => {
    fc.assert(
      fc.property(
        fc.array(
          fc.constantFrom(
            'short',
            'a long text that goes on over the line and over it again '.repeat(6),
            'middle text of some length',
          ),
          { maxLength: 60 },
        ),
        fc.double({ min: 3, max: 70, noNaN: true }),
        (all, tall) => {
          const pages = pour(
            all.flatMap((t, i) =>
              i % 3 === 2
                ? [
                    heading(t.slice(0, 60)),
                    picture(tall, (b) => [
                      { kind: 'circle', x: b.x, y: b.y + b.height, r: 0, stroke: null, fill: 'none' },
                    ]),
                  ]
                : [words(t)],
            ),
            () => box,
          );
          for (const i of pages.flat()) {
            if (i.kind === 'text') {
              expect(i.y - riseOf(i.size)).toBeGreaterThanOrEqual(box.y - 1e-6);
              expect(i.y + fallOf(i.size)).toBeLessThanOrEqual(box.y + box.height + 1e-6);
            } else if (i.kind === 'circle') expect(i.y).toBeLessThanOrEqual(box.y + box.height + 1e-6);
          }
        },
      ),
      { numRuns: 200 },
    );
  });
});
