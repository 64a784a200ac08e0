import { BASIS, type BasisMark, type BasisWord } from '../../checks/basis.ts';
import type { Ink } from './page.ts';
import { line, type Point, segment, shape } from './path.ts';
import { textAt } from './text.ts';
import { leadOf, riseOf, textWidth } from './type.ts';

/*
 * The mark of what a value rests on, told apart by its shape in one ink: filled where it was read, hollow where it
 * was not. Drawn about its middle, as high as a figure of ten points.
 */

/** From a mark's middle to its edge, mm. */
const R = 1.05;
/** Room a mark takes before a text, mm. */
export const MARK_ROOM = 3.3;

/** Points round a circle, from one angle to another, degrees, anticlockwise from the right. */
function arc([x, y]: Point, from: number, to: number): Point[] {
  const steps = 12;
  return Array.from({ length: steps + 1 }, (_, i): Point => {
    const a = ((from + ((to - from) * i) / steps) * Math.PI) / 180;
    return [x + R * Math.cos(a), y - R * Math.sin(a)];
  });
}

const box = ([x, y]: Point, wide: number, high: number): Point[] => [
  [x - wide, y - high],
  [x + wide, y - high],
  [x + wide, y + high],
  [x - wide, y + high],
];

const DRAW: Readonly<Record<BasisMark, (at: Point) => Ink[]>> = {
  disc: (at) => [shape(arc(at, 0, 360), 'hairline', 'ink')],
  'half disc': (at) => [shape(arc(at, 0, 360), 'hairline', 'none'), shape(arc(at, 90, 270), null, 'ink')],
  tick: ([x, y]) => [
    line(
      [
        [x - R, y],
        [x - 0.2, y + R],
        [x + R, y - R],
      ],
      'outline',
    ),
  ],
  'broken ring': (at) => [line(arc(at, 40, 160), 'outline'), line(arc(at, 220, 340), 'outline')],
  hatched: (at) => {
    const [x, y] = at;
    const hatch = [-0.5, 0, 0.5].map((d) => {
      const half = R - Math.abs(d);
      return segment([x + d - half, y + d + half], [x + d + half, y + d - half], 'hairline');
    });
    return [shape(box(at, R, R), 'hairline', 'none'), ...hatch];
  },
  corners: (at) => {
    const far = R;
    const long = 0.6;
    const [x, y] = at;
    return [-1, 1].flatMap((i) =>
      [-1, 1].map((j) =>
        line(
          [
            [x + i * far, y + j * (far - long)],
            [x + i * far, y + j * far],
            [x + i * (far - long), y + j * far],
          ],
          'hairline',
        ),
      ),
    );
  },
  sheet: (at) => [shape(box(at, R, 0.45), 'hairline', 'none')],
  'two sheets': ([x, y]) => [
    shape(box([x, y - 0.5], R, 0.4), 'hairline', 'none'),
    shape(box([x, y + 0.5], R, 0.4), 'hairline', 'none'),
  ],
  triangle: ([x, y]) => [
    shape(
      [
        [x, y - R],
        [x + R, y + R],
        [x - R, y + R],
      ],
      'hairline',
      'none',
    ),
  ],
};

/**
 * A mark about a point; nothing where the word alone is said. Each of its lines knows what it means, for who cannot
 * see it.
 */
export function basisInk(basis: BasisWord, at: Point): Ink[] {
  const { mark } = BASIS[basis];
  if (!mark) return [];
  return DRAW[mark](at).map((ink) => (ink.kind === 'path' ? { ...ink, means: basis } : ink));
}

/** What the marks among some ink mean, each once, in the order of the table of words. */
export function marksIn(ink: readonly Ink[]): BasisWord[] {
  const used = new Set(ink.flatMap((i) => (i.kind === 'path' && i.means ? [i.means] : [])));
  return (Object.keys(BASIS) as BasisWord[]).filter((b) => used.has(b));
}

/** Between one mark's word and the next mark, mm. */
const APART = 4;
const wideOf = (basis: BasisWord): number => MARK_ROOM + textWidth(BASIS[basis].word) + APART;

/** Marks in lines, as many in each as go into a width. */
function legendLines(marks: readonly BasisWord[], width: number): BasisWord[][] {
  const lines: BasisWord[][] = [];
  let left = 0;
  for (const basis of marks) {
    const wide = wideOf(basis);
    const last = lines.at(-1);
    if (last && wide - APART <= left) last.push(basis);
    else {
      lines.push([basis]);
      left = width;
    }
    left -= wide;
  }
  return lines;
}

/** Height of the legend of every mark there is, mm: what a sheet that may use them keeps free at its foot. */
export const legendHeight = (width: number): number =>
  legendLines(
    (Object.keys(BASIS) as BasisWord[]).filter((b) => BASIS[b].mark),
    width,
  ).length * leadOf();

/** Marks with their words, the first line's top at y. */
export function legendInk(marks: readonly BasisWord[], [x, y]: Point, width: number): Ink[] {
  return legendLines(marks, width).flatMap((line, i): Ink[] => {
    const base = y + i * leadOf() + riseOf();
    let left = x;
    return line.flatMap((basis): Ink[] => {
      const at = left;
      left += wideOf(basis);
      return [...basisInk(basis, [at + R, base - R - 0.1]), textAt(BASIS[basis].word, [at + MARK_ROOM, base])];
    });
  });
}
