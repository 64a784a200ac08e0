import { Encodings, Font, FontNames } from '@pdf-lib/standard-fonts';

/*
 * Which characters paper can carry. The standard fonts of every printer and viewer hold some two hundred; anything
 * else is written with what they have, and what has no such writing is shown by its number, so that nothing is lost
 * in silence.
 */

/** Held by the fonts, but not seen as such: the hard space is written as a space, the soft hyphen not at all. */
const UNWRITTEN: readonly number[] = [0xa0, 0xad];

/** As wide as any character is, thousandths of the size. */
const WIDEST = 1000;

/** Widths in thousandths of the size, plain and bold, of every character of the standard sans-serif font. */
const WIDTHS: ReadonlyMap<string, { readonly plain: number; readonly bold: number }> = widthsOf(
  Font.load(FontNames.Helvetica),
  Font.load(FontNames.HelveticaBold),
);

function widthsOf(plain: Font, bold: Font): typeof WIDTHS {
  const { WinAnsi } = Encodings;
  const codes = WinAnsi.supportedCodePoints.filter((code) => !UNWRITTEN.includes(code));
  return new Map(
    codes.map((code) => {
      const { name } = WinAnsi.encodeUnicodeCodePoint(code);
      const wide = (font: Font): number => font.getWidthOfGlyph(name) ?? WIDEST;
      return [String.fromCodePoint(code), { plain: wide(plain), bold: wide(bold) }];
    }),
  );
}

/** Whether the standard fonts hold a character. */
export const onPaper = (character: string): boolean => WIDTHS.has(character);

/** Width of a character of `plainText` in thousandths of its size. */
export const widthOf = (character: string, bold: boolean): number =>
  WIDTHS.get(character)?.[bold ? 'bold' : 'plain'] ?? WIDEST;

/** Every character the trade uses that the standard fonts lack, and how it is written with what they have. */
export const WRITTEN: Readonly<Record<string, string>> = {
  '⌀': 'Ø',
  '∅': 'Ø',
  '″': '"',
  '′': "'",
  ʹ: "'",
  ʺ: '"',
  '‴': '"\'',
  '⅓': '1/3',
  '⅔': '2/3',
  '⅕': '1/5',
  '⅖': '2/5',
  '⅗': '3/5',
  '⅘': '4/5',
  '⅙': '1/6',
  '⅚': '5/6',
  '⅐': '1/7',
  '⅑': '1/9',
  '⅒': '1/10',
  '⅛': '1/8',
  '⅜': '3/8',
  '⅝': '5/8',
  '⅞': '7/8',
  '⁄': '/',
  '∕': '/',
  '∶': ':',
  '≤': '<=',
  '≥': '>=',
  '≠': 'not =',
  '≈': '~',
  '∼': '~',
  '≡': '=',
  '→': '->',
  '←': '<-',
  '↔': '<->',
  '↑': 'up',
  '↓': 'down',
  '⇒': '=>',
  Δ: 'delta ',
  '∆': 'delta ',
  Σ: 'sum ',
  '∑': 'sum ',
  φ: 'phi',
  θ: 'theta',
  α: 'alpha',
  β: 'beta',
  δ: 'delta',
  σ: 'sigma',
  π: 'pi',
  μ: 'µ',
  τ: 'tau',
  Ω: 'ohm',
  '−': '-',
  '‐': '-',
  '‑': '-',
  '‒': '–',
  '―': '—',
  '⁃': '-',
  '﹣': '-',
  '－': '-',
  '√': 'sqrt ',
  '∓': '-/+',
  '∫': 'integral ',
  '∮': 'integral ',
  ν: 'nu',
  '∞': 'infinite',
  '∠': 'angle ',
  '⊥': 'square to ',
  '∥': 'parallel to ',
  '✓': 'yes',
  '✔': 'yes',
  '☑': 'yes',
  '✗': 'no',
  '✕': 'x',
  '✖': 'x',
  '✘': 'no',
  '☐': '[ ]',
  '●': '•',
  '○': 'o',
  '■': '•',
  '◐': 'o',
  '▬': '=',
  '▭': '=',
  '□': '[ ]',
  '△': '^',
  '▨': '#',
  '◌': 'o',
  '▪': '•',
  '★': '*',
  '▸': '>',
  '▶': '>',
  '►': '>',
  '◂': '<',
  '◀': '<',
  '◄': '<',
  '▲': 'up',
  '▼': 'down',
  '▾': 'down',
  '₀': '0',
  '₁': '1',
  '₂': '2',
  '₃': '3',
  '₄': '4',
  '₅': '5',
  '₆': '6',
  '₇': '7',
  '₈': '8',
  '₉': '9',
  '⁰': '0',
  '⁴': '4',
  '⁵': '5',
  '⁶': '6',
  '⁷': '7',
  '⁸': '8',
  '⁹': '9',
  '⁺': '+',
  '⁻': '-',
  ⁿ: 'n',
  ł: 'l',
  Ł: 'L',
  đ: 'd',
  Đ: 'D',
  ħ: 'h',
  ı: 'i',
  ĸ: 'k',
  ŋ: 'n',
  ẞ: 'SS',
  ﬁ: 'fi',
  ﬂ: 'fl',
  '‛': "'",
  '‟': '"',
  '№': 'No. ',
  ℓ: 'l',
  '℃': '°C',
  '℉': '°F',
};

/** White space of every kind; what is not seen at all: control and joining signs, marks of direction, soft hyphens. */
const SPACE = /[\p{Zs}\p{Zl}\p{Zp}\t\n\r\v\f]/u;
const UNSEEN = /[\p{Cc}\p{Cf}\p{Mn}\p{Me}]|[\uFE00-\uFE0F]/u;

/** One character as paper has it: itself, its other writing, a space, nothing, its bare letter, or its number. */
function written(character: string): string {
  if (onPaper(character)) return character;
  const known = WRITTEN[character];
  if (known !== undefined) return known;
  if (SPACE.test(character)) return ' ';
  if (UNSEEN.test(character)) return '';
  // The letter under its accent, or the plain form of a wide one.
  const bare = [...character.normalize('NFKD')].filter((c) => !UNSEEN.test(c));
  if (bare.length > 0 && bare.every((c) => onPaper(c) || WRITTEN[c] !== undefined)) return bare.map(written).join('');
  const number = (character.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, '0');
  return `‹U+${number}›`;
}

/**
 * A text as paper can carry it: only characters of the standard fonts. Never throws; an accent that the fonts lack is
 * left off its letter, nothing else that can be seen is dropped.
 * `plainText('⌀ ⅝″ → 2')` is `Ø 5/8" -> 2`; `plainText('翼')` is `‹U+7FFC›`.
 */
export function plainText(text: string): string {
  let out = '';
  for (const c of text.normalize('NFC')) out += written(c);
  return out;
}
