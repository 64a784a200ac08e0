import { signedArea } from '../../geometry/outline.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import { once } from '../../once.ts';
import { NEAR } from '../../units/near.ts';

/**
 * A row of contour points. Runs follow one another round a closed shape, either way; from one run's last point to the
 * next one's first the shape is cut straight.
 */
export interface ContourRun {
  readonly points: readonly Vec2[];
}

/** A row of contour points of the flange's outside; between one run and the next the rib is open (an end). */
export interface FlangeRun extends ContourRun {
  /** Name of the flange swept by each edge of the run; one text names them all. */
  readonly name: string | readonly string[];
}

type Corner = { p: Vec2; way: Vec2; room: number };

/**
 * The contour drawn in by `depth` square to itself, corner for corner, mm; the straight cuts between runs stay on
 * their lines. Points never pass the middle of the shape: where the contour is tighter than the depth, they stop just
 * short of it, so that the result does not fold over itself.
 * Example: a run along z = 40 above one along z = −40, drawn in by 3, gives z = 37 and z = −37 with the same x.
 */
export function drawnIn(runs: readonly ContourRun[], depth: number): Vec2[] {
  return cornersOf(runs)
    .flat()
    .map(({ p, way, room }): Vec2 => {
      const d = Math.min(depth, room);
      return [p[0] + way[0] * d, p[1] + way[1] * d];
    });
}

const cornersOf = once((runs: readonly ContourRun[]): Corner[][] => {
  const all = runs.flatMap((r) => r.points);
  const left = signedArea(all) > 0 ? 1 : -1;
  return runs.map(({ points }, r) => {
    const before = runs[(r + runs.length - 1) % runs.length]?.points ?? points;
    const after = runs[(r + 1) % runs.length]?.points ?? points;
    return points.map((p, i) => {
      const prev = points[i - 1];
      const next = points[i + 1];
      const a = prev && inwardNormal(prev, p, left);
      const b = next && inwardNormal(p, next, left);
      const n = a ?? b;
      if (n === undefined) throw new RangeError('a contour run needs two points or more');
      const way = a && b ? mitre(a, b) : slide(n, direction(p, (i === 0 ? before[before.length - 1] : after[0]) ?? p));
      return { p, way, room: roomAt(p, way, all) };
    });
  });
});

function direction(from: Vec2, to: Vec2): Vec2 {
  const len = Math.hypot(to[0] - from[0], to[1] - from[1]) || 1;
  return [(to[0] - from[0]) / len, (to[1] - from[1]) / len];
}

function inwardNormal(a: Vec2, b: Vec2, left: number): Vec2 {
  const [x, z] = direction(a, b);
  return [-z * left, x * left];
}

/** The way a corner moves so that both its edges move in by one. */
function mitre(a: Vec2, b: Vec2): Vec2 {
  const k = Math.max(1 + a[0] * b[0] + a[1] * b[1], 0.2);
  return [(a[0] + b[0]) / k, (a[1] + b[1]) / k];
}

/** The way an end corner moves along its cut so that its edge moves in by one. */
function slide(n: Vec2, cut: Vec2): Vec2 {
  const k = Math.max(n[0] * cut[0] + n[1] * cut[1], 0.2);
  return [cut[0] / k, cut[1] / k];
}

/**
 * Most that a corner can move in before it meets the middle: the least circle touching the contour there and any
 * other point.
 */
function roomAt(p: Vec2, way: Vec2, all: readonly Vec2[]): number {
  const len = Math.hypot(way[0], way[1]);
  let least = Number.POSITIVE_INFINITY;
  for (const q of all) {
    const [dx, dz] = [q[0] - p[0], q[1] - p[1]];
    const lean = (way[0] * dx + way[1] * dz) / len;
    if (lean > NEAR) least = Math.min(least, (dx * dx + dz * dz) / (2 * lean));
  }
  return (0.95 * least) / len;
}
