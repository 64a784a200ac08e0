import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { PDFDocument, StandardFonts } from 'pdf-lib';
import { describe, expect, it } from 'vitest';
import { onPaper, plainText, WRITTEN, widthOf } from '../../../src/sheets/paper/characters.ts';

/*
 * Outside sources: the standard fonts' own character set and metrics as pdf-lib carries them (the font maker's published
 * AFM files), and its encoder, which refuses what a font lacks. What a missing character is written as: from memory, by
 * how a shop writes it.
 */

const pdf = await PDFDocument.create();
const plain = await pdf.embedFont(StandardFonts.Helvetica);
const bold = await pdf.embedFont(StandardFonts.HelveticaBold);

describe('characters of paper', () => {
  it('are those of the standard fonts, without the soft hyphen and the hard space', () => {
    const theirs = plain
      .getCharacterSet()
      .map((c) => String.fromCodePoint(c))
      .filter((c) => c !== '\u00ad' && c !== '\u00a0');
    expect(theirs.filter((c) => !onPaper(c))).toEqual([]);
    const ours = Array.from({ length: 0x2fff }, (_, c) => String.fromCodePoint(c + 32)).filter(onPaper);
    expect(ours.filter((c) => !theirs.includes(c))).toEqual([]);
    expect(ours).toHaveLength(theirs.length);
  });

  it('are as wide as the fonts say', () => {
    for (const c of plain
      .getCharacterSet()
      .map((code) => String.fromCodePoint(code))
      .filter(onPaper)) {
      expect(widthOf(c, false), c).toBeCloseTo(plain.widthOfTextAtSize(c, 1000), 6);
      expect(widthOf(c, true), c).toBeCloseTo(bold.widthOfTextAtSize(c, 1000), 6);
    }
  });

  it('write what they lack with what they have', () => {
    for (const [from, to] of Object.entries(WRITTEN)) {
      expect(onPaper(from), from).toBe(false);
      expect(
        [...to].filter((c) => !onPaper(c)),
        from,
      ).toEqual([]);
    }
  });

  it.each([
    ['⌀ 3.2 → 4.0', 'Ø 3.2 -> 4.0'],
    ['5 ⅝″', '5 5/8"'],
    ['≤ 0.10 mm', '<= 0.10 mm'],
    ['Δy', 'delta y'],
    ['−0.5°', '-0.5°'],
    ['½ × 2 ± ¼ – ¾ — • “a” ‘b’ …', '½ × 2 ± ¼ – ¾ — • “a” ‘b’ …'],
    ['ő ł Ž č', 'o l Ž c'],
    ['e\u0301', 'é'],
    ['a\u00a0b\tc\nd', 'a b c d'],
    ['zero\u200bwidth\u00ad', 'zerowidth'],
    ['翼', '‹U+7FFC›'],
    ['🛩', '‹U+1F6E9›'],
    ['ﬁn', 'fin'],
    ['５', '5'],
    ['\ud800', '‹U+D800›'],
  ])('%s is written %s', (from, to) => expect(plainText(from)).toBe(to));

  it('never fail, whatever is typed, and can all be written by the font', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 60 }), (text) => {
        const out = plainText(text);
        expect([...out].every(onPaper)).toBe(true);
        plain.encodeText(out);
        expect(plainText(out)).toBe(out);
      }),
      { numRuns: 2000 },
    );
  });

  it('know every character that the program itself writes', () => {
    const src = join(import.meta.dirname, '../../../src');
    const written = ['checks', 'drilling', 'chance', 'truing', 'solidChecks', 'model', 'remedies', 'sheets'];
    const files = written
      .flatMap((f) => readdirSync(join(src, f), { recursive: true, encoding: 'utf8' }).map((n) => join(src, f, n)))
      .concat(join(src, 'units.ts'))
      .filter((f) => f.endsWith('.ts') && !f.endsWith('characters.ts'));
    const odd = new Set(files.flatMap((f) => [...readFileSync(f, 'utf8')].filter((c) => c > '~')));
    expect(odd.size).toBeGreaterThan(5);
    expect([...odd].filter((c) => plainText(c).startsWith('‹U+'))).toEqual([]);
  });
});
