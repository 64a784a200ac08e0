import type { Mesh } from '../geometry/mesh.ts';

/** A mesh ready to be lit: corners are doubled where the surface is crisp, each with its own normal. */
export interface ShadedMesh extends Mesh {
  readonly normals: Float32Array;
}

/** Normals closer than this are one. */
const SAME = Math.cos((1 * Math.PI) / 180);
/** Surfaces that turn by less than this at a corner are shaded as one round. */
const ROUND = Math.cos((32 * Math.PI) / 180);

/**
 * Normals for lighting: round over a bend or a nose, crisp at an edge. Faces keep their names, and triangle k stays triangle
 * k. Example: a box has 8 corners and 12 triangles; shaded it has 24 corners, three at each.
 */
export function shaded({ positions, triangles, faces, edges }: Mesh): ShadedMesh {
  const many = triangles.length / 3;
  const flat = new Float32Array(many * 3);
  const area = new Float32Array(many);
  for (let t = 0; t < many; t++) {
    const [a, b, c] = [triangles[3 * t]! * 3, triangles[3 * t + 1]! * 3, triangles[3 * t + 2]! * 3];
    const [ux, uy, uz] = [
      positions[b]! - positions[a]!,
      positions[b + 1]! - positions[a + 1]!,
      positions[b + 2]! - positions[a + 2]!,
    ];
    const [vx, vy, vz] = [
      positions[c]! - positions[a]!,
      positions[c + 1]! - positions[a + 1]!,
      positions[c + 2]! - positions[a + 2]!,
    ];
    const [nx, ny, nz] = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
    const size = Math.hypot(nx, ny, nz);
    area[t] = size;
    if (size === 0) continue;
    flat[3 * t] = nx / size;
    flat[3 * t + 1] = ny / size;
    flat[3 * t + 2] = nz / size;
  }
  const round = aroundCorners(triangles, positions.length / 3);
  const places: number[] = [];
  const normals: number[] = [];
  const corners = new Uint32Array(triangles.length);
  // The corners made so far at each place, as a chain of numbers into `places`; -1 ends it.
  const made = new Int32Array(positions.length / 3).fill(-1);
  const next: number[] = [];
  for (let i = 0; i < triangles.length; i++) {
    const t = Math.floor(i / 3);
    const v = triangles[i]!;
    let x = 0;
    let y = 0;
    let z = 0;
    for (let k = round.first[v]!; k < round.first[v + 1]!; k++) {
      const other = round.triangles[k]!;
      const cosine =
        flat[3 * t]! * flat[3 * other]! +
        flat[3 * t + 1]! * flat[3 * other + 1]! +
        flat[3 * t + 2]! * flat[3 * other + 2]!;
      if (other !== t && cosine < ROUND) continue;
      const w = area[other]! + 1e-9;
      x += flat[3 * other]! * w;
      y += flat[3 * other + 1]! * w;
      z += flat[3 * other + 2]! * w;
    }
    const size = Math.hypot(x, y, z) || 1;
    x /= size;
    y /= size;
    z /= size;
    let at = made[v]!;
    while (at >= 0 && normals[3 * at]! * x + normals[3 * at + 1]! * y + normals[3 * at + 2]! * z < SAME) at = next[at]!;
    if (at < 0) {
      at = next.length;
      next.push(made[v]!);
      made[v] = at;
      places.push(positions[3 * v]!, positions[3 * v + 1]!, positions[3 * v + 2]!);
      normals.push(x, y, z);
    }
    corners[i] = at;
  }
  return {
    positions: Float32Array.from(places),
    normals: Float32Array.from(normals),
    triangles: corners,
    faces,
    edges,
  };
}

/** The triangles at each corner, one list after another. */
function aroundCorners(triangles: Uint32Array, many: number): { first: Uint32Array; triangles: Uint32Array } {
  const first = new Uint32Array(many + 1);
  for (const v of triangles) first[v + 1]!++;
  for (let v = 0; v < many; v++) first[v + 1]! += first[v]!;
  const next = first.slice();
  const list = new Uint32Array(triangles.length);
  triangles.forEach((v, i) => {
    list[next[v]!++] = Math.floor(i / 3);
  });
  return { first, triangles: list };
}
