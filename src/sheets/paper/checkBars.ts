import { type Box, type Ink, MARGIN } from './page.ts';
import { segment } from './path.ts';
import { textAt, textLines } from './text.ts';
import { linesHeight, riseOf, textWidth, wrap } from './type.ts';

/*
 * What shows that a full-size page was printed at its size: 100 mm and 4 in, both ways, and the words that go with
 * them.
 */

/** The words beside the check bars of every full-size page. */
export const BAR_NOTE =
  'Lay a steel rule on all four bars before cutting. If one is off, print again at actual size (100 %), not fitted to the page.';

/** Room that check bars take from the left and from the bottom of a full-size page's area, mm. */
export const BAR_ROOM = { left: 14, bottom: 18 } as const;

/** Between the two scales of a pair. */
const APART = 2;

/** A scale of a length in steps, mm; its ticks stand on the inner (−1) or outer (1) side of the pair. */
interface Scale {
  readonly length: number;
  readonly step: number;
  readonly ticks: 1 | -1;
  readonly label: string;
}

const METRIC: Scale = { length: 100, step: 10, ticks: -1, label: '100 mm' };
const INCH: Scale = { length: 101.6, step: 12.7, ticks: 1, label: '4 in' };

type Point = readonly [x: number, y: number];
/** The page's point so far along a scale and so far off to its outer side. */
type Lay = (along: number, off: number) => Point;

const levelFrom =
  ([x, y]: Point): Lay =>
  (along, off) => [x + along, y + off];
const uprightFrom =
  ([x, y]: Point): Lay =>
  (along, off) => [x + off, y - along];

/** The line of a scale and its ticks, every fifth and the last of them longer. */
function scaleInk({ length, step, ticks }: Scale, lay: Lay): Ink[] {
  const count = Math.round(length / step);
  const tick = (i: number): Ink => {
    const long = i % 5 === 0 || i === count ? 3.2 : 1.8;
    const isEnd = i === 0 || i === count;
    return segment(lay(i * step, 0), lay(i * step, ticks * long), isEnd ? 'outline' : 'hairline');
  };
  return [segment(lay(0, 0), lay(length, 0), 'outline'), ...Array.from({ length: count + 1 }, (_, i) => tick(i))];
}

/** How far the label's baseline stands off the scale's line, to its ticks' side. */
const labelOff = ({ ticks }: Scale, above: number): number => (ticks === -1 ? -above : 0.2 + riseOf());

const levelScale = (scale: Scale, from: Point): Ink[] => {
  const lay = levelFrom(from);
  return [...scaleInk(scale, lay), textAt(scale.label, lay(scale.length + 1.5, labelOff(scale, 0.2)))];
};

const uprightScale = (scale: Scale, from: Point): Ink[] => {
  const lay = uprightFrom(from);
  return [...scaleInk(scale, lay), textAt(scale.label, lay(scale.length + 1.5, labelOff(scale, 0.4)), { turn: 90 })];
};

/** Both pairs of scales beside and under a page's own area, and their words. */
export function checkBars(area: Box): Ink[] {
  const bottom = area.y + area.height;
  const [x, y] = [area.x, bottom + BAR_ROOM.bottom / 2];
  const [left, foot] = [MARGIN + 4.6, bottom - 1];
  const wordsFrom = x + INCH.length + 1.5 + textWidth(METRIC.label) + 5;
  const lines = wrap(BAR_NOTE, area.x + area.width - wordsFrom, { bold: true });
  const top = y + APART / 2 - linesHeight(lines.length) / 2;
  return [
    ...levelScale(METRIC, [x, y]),
    ...levelScale(INCH, [x, y + APART]),
    ...uprightScale(METRIC, [left, foot]),
    ...uprightScale(INCH, [left + APART, foot]),
    ...textLines(lines, [wordsFrom, top], { bold: true }),
  ];
}
