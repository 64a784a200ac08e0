import { NEAR } from '../units/near.ts';
import type { Vec2 } from './vector.ts';

/*
 * The border of a shape on a grid as closed loops along the grid's lines: the shape on the left, so that an outside
 * runs counterclockwise and a hole clockwise.
 */

/** Right, up, left, down: one grid line on. */
const WAY_X = [1, 0, -1, 0] as const;
const WAY_Y = [0, 1, 0, -1] as const;
/** The cells left and right of each way out of a grid corner, as steps from the cell up and right of it. */
const LEFT_X = [0, -1, -1, 0] as const;
const LEFT_Y = [0, 0, -1, -1] as const;
const RIGHT_X = [0, 0, -1, -1] as const;
const RIGHT_Y = [-1, 0, 0, -1] as const;
/** Sharp left first, so that two cells touching at a corner stay two shapes. */
const TURNS = [1, 0, 3] as const;

/** Cells that are in, with one cell of margin all round, so that a border never leaves the grid. */
interface Mask {
  readonly cells: Uint8Array;
  readonly wide: number;
}

/**
 * Whether the border leaves the grid's corner (x, y) that way: the cell on its left is in, the one on its right is
 * not.
 */
function leaves({ cells, wide }: Mask, x: number, y: number, way: number): boolean {
  return (
    cells[(y + LEFT_Y[way]! + 1) * wide + x + LEFT_X[way]! + 1] === 1 &&
    cells[(y + RIGHT_Y[way]! + 1) * wide + x + RIGHT_X[way]! + 1] === 0
  );
}

/**
 * One loop from a corner that it leaves to the right, marking the ways it goes: the middles of its steps, which lie
 * nearer the true border than the corners do.
 */
function loopFrom(mask: Mask, x: number, y: number, done: Uint8Array): Vec2[] {
  const loop: Vec2[] = [];
  const wide = mask.wide - 1;
  let px = x;
  let py = y;
  let way = 0;
  while ((done[py * wide + px]! & (1 << way)) === 0) {
    done[py * wide + px]! |= 1 << way;
    loop.push([px + WAY_X[way]! / 2, py + WAY_Y[way]! / 2]);
    const before = way;
    px += WAY_X[way]!;
    py += WAY_Y[way]!;
    for (const turn of TURNS) {
      const next = (before + turn) % 4;
      if (!leaves(mask, px, py, next)) continue;
      way = next;
      break;
    }
  }
  return loop;
}

/**
 * Loops round the cells whose owner is in, a point for each step along the border; cell (x, y) is number y × width +
 * x.
 */
export function loopsOf(owner: Uint16Array, width: number, isIn: readonly boolean[]): Vec2[][] {
  const height = owner.length / width;
  const wide = width + 2;
  const cells = new Uint8Array(wide * (height + 2));
  for (let y = 0, at = 0; y < height; y++)
    for (let x = 0; x < width; x++, at++) if (isIn[owner[at]!]) cells[(y + 1) * wide + x + 1] = 1;
  const mask: Mask = { cells, wide };
  const done = new Uint8Array((width + 1) * (height + 1));
  const loops: Vec2[][] = [];
  // Every loop has a corner that it leaves to the right: in above, out below.
  for (let y = 0; y <= height; y++) {
    for (let x = 0; x < width; x++) {
      if (
        cells[(y + 1) * wide + x + 1] === 0 ||
        cells[y * wide + x + 1] === 1 ||
        (done[y * (width + 1) + x]! & 1) !== 0
      )
        continue;
      loops.push(loopFrom(mask, x, y, done));
    }
  }
  return loops;
}

/** A line with every point left out that lies within `move` of what is left (Douglas and Peucker 1973); ends stay. */
export function simplified(line: readonly Vec2[], move: number): Vec2[] {
  if (line.length < 3) return [...line];
  const keep = new Uint8Array(line.length);
  keep[0] = keep[line.length - 1] = 1;
  const spans: [number, number][] = [[0, line.length - 1]];
  while (spans.length > 0) {
    const [from, to] = spans.pop()!;
    const [[ax, ay], [bx, by]] = [line[from]!, line[to]!];
    const long = Math.hypot(bx - ax, by - ay);
    let [worst, far] = [-1, move];
    for (let i = from + 1; i < to; i++) {
      const [x, y] = line[i]!;
      const off =
        long < NEAR ? Math.hypot(x - ax, y - ay) : Math.abs((bx - ax) * (y - ay) - (by - ay) * (x - ax)) / long;
      if (off > far) [worst, far] = [i, off];
    }
    if (worst < 0) continue;
    keep[worst] = 1;
    spans.push([from, worst], [worst, to]);
  }
  return line.filter((_, i) => keep[i] === 1);
}
