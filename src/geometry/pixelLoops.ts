import type { Vec2 } from './vector.ts';

/*
 * The border of a shape on a grid as closed loops along the grid's lines: the shape on the left, so that an outside runs
 * counterclockwise and a hole clockwise.
 */

/** Right, up, left, down: one grid line on. */
const WAY = [[1, 0], [0, 1], [-1, 0], [0, -1]] as const;

/** Loops round the cells that are in, corner by corner where the border turns; cell (x, y) is number y × width + x. */
export function loopsOf(width: number, height: number, isIn: (cell: number) => boolean): Vec2[][] {
  const inside = new Uint8Array((width + 2) * (height + 2));
  const wide = width + 2;
  for (let y = 0; y < height; y++) for (let x = 0; x < width; x++) if (isIn(y * width + x)) inside[(y + 1) * wide + x + 1] = 1;
  /** Whether the border leaves the grid's corner (x, y) that way: the cell on its left is in, the one on its right is not. */
  const leaves = (x: number, y: number, way: number): boolean => {
    const cell = (dx: number, dy: number): number => inside[(y + dy + 1) * wide + x + dx + 1]!;
    const [left, right] = way === 0 ? [cell(0, 0), cell(0, -1)] : way === 1 ? [cell(-1, 0), cell(0, 0)] : way === 2 ? [cell(-1, -1), cell(-1, 0)] : [cell(0, -1), cell(-1, -1)];
    return left === 1 && right === 0;
  };
  const done = new Uint8Array((width + 1) * (height + 1));
  const loops: Vec2[][] = [];
  for (let y = 0; y <= height; y++) {
    for (let x = 0; x <= width; x++) {
      // Every loop has a corner that it leaves to the right.
      if ((done[y * (width + 1) + x]! & 1) !== 0 || !leaves(x, y, 0)) continue;
      const loop: Vec2[] = [];
      let [px, py, way] = [x, y, 0];
      let turned = -1;
      while ((done[py * (width + 1) + px]! & (1 << way)) === 0) {
        done[py * (width + 1) + px]! |= 1 << way;
        if (way !== turned) loop.push([px, py]);
        turned = way;
        px += WAY[way]![0];
        py += WAY[way]![1];
        // Sharp left first, so that two cells touching at a corner stay two shapes.
        way = [1, 0, 3].map((turn) => (way + turn) % 4).find((w) => leaves(px, py, w)) ?? way;
      }
      loops.push(loop);
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
      const off = long < 1e-9 ? Math.hypot(x - ax, y - ay) : Math.abs((bx - ax) * (y - ay) - (by - ay) * (x - ax)) / long;
      if (off > far) [worst, far] = [i, off];
    }
    if (worst < 0) continue;
    keep[worst] = 1;
    spans.push([from, worst], [worst, to]);
  }
  return line.filter((_, i) => keep[i] === 1);
}
