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
/** Finer than this, mm, corners are one. */
const WELD = 1e-4;

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

/** Corners at one place are one corner, whichever face they came with. */
function welded(positions: Float32Array): Uint32Array {
  const first = new Map<string, number>();
  return Uint32Array.from({ length: positions.length / 3 }, (_, i) => {
    const key = `${Math.round(positions[3 * i]! / WELD)},${Math.round(positions[3 * i + 1]! / WELD)},${Math.round(positions[3 * i + 2]! / WELD)}`;
    const had = first.get(key);
    if (had === undefined) first.set(key, i);
    return had ?? i;
  });
}

function find({ positions, triangles }: Pick<Mesh, 'positions' | 'triangles'>): Topology {
  const weld = welded(positions);
  const many = positions.length / 3;
  const at = new Map<number, number>();
  const edges: number[] = [];
  const corner = (t: number, k: number): number => weld[triangles[3 * t + k]!]!;
  for (let t = 0; t < triangles.length / 3; t++) {
    for (let k = 0; k < 3; k++) {
      const [a, b] = [corner(t, k), corner(t, (k + 1) % 3)];
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
    const p = (k: number, c: number): number => positions[3 * triangles[3 * t + k]! + c]!;
    const [ax, ay, az] = [p(1, 0) - p(0, 0), p(1, 1) - p(0, 1), p(1, 2) - p(0, 2)];
    const [bx, by, bz] = [p(2, 0) - p(0, 0), p(2, 1) - p(0, 1), p(2, 2) - p(0, 2)];
    const n = [ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx] as const;
    const size = Math.hypot(...n) || 1;
    normals.set([n[0] / size, n[1] / size, n[2] / size], 3 * t);
  }
  const crisp = new Uint8Array(edges.length / 4);
  for (let e = 0; e < crisp.length; e++) {
    const [l, r] = [edges[4 * e + 2]!, edges[4 * e + 3]!];
    crisp[e] = r < 0 || normals[3 * l]! * normals[3 * r]! + normals[3 * l + 1]! * normals[3 * r + 1]! + normals[3 * l + 2]! * normals[3 * r + 2]! < CRISP ? 1 : 0;
  }
  return { edges: Int32Array.from(edges), crisp };
}
