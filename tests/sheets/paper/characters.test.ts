import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { PDFDocument, StandardFonts } from '@cantoo/pdf-lib';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { onPaper, plainText, WRITTEN, widthOf } from '../../../src/sheets/paper/characters.ts';

/*
 * Outside sources: the standard fonts' published metrics, copied here from the font maker's AFM files; the character set
 * of the PDF writer's encoder, which refuses what a font lacks. What a missing character is written as: from memory, by how
 * a shop writes it.
 */

/** Widths in thousandths of the size, plain and bold, and the characters that have them. */
const PUBLISHED: readonly (readonly [plain: number, bold: number, characters: string])[] = [
  [278, 278, ' ,./I\\·ÌÍÎÏìíîï'],
  [278, 333, '!:;[]ft'],
  [355, 474, '"'],
  [556, 556, '#$0123456789_ae¢£¤¥§«»àáâãäåèéêëƒ–†‡€'],
  [889, 889, '%æ'],
  [667, 722, '&ABKÀÁÂÃÄÅ'],
  [191, 238, "'"],
  [333, 333, '()-`¡¨¯²³´¸¹ˆ˜‹›'],
  [389, 389, '*'],
  [584, 584, '+<=>~¬±×÷'],
  [556, 611, '?Lbdghnopquµðñòóôõöùúûüþ'],
  [1015, 975, '@'],
  [722, 722, 'CDHNRUÇÐÑÙÚÛÜ'],
  [667, 667, 'EPSVXYÈÉÊËÝÞŠ'],
  [611, 611, 'FTZ¿ßøŽ'],
  [778, 778, 'GOQÒÓÔÕÖØ'],
  [500, 556, 'JcksvxyçýÿšŸ'],
  [833, 833, 'M'],
  [944, 944, 'Wœ'],
  [469, 584, '^'],
  [222, 278, 'ijl‘’‚'],
  [833, 889, 'm'],
  [333, 389, 'r'],
  [722, 778, 'w'],
  [500, 500, 'zž'],
  [334, 389, '{}'],
  [260, 280, '|¦'],
  [737, 737, '©®'],
  [370, 370, 'ª'],
  [400, 400, '°'],
  [537, 556, '¶'],
  [365, 365, 'º'],
  [834, 834, '¼½¾'],
  [1000, 1000, 'ÆŒ—…‰™'],
  [333, 500, '“”„'],
  [350, 350, '•'],
];
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

  it('are as wide as published, and as the PDF writer takes them to be', () => {
    const all = PUBLISHED.flatMap(([thin, thick, characters]) => [...characters].map((c) => ({ c, thin, thick })));
    expect(all).toHaveLength(216);
    for (const { c, thin, thick } of all) {
      expect([widthOf(c, false), widthOf(c, true)], c).toEqual([thin, thick]);
      expect(plain.widthOfTextAtSize(c, 1000), c).toBeCloseTo(thin, 6);
      expect(bold.widthOfTextAtSize(c, 1000), c).toBeCloseTo(thick, 6);
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
