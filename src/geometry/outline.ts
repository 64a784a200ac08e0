import { NEAR } from '../units/near.ts';
import { between2, cross2, distance2, type Vec2 } from './vector.ts';

/**
 * Flat outlines, mm, x to the right and y up. A closed outline is its corners in order, the first not repeated at the
 * end; an open one is a path from its first point to its last. Counterclockwise is above nothing.
 */
export type Outline = readonly Vec2[];

const minus = (a: Vec2, b: Vec2): Vec2 => [a[0] - b[0], a[1] - b[1]];

/**
 * Calls back with each side of the closed outline, told from its first corner so that far-off outlines lose no
 * figures.
 */
function eachSide(outline: Outline, visit: (a: Vec2, b: Vec2) => void): void {
  const origin = outline[0];
  if (origin === undefined) return;
  for (const [i, p] of outline.entries()) visit(minus(p, origin), minus(outline[i + 1] ?? origin, origin));
}

/** Area held by a closed outline, mm squared; below nothing when clockwise. A 4 by 3 box counterclockwise is 12. */
export function signedArea(outline: Outline): number {
  let twice = 0;
  eachSide(outline, (a, b) => {
    twice += cross2(a, b);
  });
  return twice / 2;
}

/** Where a flat blank of this outline balances. Throws RangeError when the outline holds no area. */
export function centroid(outline: Outline): Vec2 {
  let [twice, mx, my] = [0, 0, 0];
  eachSide(outline, (a, b) => {
    const c = cross2(a, b);
    twice += c;
    mx += (a[0] + b[0]) * c;
    my += (a[1] + b[1]) * c;
  });
  const origin = outline[0];
  if (origin === undefined || twice === 0) throw new RangeError('An outline without area has no centroid.');
  return [origin[0] + mx / (3 * twice), origin[1] + my / (3 * twice)];
}

/** The way along an open path, mm: what a tape shows laid round a nose rib from cap to cap. */
export function girth(path: Outline): number {
  return path.reduce((sum, p, i) => sum + (i === 0 ? 0 : distance2(path[i - 1]!, p)), 0);
}

/** The way round a closed outline, mm: a 4 by 3 box is 14. */
export function perimeter(outline: Outline): number {
  const [first, last] = [outline[0], outline.at(-1)];
  return first === undefined || last === undefined ? 0 : girth(outline) + distance2(last, first);
}

/** The count points spaced evenly by arc length along an open path, its two ends kept exactly. Count of two or more. */
export function resample(path: Outline, count: number): Vec2[] {
  const [first, last] = [path[0], path.at(-1)];
  if (first === undefined || last === undefined || !(count >= 2))
    throw new RangeError('Spacing out a path needs a point and a count of two or more.');
  const step = girth(path) / (count - 1);
  const spaced: Vec2[] = [first];
  let done = 0;
  for (let i = 1; i < path.length && spaced.length < count - 1; i++) {
    const [a, b] = [path[i - 1]!, path[i]!];
    const length = distance2(a, b);
    while (spaced.length < count - 1 && length > 0 && spaced.length * step <= done + length) {
      spaced.push(between2(a, b, (spaced.length * step - done) / length));
    }
    done += length;
  }
  while (spaced.length < count) spaced.push(last);
  return spaced;
}

export interface Arc {
  readonly centre: Vec2;
  readonly radius: number;
  /** Radians from the x axis; counterclockwise when `to` is the greater. */
  readonly from: number;
  readonly to: number;
  /** Points, both ends counted. */
  readonly count: number;
}

/**
 * Points on a true arc, both ends among them. Example: centre (0, 0), radius 2, 0 to pi/2, count 2 are (2, 0) and (0,
 * 2).
 */
export function arcPoints({ centre, radius, from, to, count }: Arc): Vec2[] {
  return Array.from({ length: count }, (_, i): Vec2 => {
    const turn = from + ((to - from) * i) / (count - 1);
    return [centre[0] + radius * Math.cos(turn), centre[1] + radius * Math.sin(turn)];
  });
}

/** No corner moves farther than this many times the distance; only a spike sharper than about 14 degrees would. */
const LONGEST_MITRE = 8;

/**
 * The outline a distance inside (below nothing: outside), corner for corner, each moved along its mitre: a nose rib
 * inside its skin. Either direction of travel. `open` takes the path as a shape cut off along the straight line between
 * its ends: the ends then slide along that cut. Assumes no bend rounder inside than the distance; `sameWay` tells.
 * Example: a 10 by 10 box inset by 1 is the 8 by 8 box.
 */
