import { type Outline, perimeter, signedArea } from './outline.ts';
import type { Vec2 } from './vector.ts';

/*
 * What a plane cuts from solids: closed outlines, counterclockwise round metal and clockwise round a hole in it; mm.
 */

export type Loops = readonly Outline[];
type Side = readonly [from: Vec2, to: Vec2];
type Box = readonly [u0: number, v0: number, u1: number, v1: number];

/** Loops with the box round them, which tells most pairs apart at once. */
export interface CutFace {
  readonly loops: Loops;
  readonly box: Box;
}

export const cutFace = (loops: Loops): CutFace => ({ loops, box: boxOf(loops) });

const sidesOf = (loop: Outline): Side[] => loop.map((p, i): Side => [p, loop[i + 1] ?? loop[0] ?? p]);

/** The upright box round some loops: least u and v, most u and v. */
function boxOf(loops: Loops): Box {
  let [u0, v0, u1, v1] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const [u, v] of loops.flat()) {
    u0 = Math.min(u0, u);
    v0 = Math.min(v0, v);
    u1 = Math.max(u1, u);
    v1 = Math.max(v1, v);
  }
  return [u0, v0, u1, v1];
}

const boxesMeet = (a: Box, b: Box, by: number): boolean =>
  a[0] <= b[2] + by && b[0] <= a[2] + by && a[1] <= b[3] + by && b[1] <= a[3] + by;

function awayFrom([x, y]: Vec2, [[ax, ay], [bx, by]]: Side): number {
  const [dx, dy] = [bx - ax, by - ay];
  const t = Math.min(Math.max(((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy || 1), 0), 1);
  return Math.hypot(x - ax - t * dx, y - ay - t * dy);
}

/** Whether a corner of one cut face lies nearer than `by` to a side of the other. */
export function touch(a: CutFace, b: CutFace, by: number): boolean {
  if (!boxesMeet(a.box, b.box, by)) return false;
  const near = (points: Loops, loops: Loops): boolean => {
    const sides = loops.flatMap(sidesOf);
    return points.some((loop) => loop.some((p) => sides.some((side) => awayFrom(p, side) < by)));
  };
  return near(a.loops, b.loops) || near(b.loops, a.loops);
}

/** Whether a point lies inside a closed outline, whichever way it runs. */
export function isInside([u, v]: Vec2, loop: Outline): boolean {
  let into = false;
  for (const [q, p] of sidesOf(loop))
    if (p[1] > v !== q[1] > v && u < ((q[0] - p[0]) * (v - p[1])) / (q[1] - p[1]) + p[0]) into = !into;
  return into;
}

function sidesCross([p, q]: Side, [r, s]: Side): boolean {
  const way = (a: Vec2, b: Vec2, c: Vec2): number => (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
  return way(p, q, r) * way(p, q, s) < 0 && way(r, s, p) * way(r, s, q) < 0;
}

/** Whether the metal of one lies in the metal of the other whole, judged by first corners. */
const liesIn = (a: Loops, b: Loops): boolean =>
  a.some((loop) => {
    const [corner] = loop;
    if (!corner || signedArea(loop) <= 0) return false;
    return b.filter((other) => isInside(corner, other)).length % 2 === 1;
  });

/** Whether two cut faces want the same metal: sides cross, or one lies in the other. What only touches does not. */
export function facesOverlap(a: CutFace, b: CutFace): boolean {
  if (!boxesMeet(a.box, b.box, 0)) return false;
  const theirs = b.loops.flatMap(sidesOf);
  const crossing = a.loops.flatMap(sidesOf).some((side) => theirs.some((other) => sidesCross(side, other)));
  return crossing || liesIn(a.loops, b.loops) || liesIn(b.loops, a.loops);
}

/** Whether a loop holds more than a film of that thickness: a touch has an outline too, but hardly any area. */
export const isThickerThan = (loop: Outline, thick: number): boolean =>
  Math.abs(signedArea(loop)) * 2 > thick * perimeter(loop);

export interface Plate {
  readonly outline: Outline;
  readonly holes: readonly Outline[];
}

/** Loops sorted into outlines, each with the holes that lie in it. */
export function platesOf(loops: Loops): Plate[] {
  const holes = loops.filter((l) => signedArea(l) < 0);
  const outlines = loops.filter((l) => signedArea(l) > 0);
  return outlines.map((outline) => ({
    outline,
    holes: holes.filter(([corner]) => corner !== undefined && isInside(corner, outline)),
  }));
}

/**
 * Stretches of metal on a line straight up through some loops at u, lowest first.
 * Example: a 4 by 3 box from the origin, at u = 1, is [[0, 3]].
 */
export function upThrough(loops: Loops, u: number): [from: number, to: number][] {
  const heights = loops
    .flatMap(sidesOf)
    .filter(([p, q]) => p[0] > u !== q[0] > u)
    .map(([p, q]) => p[1] + ((u - p[0]) * (q[1] - p[1])) / (q[0] - p[0]))
    .sort((a, b) => a - b);
  return heights.flatMap((from, i): [number, number][] => {
    const to = heights[i + 1];
    return i % 2 === 0 && to !== undefined ? [[from, to]] : [];
  });
}
