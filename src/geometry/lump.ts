import { NEAR } from '../units/near.ts';
import { cross, dot, norm, scale, subtract, type Vec3 } from './vector.ts';

/** A run of a lump's triangles that lie on one face of one of the two solids; `from` and `to` count triangles. */
export interface LumpRun {
  readonly of: 'a' | 'b';
  readonly name: string;
  readonly from: number;
  readonly to: number;
}

interface Corner3 {
  readonly corners: readonly [Vec3, Vec3, Vec3];
  readonly normal: Vec3;
  readonly area: number;
  /** Least of its three. */
  readonly height: number;
  /** A ball that holds it, a little larger. */
  readonly middle: Vec3;
  readonly reach: number;
}

/** A triangle slimmer than this has no way of its own in single precision and says nothing of the lump's depth, mm. */
const SLIVER = 0.01;

/**
 * The faces of a closed lump with their areas and how deep it goes square to each, at the deepest: looked for from
 * near every corner of every triangle. Example: of a plate 20 × 10 × 0.3 the two large faces are 0.3 deep, the long
 * edges 10.
 */
export function lumpFaces(
  positions: ArrayLike<number>,
  triangles: ArrayLike<number>,
  runs: readonly LumpRun[],
): { of: 'a' | 'b'; name: string; area: number; depth: number }[] {
  const point = (i: number): Vec3 => [positions[3 * i] ?? 0, positions[3 * i + 1] ?? 0, positions[3 * i + 2] ?? 0];
  const all = Array.from({ length: triangles.length / 3 }, (_, t) =>
    cornered(point(triangles[3 * t] ?? 0), point(triangles[3 * t + 1] ?? 0), point(triangles[3 * t + 2] ?? 0)),
  );
  const faces = new Map<string, { of: 'a' | 'b'; name: string; area: number; depth: number }>();
  for (const { of, name, from, to } of runs) {
    if (to <= from) continue;
    const key = `${of} ${name}`;
    const face = faces.get(key) ?? { of, name, area: 0, depth: 0 };
    faces.set(key, face);
    for (const t of all.slice(from, to)) {
      face.area += t.area;
      if (t.height > SLIVER) face.depth = Math.max(face.depth, depthUnder(t, all));
    }
  }
  return [...faces.values()];
}

function cornered(a: Vec3, b: Vec3, c: Vec3): Corner3 {
  const square = cross(subtract(b, a), subtract(c, a));
  const twice = norm(square);
  const middle: Vec3 = [(a[0] + b[0] + c[0]) / 3, (a[1] + b[1] + c[1]) / 3, (a[2] + b[2] + c[2]) / 3];
  return {
    corners: [a, b, c],
    normal: twice > 0 ? scale(square, 1 / twice) : [0, 0, 0],
    area: twice / 2,
    height: twice / Math.max(norm(subtract(b, a)), norm(subtract(c, b)), norm(subtract(a, c)), 1e-12),
    middle,
    reach: Math.max(norm(subtract(a, middle)), norm(subtract(b, middle)), norm(subtract(c, middle))) + 1e-6,
  };
}

/** How far in from a triangle, square to it, the lump ends. */
function depthUnder({ corners, normal, middle }: Corner3, all: readonly Corner3[]): number {
  const inward = scale(normal, -1);
  const [wx, wy, wz] = inward;
  const rays = corners.map(
    (corner): Ray => ({
      from: [0, 1, 2].map((k) => (corner[k] ?? 0) * 0.999 + (middle[k] ?? 0) * 0.001) as unknown as Vec3,
      end: Number.POSITIVE_INFINITY,
    }),
  );
  for (const t of all) {
    const [nx, ny, nz] = t.normal;
    if (nx * wx + ny * wy + nz * wz <= 1e-6) continue;
    const [mx, my, mz] = t.middle;
    for (const ray of rays) {
      const [x, y, z] = [mx - ray.from[0], my - ray.from[1], mz - ray.from[2]];
      const along = x * wx + y * wy + z * wz;
      // Behind, beyond what was met already, or passing by its ball.
      if (along < -t.reach || along - t.reach > ray.end || x * x + y * y + z * z - along * along > t.reach * t.reach)
        continue;
      const at = alongRay(ray.from, inward, t.corners);
      if (at !== undefined && at > -NEAR && at < ray.end) ray.end = at;
    }
  }
  return Math.max(0, ...rays.filter((r) => r.end < Number.POSITIVE_INFINITY).map((r) => r.end));
}

interface Ray {
  readonly from: Vec3;
  end: number;
}

/**
 * How far along a ray (its way of length one) it meets a triangle; undefined when it passes by. Below nothing when the
 * triangle lies behind. Example: from (0, 0, 5) down to a triangle round the origin is 5.
 */
export function alongRay(from: Vec3, way: Vec3, [a, b, c]: readonly [Vec3, Vec3, Vec3]): number | undefined {
  const [ab, ac] = [subtract(b, a), subtract(c, a)];
  const p = cross(way, ac);
  const det = dot(ab, p);
  if (Math.abs(det) < 1e-15) return undefined;
  const s = subtract(from, a);
  const u = dot(s, p) / det;
  if (u < -NEAR || u > 1 + NEAR) return undefined;
  const q = cross(s, ab);
  const v = dot(way, q) / det;
  return v < -NEAR || u + v > 1 + NEAR ? undefined : dot(ac, q) / det;
}
