import type { Vec2 } from '../../geometry/vector.ts';
import type { Ink } from '../paper/page.ts';
import { line, rectangle, segment } from '../paper/path.ts';
import { textAt, textLines } from '../paper/text.ts';
import { textWidth } from '../paper/type.ts';
import type { FlatDrawing, FlatLine } from './drawFlat.ts';
import type { Item } from './items.ts';
import { clipped, OVERLAP, type Tile, type Tiling, tiled } from './tiles.ts';
import { type Lay, writing } from './writing.ts';

/*
 * A drawing larger than the page, tile by tile: the lines to join tiles along, crosses to lay on one another, and a
 * small map of which tile it is.
 */

/** Something laid on a page whole: its size and its ink from its top left corner. */
export interface Block {
  readonly width: number;
  readonly height: number;
  readonly draw: (x: number, y: number) => Ink[];
}

/** Room over a tile for its title and map, mm. */
export const TILE_HEAD = 8;

/** Tiles of the drawing turned whichever way needs the fewest. */
export function tileBlocks(
  item: Item,
  turns: readonly { readonly drawing: FlatDrawing; readonly turned: boolean }[],
  room: { readonly width: number; readonly height: number },
): Block[] {
  const tilings = turns.map((t): Laid => ({ ...t, item, tiling: tiled(t.drawing, room) }));
  const fewest = tilings.reduce((a, b) => (b.tiling.tiles.length < a.tiling.tiles.length ? b : a));
  return fewest.tiling.tiles.map((tile, index) => tileBlock(fewest, tile, index));
}

/** A drawing laid in tiles. */
interface Laid {
  readonly item: Item;
  readonly drawing: FlatDrawing;
  readonly turned: boolean;
  readonly tiling: Tiling;
}

function tileBlock(laid: Laid, tile: Tile, index: number): Block {
  const { item, drawing, tiling } = laid;
  const head = TILE_HEAD - 1;
  const seams = seamsOf(tiling, tile);
  const written = index === 0 ? firstWriting(laid, tile, seams) : () => [];
  const title = `${item.head}, tile ${index + 1} of ${tiling.tiles.length}`;
  return {
    width: tile.high[0] - tile.low[0],
    height: tile.high[1] - tile.low[1] + head,
    draw: (x, y) => {
      const at: Lay = ([px, py]) => [x + px - tile.low[0], y + head + tile.high[1] - py];
      const shown = drawing.lines.flatMap((l) => clipped(l, tile));
      return [
        ...textLines([title], [x, y], { bold: true }),
        ...keyMap(tiling, index, [x + textWidth(title, { bold: true }) + 4, y]),
        ...shown.map((l) => line(l.points.map(at), l.stroke)),
        ...seams.flatMap((s) => s.crosses.flatMap((c) => crossInk(at(c.at), c.name))),
        ...seams.map((s) => line(s.line.map(at), 'hidden')),
        ...written(at),
      ];
    },
  };
}

/** The first tile carries the writing, clear of the seams and their crosses. */
function firstWriting({ item, drawing, turned, tiling }: Laid, tile: Tile, seams: readonly Seam[]) {
  const crosses = seams.flatMap((s) => s.crosses);
  const kept = crosses.map(
    ({ at: [x, y] }): FlatLine => ({
      stroke: 'hairline',
      points: [
        [x - 4, y - 4],
        [x + 8, y + 6],
      ],
    }),
  );
  const low: Vec2 = [tile.low[0] + (tile.column > 0 ? OVERLAP : 0), tile.low[1]];
  const high: Vec2 = [tile.high[0] - (tile.column < tiling.columns - 1 ? OVERLAP : 0), tile.high[1]];
  const surface = { ...drawing, lines: [...drawing.lines, ...kept] };
  return writing(item, { drawing: surface, tile: { low, high }, turned });
}

/** Where two tiles are joined: the middle of their overlap, with two crosses on it that are named alike on both. */
interface Seam {
  readonly line: readonly [Vec2, Vec2];
  readonly crosses: readonly { readonly at: Vec2; readonly name: string }[];
}

const letter = (k: number): string => String.fromCharCode(65 + (k % 26)) + (k >= 26 ? String(Math.floor(k / 26)) : '');

/** The seams of one tile: left, right, above, below, those it has. */
function seamsOf({ columns, rows, tiles }: Tiling, tile: Tile): Seam[] {
  const { low, high, column, row } = tile;
  const seam = (k: number, ends: readonly [Vec2, Vec2], crosses: readonly [Vec2, Vec2]): Seam => ({
    line: ends,
    crosses: crosses.map((at, i) => ({ at, name: `${letter(k)}${i + 1}` })),
  });
  const upright = (left: number): Seam => {
    const x = (tiles[left]?.high[0] ?? 0) - OVERLAP / 2;
    const at = (y: number): Vec2 => [x, y];
    return seam(row * (columns - 1) + left, [at(low[1]), at(high[1])], [at(high[1] - 6), at(low[1] + 6)]);
  };
  const level = (upper: number): Seam => {
    const y = (tiles[upper * columns]?.low[1] ?? 0) + OVERLAP / 2;
    const at = (x: number): Vec2 => [x, y];
    const in20 = 0.2 * (high[0] - low[0]);
    const k = rows * (columns - 1) + upper * columns + column;
    return seam(k, [at(low[0]), at(high[0])], [at(low[0] + in20), at(high[0] - in20)]);
  };
  return [
    ...(column > 0 ? [upright(column - 1)] : []),
    ...(column < columns - 1 ? [upright(column)] : []),
    ...(row > 0 ? [level(row - 1)] : []),
    ...(row < rows - 1 ? [level(row)] : []),
  ];
}

const crossInk = ([x, y]: Vec2, name: string): Ink[] => [
  segment([x - 3, y], [x + 3, y], 'outline'),
  segment([x, y - 3], [x, y + 3], 'outline'),
  textAt(name, [x + 1.2, y - 1.2], { bold: true }),
];

/** A small map of the tiles, this one dark. */
function keyMap({ columns, rows }: Tiling, index: number, [x, y]: Vec2): Ink[] {
  const size = Math.min(5, 6 / rows);
  return Array.from({ length: columns * rows }, (_, i) => {
    const [left, top] = [x + (i % columns) * size, y + Math.floor(i / columns) * size];
    return rectangle(left, top, size, size, 'hairline', i === index ? 'dark' : 'none');
  });
}
