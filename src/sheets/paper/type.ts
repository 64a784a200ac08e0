import { plainText, widthOf } from './characters.ts';

/*
 * How wide a text is and where it breaks: the standard sans-serif's own widths, so that what is laid out here is what
 * every viewer and printer shows. Lengths in mm, sizes in points.
 */

export const MM_PER_POINT = 25.4 / 72;

/** Least size of a text on paper, points. */
export const LEAST_SIZE = 10;

/** How far a line's baseline lies under its top, and the next line's under this one, as shares of the size. */
const RISE = 0.74;
const LEADING = 1.22;
/** How far the tails of letters reach under the baseline. */
const FALL = 0.22;

export interface Type {
  /** Points; 10 unless told. */
  readonly size?: number;
  readonly bold?: boolean;
}

/** Width of one line, mm: `textWidth('M2', { size: 10 })` is 4.9. */
export function textWidth(text: string, { size = LEAST_SIZE, bold = false }: Type = {}): number {
  let sum = 0;
  for (const c of plainText(text)) sum += widthOf(c, bold);
  return (sum / 1000) * size * MM_PER_POINT;
}

/** From the top of a line to its baseline, mm. */
export const riseOf = (size: number = LEAST_SIZE): number => RISE * size * MM_PER_POINT;

/** From a baseline to the lowest tail, mm. */
export const fallOf = (size: number = LEAST_SIZE): number => FALL * size * MM_PER_POINT;

/** From one baseline to the next, mm. */
export const leadOf = (size: number = LEAST_SIZE): number => LEADING * size * MM_PER_POINT;

/** Height of n lines, from the top of the first to the tails of the last, mm. */
export const linesHeight = (n: number, size: number = LEAST_SIZE): number =>
  n === 0 ? 0 : riseOf(size) + (n - 1) * leadOf(size) + fallOf(size);

/** A word too long for the line, cut where it must be. */
function cut(word: string, width: number, type: Type): string[] {
  const pieces: string[] = [];
  let piece = '';
  for (const c of word) {
    if (piece !== '' && textWidth(piece + c, type) > width) {
      pieces.push(piece);
      piece = '';
    }
    piece += c;
  }
  return [...pieces, piece];
}

/**
 * A text as lines no wider than `width` mm, broken between words, at line ends of the text itself, and inside a word
 * only where it alone is too wide.
 */
export function wrap(text: string, width: number, type: Type = {}): string[] {
  return text.split('\n').flatMap((line) => {
    const lines: string[] = [];
    let now = '';
    for (const word of plainText(line)
      .split(' ')
      .filter((w) => w !== '')) {
      const longer = now === '' ? word : `${now} ${word}`;
      if (textWidth(longer, type) <= width + 1e-9) {
        now = longer;
        continue;
      }
      if (now !== '') lines.push(now);
      const pieces = textWidth(word, type) > width ? cut(word, width, type) : [word];
      lines.push(...pieces.slice(0, -1));
      now = pieces.at(-1) ?? '';
    }
    return [...lines, now];
  });
}