export function inset(outline: Outline, distance: number, kind: 'closed' | 'open' = 'closed'): Vec2[] {
  const inward = signedArea(outline) < 0 ? -1 : 1;
  const n = outline.length;
  // Neighbours that share a place have no direction between them, so the next one that differs is used.
  const turned = (i: number, way: 1 | -1): { normal: Vec2; shift: number } => {
    for (let k = 1; k < n; k++) {
      const [near, far] = [(i + way * (k - 1) + n * k) % n, (i + way * k + n * k) % n];
      const [p, q] = way === 1 ? [outline[near]!, outline[far]!] : [outline[far]!, outline[near]!];
      const length = distance2(p, q);
      if (length === 0) continue;
      const cut = kind === 'open' && Math.min(near, far) === 0 && Math.max(near, far) === n - 1;
      return {
        normal: [(-inward * (q[1] - p[1])) / length, (inward * (q[0] - p[0])) / length],
        shift: cut ? 0 : distance,
      };
    }
    return { normal: [0, 0], shift: 0 };
  };
  return outline.map((corner, i) => {
    const [before, after] = [turned(i, -1), turned(i, 1)];
    const [dx, dy] = mitre(before, after);
    const reach = Math.hypot(dx, dy) / (LONGEST_MITRE * Math.abs(distance) || 1);
    return reach > 1 ? [corner[0] + dx / reach, corner[1] + dy / reach] : [corner[0] + dx, corner[1] + dy];
  });
}

interface Side {
  readonly normal: Vec2;
  readonly shift: number;
}

/** The move that takes a corner the right way off both of its sides. */
function mitre({ normal: m, shift: s }: Side, { normal: n, shift: t }: Side): Vec2 {
  if (s === t) {
    const along = s / Math.max(1 + m[0] * n[0] + m[1] * n[1], NEAR);
    return [(m[0] + n[0]) * along, (m[1] + n[1]) * along];
  }
  const det = cross2(m, n);
  if (Math.abs(det) < NEAR) return [m[0] * s, m[1] * s];
  return [(s * n[1] - t * m[1]) / det, (t * m[0] - s * n[0]) / det];
}

/**
 * Whether every side of the second outline, the closing one too, still runs the way it did in the first: false when
 * an inset was deeper than some bend allows and turned over there. A 4 by 3 box inset by 1 keeps its way, by 1.8 it
 * does not.
 */
export function sameWay(before: Outline, after: Outline): boolean {
  return before.every((p, i) => {
    const next = (i + 1) % before.length;
    const [u, v] = [minus(before[next]!, p), minus(after[next]!, after[i]!)];
    return u[0] * v[0] + u[1] * v[1] >= 0;
  });
}

export interface Channel {
  /** Outside of cap to outside of cap. */
  readonly depth: number;
  /** Outside of the web to the edge of a cap. */
  readonly cap: number;
  readonly thickness: number;
  /** Inside the bend. */
  readonly radius: number;
  /** Flat pieces a bend is drawn with. */
  readonly facets: number;
}

/**
 * The section of a spar formed from sheet with two right-angle bends, closed and counterclockwise: the web's outside
 * lies on x = 0, the caps run to x = cap, y = 0 is at half depth. Corners lie on the true arcs, so the area comes out a
 * little off the bend's own by one part in facets squared.
 * Example: depth 80, cap 20, thickness 0.8, radius 3 holds 92.385 mm squared (row 13.1). Throws RangeError when the
 * bends leave no flat.
 */
export function channelSection({ depth, cap, thickness, radius, facets }: Channel): Vec2[] {
  const outer = radius + thickness;
  if (!(thickness > 0 && radius >= 0 && facets >= 1 && cap > outer && depth > 2 * outer)) {
    throw new RangeError('A channel needs a thickness and some flat left on the web and caps beside its bends.');
  }
  const half = depth / 2;
  const count = facets + 1;
  const low: Vec2 = [outer, outer - half];
  const high: Vec2 = [outer, half - outer];
  const inside = (centre: Vec2, from: number, to: number): Vec2[] =>
    radius > 0 ? arcPoints({ centre, radius, from, to, count }) : [centre];
  return [
    [cap, -half],
    [cap, thickness - half],
    ...inside(low, -Math.PI / 2, -Math.PI),
    ...inside(high, Math.PI, Math.PI / 2),
    [cap, half - thickness],
    [cap, half],
    ...arcPoints({ centre: high, radius: outer, from: Math.PI / 2, to: Math.PI, count }),
    ...arcPoints({ centre: low, radius: outer, from: Math.PI, to: 1.5 * Math.PI, count }),
  ];
}
