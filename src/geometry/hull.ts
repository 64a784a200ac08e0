import { polygonHull } from 'd3-polygon';
import type { Vec2 } from './vector.ts';

/**
 * The smallest convex outline round some points: its corners in order, counterclockwise with y down, none on a straight
 * side. The points themselves where fewer than three are given.
 *
 * @example the corners of a square and a point within it: the four corners
 */
export function hullOf(points: readonly Vec2[]): readonly Vec2[] {
  return polygonHull(points.map(([x, y]): [number, number] => [x, y])) ?? points;
}
