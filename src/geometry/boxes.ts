import { add, type Vec3 } from './vector.ts';

/* Boxes along the wing axes, mm. */

/** A box along the wing axes. */
export interface Bounds {
  readonly low: Vec3;
  readonly high: Vec3;
}

/** The eight corners: x changes fastest, then y, then z. */
export function boxCorners({ low, high }: Bounds): Vec3[] {
  const both = (k: 0 | 1 | 2): number[] => [low[k], high[k]];
  return both(2).flatMap((z) => both(1).flatMap((y) => both(0).map((x): Vec3 => [x, y, z])));
}

/** The box round some points; undefined where there is no point. */
export function boxRound(points: Iterable<Vec3>): Bounds | undefined {
  let low: Vec3 = [Infinity, Infinity, Infinity];
  let high: Vec3 = [-Infinity, -Infinity, -Infinity];
  for (const [x, y, z] of points) {
    low = [Math.min(low[0], x), Math.min(low[1], y), Math.min(low[2], z)];
    high = [Math.max(high[0], x), Math.max(high[1], y), Math.max(high[2], z)];
  }
  return low[0] <= high[0] ? { low, high } : undefined;
}

/** The box round some boxes; undefined where there is none. */
export const boxAround = (boxes: readonly Bounds[]): Bounds | undefined =>
  boxRound(boxes.flatMap((b) => [b.low, b.high]));

export const moved = ({ low, high }: Bounds, by: Vec3): Bounds => ({ low: add(low, by), high: add(high, by) });

/** Distance between two boxes along the worst axis; below nothing when they share space. */
export function boxesApart(a: Bounds, b: Bounds): number {
  return Math.max(...([0, 1, 2] as const).map((k) => Math.max(a.low[k] - b.high[k], b.low[k] - a.high[k])));
}
