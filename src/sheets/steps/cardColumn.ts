import { basisInk, MARK_ROOM } from '../paper/basisMark.ts';
import type { Ink } from '../paper/page.ts';
import { rectangle } from '../paper/path.ts';
import { textAt, textLines } from '../paper/text.ts';
import { leadOf, riseOf, textWidth, wrap } from '../paper/type.ts';
import type { Step } from './step.ts';
import { STEP_PICTURE } from './stepInk.ts';
import { numberText } from './stepNumber.ts';

/*
 * The words of a card, beside its picture: why not yet, how to hold it, the layers, the one number.
 */

/** From a card's edge to what stands in it, mm. */
export const LEFT = 3;
/** Height of the line at a card's foot, mm. */
export const FOOT = 11;
/** Where the words begin, mm from the card's edge. */
const COLUMN = LEFT + STEP_PICTURE.width + 4;
/** Sizes of a card's words, tried from the largest: the first at which the column is not too long; else the last. */
const SIZES = [1.3, 1.2, 1.1, 1, 0.92, 0.84] as const;
const SMALLEST = 0.84;
/** No word of a card is smaller, points. */
const LEAST = 10;
/** From the edge of a bar or box to the words in it, mm. */
const INSET = 2;

/** A card's room, mm. */
export interface Room {
  readonly width: number;
  readonly height: number;
}

/** The column of words beside the picture, being filled. */
class Column {
  readonly ink: Ink[] = [];
  readonly #width: number;
  readonly #grow: number;
  y: number;

  constructor(top: number, width: number, grow: number) {
    this.y = top;
    this.#width = width;
    this.#grow = grow;
  }

  #size(points: number): number {
    return Math.max(LEAST, points * this.#grow);
  }

  words(text: string, points: number): void {
    const size = this.#size(points);
    const lines = wrap(text, this.#width, { size });
    this.ink.push(...textLines(lines, [COLUMN, this.y], { size }));
    this.y += lines.length * leadOf(size) + 0.8;
  }

  /** White on black, as wide as the column. */
  band(text: string, points: number): void {
    const size = this.#size(points);
    const lines = wrap(text, this.#width - 2 * INSET, { size, bold: true });
    const height = lines.length * leadOf(size) + 2;
    this.ink.push(
      rectangle(COLUMN, this.y, this.#width, height, null, 'ink'),
      ...textLines(lines, [COLUMN + INSET, this.y + 1], { size, bold: true, white: true }),
    );
    this.y += height + 1.5;
  }

  /** Layers as they lie, one bar each from the drill side down. */
  layers(names: readonly string[]): void {
    if (names.length === 0) return;
    this.words('Layers, drill side on top:', 10);
    const size = this.#size(11);
    const height = leadOf(size) + 1.2;
    for (const [i, name] of names.entries()) {
      const y = this.y + i * height;
      this.ink.push(
        rectangle(COLUMN, y, this.#width, height, 'hairline', i % 2 === 0 ? 'light' : 'paper'),
        textAt(name, [COLUMN + INSET, y + 0.7 + riseOf(size)], { size, bold: true }),
      );
    }
    this.y += names.length * height + 2;
  }

  /** The one number, large in a box, with the line under it that must not be overlooked. */
  number({ check }: Step, units: 'mm' | 'in'): void {
    if (!check) return;
    const { large, small, band } = numberText(check, units);
    const top = this.y + 0.5;
    const smallSize = this.#size(10);
    let y = top + 1.5;
    for (const { figure, words } of large) y = this.#figure(figure, words, y, this.#size(large.length > 1 ? 18 : 24));
    if (small) {
      const basis = 'basis' in check ? check.basis : undefined;
      const left = COLUMN + INSET + (basis ? MARK_ROOM : 0);
      const lines = wrap(small, COLUMN + this.#width - INSET - left, { size: smallSize });
      if (basis) this.ink.push(...basisInk(basis, [left - MARK_ROOM / 2 - 0.3, y + riseOf(smallSize) / 2 + 0.4]));
      this.ink.push(...textLines(lines, [left, y], { size: smallSize }));
      y += lines.length * leadOf(smallSize);
    }
    this.ink.push(rectangle(COLUMN, top, this.#width, y + 1 - top, 'heavy', 'none'));
    this.y = y + 2.5;
    if (band) this.band(band, 13);
  }

  /** A large figure with its words, beside it where two lines do, else under it; where the next may begin. */
  #figure(figure: string, words: string, y: number, size: number): number {
    const bold = { size: this.#size(11), bold: true };
    const wide = textWidth(figure, { size, bold: true });
    const beside = wrap(words, this.#width - wide - 7, bold);
    const isUnder = beside.length > 2;
    const lines = isUnder ? wrap(words, this.#width - 2 * INSET, bold) : beside;
    const left = isUnder ? COLUMN + INSET : COLUMN + wide + 5;
    const first = isUnder ? y + leadOf(size) : y + 0.6;
    this.ink.push(
      ...textLines([figure], [COLUMN + INSET, y], { size, bold: true }),
      ...textLines(lines, [left, first], bold),
    );
    return Math.max(y + leadOf(size), first + lines.length * leadOf(bold.size) + 0.4);
  }
}

const sentence = (text: string): string =>
  `${text.charAt(0).toUpperCase()}${text.slice(1)}${/[.!?]$/.test(text) ? '' : '.'}`;

/** The words of a step's card, from `top` down, as large as they go into its room. */
export function columnInk(step: Step, units: 'mm' | 'in', top: number, room: Room): readonly Ink[] {
  const filled = (grow: number): Column => {
    const column = new Column(top, room.width - COLUMN - LEFT, grow);
    if (step.held) column.band(`NOT YET. ${sentence(step.held)} Ask first.`, 11);
    for (const text of step.lines) column.words(text, 12);
    column.layers(step.layers);
    column.number(step, units);
    return column;
  };
  const grow = SIZES.find((size) => filled(size).y <= room.height - FOOT) ?? SMALLEST;
  return filled(grow).ink;
}
