import { type Ink, type Page, type Sheet, STROKES } from '../../src/sheets/paper/page.ts';
import { readPath } from '../../src/sheets/paper/path.ts';
import { textWidth } from '../../src/sheets/paper/type.ts';

/* What a person sees on a page: where ink lies, and what stands on one line. */

export interface Bounds {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}
export type TextInk = Extract<Ink, { kind: 'text' }>;

const MM = 25.4 / 72;
const around = (points: readonly (readonly [number, number])[], by = 0): Bounds => ({
  left: Math.min(...points.map((p) => p[0])) - by,
  right: Math.max(...points.map((p) => p[0])) + by,
  top: Math.min(...points.map((p) => p[1])) - by,
  bottom: Math.max(...points.map((p) => p[1])) + by,
});

/** Corners of a text: from its baseline 0.72 of its size up, and 0.21 down where a letter hangs. */
export function textBounds(t: TextInk): Bounds {
  const width = textWidth(t.text, { size: t.size, bold: t.bold ?? false });
  const from = -width * { start: 0, middle: 0.5, end: 1 }[t.align ?? 'start'];
  const [up, down] = [0.72 * t.size * MM, /[gjpqy(),;|ç/@_]/.test(t.text) ? 0.21 * t.size * MM : 0];
  const turn = ((t.turn ?? 0) * Math.PI) / 180;
  const at = (along: number, over: number): [number, number] => [
    t.x + along * Math.cos(turn) - over * Math.sin(turn),
    t.y - along * Math.sin(turn) - over * Math.cos(turn),
  ];
  return around([at(from, up), at(from + width, up), at(from, -down), at(from + width, -down)]);
}

export function boundsOf(ink: Ink): Bounds {
  if (ink.kind === 'text') return textBounds(ink);
  const half = ink.stroke ? STROKES[ink.stroke].width / 2 : 0;
  if (ink.kind === 'circle')
    return around(
      [
        [ink.x - ink.r, ink.y - ink.r],
        [ink.x + ink.r, ink.y + ink.r],
      ],
      half,
    );
  const points = readPath(ink.d).flatMap(([, ...n]) =>
    Array.from({ length: n.length / 2 }, (_, i): [number, number] => [n[2 * i] as number, n[2 * i + 1] as number]),
  );
  return around(points, half);
}

/** Texts of a page line by line from the top, each line from the left. */
function linesOf(page: Page): string[][] {
  const texts = page.ink.filter((i): i is TextInk => i.kind === 'text' && !i.turn && i.text.trim() !== '');
  const rows = new Map<number, TextInk[]>();
  for (const t of texts) {
    const y = [...rows.keys()].find((k) => Math.abs(k - t.y) < 0.05) ?? t.y;
    rows.set(y, [...(rows.get(y) ?? []), t]);
  }
  return [...rows]
    .sort((a, b) => a[0] - b[0])
    .map(([, line]) => line.sort((a, b) => textBounds(a).left - textBounds(b).left).map((t) => t.text));
}

export const allLines = (sheet: Sheet): string[][] => sheet.pages.flatMap(linesOf);

/** A page's words in reading order, in one string. */
export const wordsOf = (page: Page): string =>
  linesOf(page)
    .map((l) => l.join(' '))
    .join(' ');

/** The line of a sheet whose first texts are these. */
export function lineAt(sheet: Sheet, ...start: readonly string[]): string[] {
  const found = allLines(sheet).filter((l) => start.every((s, i) => l[i] === s));
  if (found.length !== 1) throw new Error(`${found.length} lines of "${sheet.title}" start with ${start.join(', ')}`);
  return found[0]!;
}
