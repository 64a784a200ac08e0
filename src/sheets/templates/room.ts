import { isInside } from '../../geometry/loops.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import type { FlatDrawing } from './drawFlat.ts';
import { segmentIn } from './tiles.ts';

/*
 * Where writing of a size goes on a piece: inside it, clear of every line and of what is written already.
 */

export interface Spot {
  readonly low: Vec2;
  readonly high: Vec2;
}

const CLEAR = 1.1;
const STEP = 2;

/** The free spot of that size nearest to the middle of a tile; undefined where there is none. */
export function roomFor(
  d: FlatDrawing,
  size: readonly [width: number, height: number],
  { tile, taken }: { readonly tile: Spot; readonly taken: readonly Spot[] },
): Spot | undefined {
  const [w, h] = [size[0] / 2 + CLEAR, size[1] / 2 + CLEAR];
  const low: Vec2 = [Math.max(tile.low[0], d.low[0]) + w, Math.max(tile.low[1], d.low[1]) + h];
  const high: Vec2 = [Math.min(tile.high[0], d.high[0]) - w, Math.min(tile.high[1], d.high[1]) - h];
  if (low[0] > high[0] + 1e-9 || low[1] > high[1] + 1e-9) return undefined;
  const middle: Vec2 = [(low[0] + high[0]) / 2, (low[1] + high[1]) / 2];
  const [nx, ny] = [Math.floor((high[0] - low[0]) / 2 / STEP), Math.floor((high[1] - low[1]) / 2 / STEP)];
  const segments = d.lines.flatMap(({ points }) => points.slice(1).map((q, i) => [points[i] ?? q, q] as const));
  const spots: Vec2[] = [];
  for (let i = -nx; i <= nx; i++)
    for (let k = -ny; k <= ny; k++) spots.push([middle[0] + i * STEP, middle[1] + k * STEP]);
  spots.sort((a, b) => Math.hypot(a[0] - middle[0], a[1] - middle[1]) - Math.hypot(b[0] - middle[0], b[1] - middle[1]));
  const found = spots.find(([x, y]) => {
    const box = { low: [x - w, y - h] as Vec2, high: [x + w, y + h] as Vec2 };
    if (
      taken.some(
        (t) => t.low[0] < box.high[0] && t.high[0] > box.low[0] && t.low[1] < box.high[1] && t.high[1] > box.low[1],
      )
    )
      return false;
    // Most segments are far off: a quick look first.
    const crossed = ([p, q]: readonly [Vec2, Vec2]): boolean =>
      Math.max(p[0], q[0]) >= box.low[0] &&
      Math.min(p[0], q[0]) <= box.high[0] &&
      Math.max(p[1], q[1]) >= box.low[1] &&
      Math.min(p[1], q[1]) <= box.high[1] &&
      segmentIn(p, q, box.low, box.high) !== undefined;
    return !segments.some(crossed) && isInside([x, y], d.inside) && !inHole(d, [x, y]);
  });
  return (
    found && {
      low: [found[0] - size[0] / 2, found[1] - size[1] / 2],
      high: [found[0] + size[0] / 2, found[1] + size[1] / 2],
    }
  );
}

/** Inside a closed cut line other than the outline: a hole. */
function inHole(d: FlatDrawing, at: Vec2): boolean {
  return d.lines
    .slice(1)
    .some(
      ({ points, stroke }) => (stroke === 'cut' || stroke === 'hidden') && points.length > 8 && isInside(at, points),
    );
}
