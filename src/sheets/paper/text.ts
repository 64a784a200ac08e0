import type { Align, Ink } from './page.ts';
import { LEAST_SIZE, leadOf, riseOf } from './type.ts';

/* Texts as ink. */

type TextInk = Extract<Ink, { kind: 'text' }>;

/** How a text is written: 10 points, plain, from its left, level and black unless told. */
export interface Written {
  readonly size?: number | undefined;
  readonly bold?: boolean | undefined;
  readonly align?: Align | undefined;
  /** Degrees anticlockwise. */
  readonly turn?: number | undefined;
  readonly white?: boolean | undefined;
}

/** One line of text, its baseline at y. */
export function textAt(
  text: string,
  [x, y]: readonly [number, number],
  { size = LEAST_SIZE, bold = false, align = 'start', turn = 0, white = false }: Written = {},
): TextInk {
  return {
    kind: 'text',
    x,
    y,
    text,
    size,
    ...(bold ? { bold } : {}),
    ...(align === 'start' ? {} : { align }),
    ...(turn === 0 ? {} : { turn }),
    ...(white ? { white } : {}),
  };
}

/** Lines of text one under another, the top of the first at y. */
export const textLines = (
  lines: readonly string[],
  [x, y]: readonly [number, number],
  written: Omit<Written, 'turn'> = {},
): Ink[] => lines.map((text, i) => textAt(text, [x, y + riseOf(written.size) + i * leadOf(written.size)], written));
