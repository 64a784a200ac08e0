import { once } from '../once.ts';
import { type Mesh, triangleNormals } from './mesh.ts';

/** Which triangles meet in each edge of a surface, and which edges are crisp. */
export interface Topology {
  /**
   * Four numbers an edge: its two corners and the two faces that meet in it, each by one of its triangles; −1 for a
   * second that is not there.
   */
  readonly edges: Int32Array;
  /** 1 where the two faces turn from one another by more than the crisp angle. */
  readonly crisp: Uint8Array;
}

/** Cosine of the angle between two faces from which their edge is drawn: 40°, more than one facet of a bend turns. */
const CRISP = Math.cos((40 * Math.PI) / 180);

/**
 * A triangle lower than this, mm, is a sliver: its own normal is rounding, and it belongs to the face across its
 * longest side.
 */
const SLIVER = 0.004;

/** The edges of a surface. */
export const topologyOf = once(({ positions, triangles }: Pick<Mesh, 'positions' | 'triangles'>): Topology => {
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
  const normals = triangleNormals({ positions, triangles });
  const faces = facesOf({ positions, triangles }, edges, normals);
  const crisp = new Uint8Array(edges.length / 4);
  for (let e = 0; e < crisp.length; e++) {
    const l = faces[edges[4 * e + 2]!]!;
    const r = edges[4 * e + 3]! < 0 ? -1 : faces[edges[4 * e + 3]!]!;
    edges[4 * e + 2] = l;
    edges[4 * e + 3] = r;
    crisp[e] =
      r < 0 ||
      (l !== r &&
        normals[3 * l]! * normals[3 * r]! +
          normals[3 * l + 1]! * normals[3 * r + 1]! +
          normals[3 * l + 2]! * normals[3 * r + 2]! <
          CRISP)
        ? 1
        : 0;
  }
  return { edges: Int32Array.from(edges), crisp };
});

/** For each triangle one that stands for its face: itself, or for a sliver the triangle across its longest side. */
function facesOf(
  { positions, triangles }: Pick<Mesh, 'positions' | 'triangles'>,
  edges: readonly number[],
  normals: Float64Array,
): Int32Array {
  const many = normals.length / 3;
  const across = new Int32Array(many).fill(-1);
  const longest = new Float64Array(many);
  for (let e = 0; e < edges.length; e += 4) {
    const [i, j] = [3 * edges[e]!, 3 * edges[e + 1]!];
    const long = Math.hypot(
      positions[j]! - positions[i]!,
      positions[j + 1]! - positions[i + 1]!,
      positions[j + 2]! - positions[i + 2]!,
    );
    const [l, r] = [edges[e + 2]!, edges[e + 3]!];
    if (long > longest[l]!) [longest[l], across[l]] = [long, r];
    if (r >= 0 && long > longest[r]!) [longest[r], across[r]] = [long, l];
  }
  const isSliver = (t: number): boolean => heightOf({ positions, triangles }, t, longest[t]!) < SLIVER;
  return Int32Array.from({ length: many }, (_, t) => {
    let face = t;
    // Slivers lie side by side at times; a few steps lead out of them.
    for (let k = 0; k < 8 && isSliver(face) && across[face]! >= 0; k++) face = across[face]!;
    return isSliver(face) ? t : face;
  });
}

/** Height of a triangle over its longest side, mm. */
function heightOf({ positions, triangles }: Pick<Mesh, 'positions' | 'triangles'>, t: number, longest: number): number {
  const [i, j, k] = [3 * triangles[3 * t]!, 3 * triangles[3 * t + 1]!, 3 * triangles[3 * t + 2]!];
  const [ax, ay, az] = [
    positions[j]! - positions[i]!,
    positions[j + 1]! - positions[i + 1]!,
    positions[j + 2]! - positions[i + 2]!,
  ];
  const [bx, by, bz] = [
    positions[k]! - positions[i]!,
    positions[k + 1]! - positions[i + 1]!,
    positions[k + 2]! - positions[i + 2]!,
  ];
  return Math.hypot(ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx) / (longest || 1);
}
