import type { Mesh } from '../../geometry/mesh.ts';
import { add, type Vec3 } from '../../geometry/vector.ts';
import { once } from '../../once.ts';
import { cornersOf } from './stepInk.ts';

/* Boxes round parts, wing frame, mm. */

const AXES = [0, 1, 2] as const;

export interface Bounds {
  readonly low: Vec3;
  readonly high: Vec3;
}

/** The box round a part. */
export const boundsOf = once((mesh: Mesh): Bounds => {
  const low: [number, number, number] = [Infinity, Infinity, Infinity];
  const high: [number, number, number] = [-Infinity, -Infinity, -Infinity];
  for (const corner of cornersOf(mesh))
    for (const k of AXES) {
      low[k] = Math.min(low[k], corner[k]);
      high[k] = Math.max(high[k], corner[k]);
    }
  return { low, high };
});

/** The eight corners of a box, moved. */
export const corners = ({ low, high }: Bounds, shift: Vec3 = [0, 0, 0]): Vec3[] =>
  [0, 1, 2, 3, 4, 5, 6, 7].map((i) =>
    add([i & 1 ? high[0] : low[0], i & 2 ? high[1] : low[1], i & 4 ? high[2] : low[2]], shift),
  );

/** The box round boxes. */
export function round(boxes: readonly Bounds[]): Bounds {
  const least = (k: 0 | 1 | 2): number => Math.min(...boxes.map((b) => b.low[k]));
  const most = (k: 0 | 1 | 2): number => Math.max(...boxes.map((b) => b.high[k]));
  return { low: [least(0), least(1), least(2)], high: [most(0), most(1), most(2)] };
}

/** The left end of something long, with room before and behind it. */
export const leftEnd = ({ low, high }: Bounds): Bounds => ({
  low: [low[0] - 40, low[1], low[2]],
  high: [high[0] + 40, Math.min(high[1], low[1] + 260), high[2]],
});
