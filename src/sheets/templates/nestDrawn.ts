import type { Vec2 } from '../../geometry/vector.ts';
import type { Model } from '../../model/schema.ts';
import { flatBounds, outlineArea, polygonOf } from '../../parts/flat/flatShape.ts';
import { formatBoth, formatLength, formatPercent } from '../../units.ts';
import { type Block, heading, picture, pour, words } from '../paper/flow.ts';
import type { Box, Ink } from '../paper/page.ts';
import { arrowHead, rectangle, segment, shape } from '../paper/path.ts';
import { textAt } from '../paper/text.ts';
import { leadOf, linesHeight, riseOf, textWidth, wrap } from '../paper/type.ts';
import type { PlacedPiece, UsedBlank } from './nest.ts';
import { GAP, nestOn, type OnBlanks, type Outlined } from './onBlanks.ts';
import type { Piece } from './piece.ts';

/*
 * The blanks of a sheet drawn with the pieces on them, and what is said of them.
 */

/** What is said of one sheet and its first blank on one page together, then the other blanks; on a page so wide, mm. */
export function nestBlocks(model: Model, pieces: readonly Piece[], width: number): Block[] {
  const sheet = pieces[0]?.sheet;
  if (!sheet) return [];
  const nesting = nestOn(model, sheet.id, pieces);
  const lines = [...usedLines(model, nesting), ...leftLines(nesting)];
  const [first, ...rest] = nesting.used.map((u) => blankPicture(u, width));
  const said: Block[] = [
    heading(`Sheet ${sheet.id}, ${formatBoth(sheet.thickness)} ${sheet.alloy}`),
    ...lines.map((t) => words(t)),
  ];
  if (!first) return said;
  const head = linesHeight(1, 12) + 4;
  const text = lines.reduce((sum, t) => sum + wrap(t, width).length * leadOf() + 2, 0);
  const whole = picture(head + text + first.height, (box) => pour([...said, first], () => box).flat());
  return [{ kind: 'gap', height: 2 }, whole, ...rest];
}

const counted = (n: number, word: string): string => `${n} ${word}${n === 1 ? '' : 's'}`;

/** How many pieces on how many blanks, how much of them becomes offcut, and how good that is. */
function usedLines({ units }: Model, { used, least, assumed }: OnBlanks): string[] {
  if (used.length === 0) return ['Nothing fits on what is on hand.'];
  const placed = used.flatMap((u) => u.placed);
  const metal = placed.reduce((sum, p) => sum + outlineArea(p.piece.source.pattern.outline), 0);
  const begun = used.reduce((sum, u) => sum + u.blank.width * u.blank.height, 0);
  const sizes = used.map(
    ({ blank }) => `${formatLength(blank.width, units, { unitMark: false })} × ${formatLength(blank.height, units)}`,
  );
  const unlike = [...new Set(sizes)].join(' and ');
  const guessed = assumed ? ', a size assumed: the file lists no blank of this sheet on hand' : '';
  const best =
    used.length === least ? 'No packing does with fewer blanks.' : `By area alone ${least} would be the fewest.`;
  return [
    [
      `${counted(placed.length, 'piece')} on ${counted(used.length, 'blank')} of ${unlike}${guessed}.`,
      `${formatPercent(metal / begun)} of the sheet begun becomes pieces, ${formatPercent(1 - metal / begun)} is offcut.`,
      best,
      `Laid as rectangles, ${formatLength(GAP, units)} apart; by hand you may do better.`,
    ].join(' '),
  ];
}

const leftLines = ({ left }: OnBlanks): string[] =>
  left.length > 0 ? [`No room on what is on hand for ${left.map((p) => p.id).join(', ')}.`] : [];

/** How tall a blank is drawn at most, mm. */
const TALLEST = 46;

/** One blank to scale, its pieces in their outlines; grain runs along it. */
function blankPicture(used: UsedBlank<Outlined>, width: number): Extract<Block, { kind: 'picture' }> {
  const { blank } = used;
  const scale = Math.min(width / blank.width, TALLEST / blank.height);
  return { kind: 'picture', height: blank.height * scale + 6, draw: (box) => blankInk(used, box, scale) };
}

function blankInk({ blank, placed }: UsedBlank<Outlined>, box: Box, scale: number): Ink[] {
  const [w, h] = [blank.width * scale, blank.height * scale];
  const under = box.y + h + 3.6;
  return [
    rectangle(box.x, box.y, w, h, 'outline'),
    ...placed.flatMap((p) => pieceInk(p, box, scale)),
    segment([box.x + 2, under], [box.x + 20, under]),
    arrowHead(box.x + 21, under, 1, 0),
    arrowHead(box.x + 1, under, -1, 0),
    textAt(`grain; drawn 1 : ${(1 / scale).toFixed(1)}`, [box.x + 23, under + riseOf() / 2]),
  ];
}

function pieceInk(p: PlacedPiece<Outlined>, box: Box, scale: number): Ink[] {
  const [left, top] = [box.x + p.x * scale, box.y + p.y * scale];
  const outline = outlineAt(p.piece, p.turned).map(([x, y]): Vec2 => [left + x * scale, top + y * scale]);
  const room: Box = { x: left, y: top, width: p.width * scale, height: p.height * scale };
  return [shape(outline, 'hairline', 'light'), ...nameInk(p.piece.id, room)];
}

/** A piece's name in its middle, level where it goes, else upright, else not at all. */
function nameInk(name: string, { x, y, width, height }: Box): Ink[] {
  const wide = textWidth(name) + 1;
  const rise = riseOf() / 2;
  const [middle, across] = [x + width / 2, y + height / 2];
  if (wide <= width && height >= 4) return [textAt(name, [middle, across + rise], { align: 'middle' })];
  if (wide <= height && width >= 4) return [textAt(name, [middle + rise, across], { align: 'middle', turn: 90 })];
  return [];
}

/** A piece's outline as it lies, its rectangle's top left corner at the origin, y down. */
function outlineAt({ source }: Outlined, turned: boolean): Vec2[] {
  const points = polygonOf(source.pattern.outline, 0.2);
  const { low, high } = flatBounds(points);
  const quarter = (source.pattern.grain === 'y') !== turned;
  return points.map(([x, y]): Vec2 => (quarter ? [y - low[1], x - low[0]] : [x - low[0], high[1] - y]));
}
