import type { Vec2 } from '../../geometry/vector.ts';
import type { FlatDrawing, FlatLine } from './drawFlat.ts';

/*
 * A drawing larger than the paper, cut into tiles that overlap; drawings turned a quarter; lines clipped to a tile.
 */

/** How far two neighbouring tiles show the same, mm. */
export const OVERLAP = 16;

/** The drawing turned a quarter anticlockwise. */
export function quarterTurned(d: FlatDrawing): FlatDrawing {
  const turn = ([x, y]: Vec2): Vec2 => [-y, x];
  return {
    lines: d.lines.map((l) => ({ ...l, points: l.points.map(turn) })),
    labels: d.labels.map((l) => ({ ...l, at: turn(l.at) })),
    inside: d.inside.map(turn),
    low: [-d.high[1], d.low[0]],
    high: [-d.low[1], d.high[0]],
  };
}

export interface Tile {
  readonly low: Vec2;
  readonly high: Vec2;
  readonly column: number;
  readonly row: number;
}

/** Tiles of equal size that cover a drawing, overlapping, none larger than the paper's area. */
export interface Tiling {
  readonly columns: number;
  readonly rows: number;
  readonly tiles: readonly Tile[];
}

/** How many tiles of most `room` cover a length with the overlap between neighbours. 287 in 172: 2. */
export const tilesFor = (length: number, room: number): number =>
  length <= room ? 1 : Math.ceil((length - OVERLAP) / (room - OVERLAP));

export function tiled(
  { low, high }: Pick<FlatDrawing, 'low' | 'high'>,
  room: { readonly width: number; readonly height: number },
): Tiling {
  const [w, h] = [high[0] - low[0], high[1] - low[1]];
  const [columns, rows] = [tilesFor(w, room.width), tilesFor(h, room.height)];
  const [wide, tall] = [(w + (columns - 1) * OVERLAP) / columns, (h + (rows - 1) * OVERLAP) / rows];
  const tiles = Array.from({ length: rows * columns }, (_, i): Tile => {
    const [column, row] = [i % columns, Math.floor(i / columns)];
    const [x, y] = [low[0] + column * (wide - OVERLAP), high[1] - row * (tall - OVERLAP)];
    return { low: [x, y - tall], high: [x + wide, y], column, row };
  });
  return { columns, rows, tiles };
}

/** The stretches of a line inside a rectangle. */
export function clipped({ points, stroke }: FlatLine, { low, high }: Pick<Tile, 'low' | 'high'>): FlatLine[] {
  // What lies on the tile's very edge is in it, whatever the last figure says.
  const [least, most]: [Vec2, Vec2] = [
    [low[0] - 1e-6, low[1] - 1e-6],
    [high[0] + 1e-6, high[1] + 1e-6],
  ];
  const pieces: Vec2[][] = [];
  points.slice(1).forEach((b, i) => {
    const cut = segmentIn(points[i] ?? b, b, least, most);
    if (!cut) return;
    const open = pieces.at(-1);
    if (open && meets(open.at(-1), cut[0])) open.push(cut[1]);
    else pieces.push([...cut]);
  });
  return pieces.map((piece) => ({ points: piece, stroke }));
}

const meets = (a: Vec2 | undefined, b: Vec2): boolean => a !== undefined && Math.hypot(a[0] - b[0], a[1] - b[1]) < 1e-9;

/** The part of a → b inside a rectangle (Liang and Barsky), undefined where there is none. */
export function segmentIn(a: Vec2, b: Vec2, low: Vec2, high: Vec2): [Vec2, Vec2] | undefined {
  let [from, to] = [0, 1];
  const d: Vec2 = [b[0] - a[0], b[1] - a[1]];
  for (const k of [0, 1] as const) {
    for (const [p, q] of [
      [-d[k], a[k] - low[k]],
      [d[k], high[k] - a[k]],
    ] as const) {
      if (p === 0) {
        if (q < 0) return undefined;
        continue;
      }
      const r = q / p;
      if (p < 0) from = Math.max(from, r);
      else to = Math.min(to, r);
    }
  }
  if (from > to) return undefined;
  const at = (s: number): Vec2 => [a[0] + s * d[0], a[1] + s * d[1]];
  return [at(from), at(to)];
}
