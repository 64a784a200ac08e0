import type { Vec2 } from '../../geometry/vector.ts';
import type { Box, Ink } from '../paper/page.ts';
import { line } from '../paper/path.ts';
import { textAt, textLines } from '../paper/text.ts';
import { linesHeight, riseOf, textWidth, wrap } from '../paper/type.ts';
import type { FlatDrawing } from './drawFlat.ts';
import type { Item } from './items.ts';
import { type Block, TILE_HEAD, tileBlocks } from './tileBlocks.ts';
import { quarterTurned } from './tiles.ts';
import { type Lay, writing } from './writing.ts';

/*
 * A drawing and its caption as blocks for a page: side by side or one under the other, or in tiles where it is too
 * large.
 */

/** Between two blocks on a page, and between a drawing and its caption, mm. */
const APART = 6;
/** Widths a caption beside a drawing is tried at, mm. */
const BESIDE = [64, 52];
/** Beside a strip. */
const NARROW = [46];
const PICTURE = { width: 46, height: 28 };
const HEAD = 13;
/** From this width on a caption has its picture beside it, mm. */
const WIDE = 110;

interface Room {
  readonly width: number;
  readonly height: number;
}

/** The drawing as it lies on the page. */
interface Turned {
  readonly drawing: FlatDrawing;
  readonly turned: boolean;
}

/**
 * Drawing and caption side by side, or one under the other, whichever puts most on a page; a drawing too large for
 * the page as tiles, then its caption.
 */
export function blocksOf(item: Item, room: Room): Block[] {
  const turns = turnsOf(item);
  const choices = turns.flatMap((t) => [...captionWidths(item).map((w) => beside(item, t, w)), under(item, t, room)]);
  const counted = choices.map((block) => ({ block, many: goesOn(room, block) }));
  const best = counted.reduce((a, b) => (b.many > a.many ? b : a));
  if (best.many > 0) return [best.block];
  const inside = { width: room.width, height: room.height - TILE_HEAD };
  return [...tileBlocks(item, turns, inside), caption(item, room.width, true)];
}

/** What has names beside its holes stays upright. */
function turnsOf({ drawing }: Item): Turned[] {
  const upright = { drawing, turned: false };
  return drawing.labels.length > 0 ? [upright] : [upright, { drawing: quarterTurned(drawing), turned: true }];
}

const captionWidths = ({ drawing }: Item): readonly number[] => (drawing.labels.length > 0 ? NARROW : BESIDE);

/** How many blocks of one size go on a page. */
const goesOn = (room: Room, block: Room): number =>
  Math.floor((room.width + APART) / (block.width + APART)) * Math.floor((room.height + APART) / (block.height + APART));

/** Head, lines and picture, so wide; the picture beside them where there is room, else under them. */
function caption(item: Item, width: number, pictured: boolean): Block {
  const picture = pictured ? item.picture : undefined;
  const isBeside = picture !== undefined && width > WIDE;
  const drawn = { width: Math.min(PICTURE.width, width), height: PICTURE.height };
  const textWide = isBeside ? width - drawn.width - 4 : width;
  const head = wrap(item.head, textWide, { size: HEAD, bold: true });
  const lines = item.lines.flatMap((l) => wrap(l, textWide));
  const linesFrom = linesHeight(head.length, HEAD) + 1.5;
  const said = linesFrom + linesHeight(lines.length);
  const words = (x: number, y: number): Ink[] => [
    ...textLines(head, [x, y], { size: HEAD, bold: true }),
    ...textLines(lines, [x, y + linesFrom]),
  ];
  if (!picture) return { width, height: said, draw: words };
  if (isBeside)
    return {
      width,
      height: Math.max(said, drawn.height + 2),
      draw: (x, y) => [...words(x, y), ...picture({ x: x + width - drawn.width, y: y + 1, ...drawn })],
    };
  return {
    width,
    height: said + 3 + drawn.height,
    draw: (x, y) => [...words(x, y), ...picture({ x, y: y + said + 3, ...drawn })],
  };
}

function beside(item: Item, { drawing, turned }: Turned, wide: number): Block {
  const { width, height } = sizeOf(drawing);
  const words = caption(item, wide, true);
  const ink = inkOf(item, { drawing, turned });
  return {
    width: width + APART + wide,
    height: Math.max(height, words.height),
    draw: (x, y) => [...ink(x, y), ...words.draw(x + width + APART, y)],
  };
}

/** The words over the drawing across the whole page, the picture beside the drawing where it goes. */
function under(item: Item, { drawing, turned }: Turned, room: Room): Block {
  const { width, height } = sizeOf(drawing);
  const picture = width + 2 * APART + PICTURE.width <= room.width ? item.picture : undefined;
  const words = caption(item, room.width, picture === undefined);
  const ink = inkOf(item, { drawing, turned });
  const top = words.height + 4;
  return {
    width: Math.max(width, room.width),
    height: top + Math.max(height, picture ? PICTURE.height : 0),
    draw: (x, y) => [
      ...words.draw(x, y),
      ...ink(x, y + top),
      ...(picture?.({ x: x + width + 2 * APART, y: y + top, ...PICTURE }) ?? []),
    ],
  };
}

/** A drawing's size with the names beside it. */
function sizeOf({ low, high, labels }: FlatDrawing): Room {
  const named = Math.max(0, ...labels.map((l) => l.at[0] + textWidth(l.text) - high[0]));
  return { width: high[0] - low[0] + named, height: high[1] - low[1] };
}

/** The drawing with its upper left corner at (x, y), its names and what is written on it. */
function inkOf(item: Item, { drawing, turned }: Turned): (x: number, y: number) => Ink[] {
  const { low, high, lines, labels } = drawing;
  return (x, y) => {
    const at: Lay = ([px, py]: Vec2) => [x + px - low[0], y + high[1] - py];
    const written = writing(item, { drawing, tile: { low, high }, turned });
    return [
      ...lines.map((l) => line(l.points.map(at), l.stroke)),
      ...labels.map((l) => {
        const [tx, ty] = at(l.at);
        return textAt(l.text, [tx, ty + riseOf() / 2]);
      }),
      ...written(at),
    ];
  };
}

/** Blocks side by side in rows, rows one under another, page after page, in their order. */
export function packed(blocks: readonly Block[], boxOf: (page: number) => Box): Ink[][] {
  const pages: Ink[][] = [[]];
  let box = boxOf(0);
  let [x, y, tall] = [box.x, box.y, 0];
  for (const b of blocks) {
    if (x > box.x && x + b.width > box.x + box.width + 1e-6) [x, y, tall] = [box.x, y + tall + APART, 0];
    if (y > box.y && y + b.height > box.y + box.height + 1e-6) {
      box = boxOf(pages.length);
      pages.push([]);
      [x, y, tall] = [box.x, box.y, 0];
    }
    pages.at(-1)?.push(...b.draw(x, y));
    x += b.width + APART;
    tall = Math.max(tall, b.height);
  }
  return pages;
}
