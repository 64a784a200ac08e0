import type { Mesh } from './mesh.ts';

/** Which triangles meet in each edge of a surface, and which edges are crisp. */
export interface Topology {
  /** Four numbers an edge: its two corners and its two triangles; −1 for a second triangle that is not there. */
  readonly edges: Int32Array;
  /** 1 where the two faces turn from one another by more than the crisp angle. */
  readonly crisp: Uint8Array;
}

/** Cosine of the angle between two faces from which their edge is drawn: 40°, more than one facet of a bend turns. */
const CRISP = Math.cos((40 * Math.PI) / 180);

const made = new WeakMap<object, Topology>();

/** The edges of a surface; found once for each surface and remembered with it. */
export function topologyOf(mesh: Pick<Mesh, 'positions' | 'triangles'>): Topology {
  let found = made.get(mesh.positions);
  if (!found) {
    found = find(mesh);
    made.set(mesh.positions, found);
  }
  return found;
}

function find({ positions, triangles }: Pick<Mesh, 'positions' | 'triangles'>): Topology {
  const many = positions.length / 3;
  const at = new Map<number, number>();
  const edges: number[] = [];
  for (let t = 0; t < triangles.length / 3; t++) {
    for (let k = 0; k < 3; k++) {
      const a = triangles[3 * t + k]!;
      const b = triangles[3 * t + ((k + 1) % 3)]!;
      if (a === b) continue;
      const key = Math.min(a, b) * many + Math.max(a, b);
      const had = at.get(key);
      if (had === undefined) {
        at.set(key, edges.length);
        edges.push(a, b, t, -1);
      } else edges[had + 3] = t;
    }
  }
  const normals = new Float64Array(triangles.length);
  for (let t = 0; t < triangles.length / 3; t++) {
    const i = 3 * triangles[3 * t]!;
    const j = 3 * triangles[3 * t + 1]!;
    const k = 3 * triangles[3 * t + 2]!;
    const ax = positions[j]! - positions[i]!;
    const ay = positions[j + 1]! - positions[i + 1]!;
    const az = positions[j + 2]! - positions[i + 2]!;
    const bx = positions[k]! - positions[i]!;
    const by = positions[k + 1]! - positions[i + 1]!;
    const bz = positions[k + 2]! - positions[i + 2]!;
    const size = Math.hypot(ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx) || 1;
    normals[3 * t] = (ay * bz - az * by) / size;
    normals[3 * t + 1] = (az * bx - ax * bz) / size;
    normals[3 * t + 2] = (ax * by - ay * bx) / size;
  }
  const crisp = new Uint8Array(edges.length / 4);
  for (let e = 0; e < crisp.length; e++) {
    const [l, r] = [edges[4 * e + 2]!, edges[4 * e + 3]!];
    crisp[e] = r < 0 || normals[3 * l]! * normals[3 * r]! + normals[3 * l + 1]! * normals[3 * r + 1]! + normals[3 * l + 2]! * normals[3 * r + 2]! < CRISP ? 1 : 0;
  }
  return { edges: Int32Array.from(edges), crisp };
}
