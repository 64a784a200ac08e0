import { NEAR } from '../units/near.ts';
import type { Mesh } from './mesh.ts';

/** A mesh ready to be lit: corners are doubled where the surface is crisp, each with its own normal. */
export interface ShadedMesh extends Mesh {
  readonly normals: Float32Array;
}

/** Normals closer than this are one. */
const SAME = Math.cos((1 * Math.PI) / 180);
/** Surfaces that turn by less than this at a corner are shaded as one round. */
const ROUND = Math.cos((32 * Math.PI) / 180);

/** Each triangle's own normal, three numbers a triangle, and twice its area. */
interface Facets {
  readonly normals: Float32Array;
  readonly areas: Float32Array;
}

/**
 * Normals for lighting: round over a bend or a nose, crisp at an edge. Faces keep their names, and triangle k stays
 * triangle k. Example: a box has 8 corners and 12 triangles; shaded it has 24 corners, three at each.
 */
export function shaded({ positions, triangles, faces, edges }: Mesh): ShadedMesh {
  const facets = facetsOf(positions, triangles);
  const around = aroundCorners(triangles, positions.length / 3);
  const corners = new Corners(positions);
  const lit = new Uint32Array(triangles.length);
  for (let i = 0; i < triangles.length; i++) {
    const corner = triangles[i]!;
    lit[i] = corners.numberOf(corner, normalAt(facets, Math.floor(i / 3), around(corner)));
  }
  return {
    positions: Float32Array.from(corners.places),
    normals: Float32Array.from(corners.normals),
    triangles: lit,
    faces,
    edges,
  };
}

function facetsOf(positions: Float32Array, triangles: Uint32Array): Facets {
  const many = triangles.length / 3;
  const normals = new Float32Array(many * 3);
  const areas = new Float32Array(many);
  for (let t = 0; t < many; t++) {
    const [a, b, c] = [triangles[3 * t]! * 3, triangles[3 * t + 1]! * 3, triangles[3 * t + 2]! * 3];
    const ux = positions[b]! - positions[a]!;
    const uy = positions[b + 1]! - positions[a + 1]!;
    const uz = positions[b + 2]! - positions[a + 2]!;
    const vx = positions[c]! - positions[a]!;
    const vy = positions[c + 1]! - positions[a + 1]!;
    const vz = positions[c + 2]! - positions[a + 2]!;
    const [nx, ny, nz] = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
    const size = Math.hypot(nx, ny, nz);
    areas[t] = size;
    if (size > 0) normals.set([nx / size, ny / size, nz / size], 3 * t);
  }
  return { normals, areas };
}

/**
 * The normal of triangle `t` at one of its corners: with those of its neighbours there that go on round, by their
 * areas.
 */
function normalAt({ normals, areas }: Facets, t: number, neighbours: Uint32Array): readonly [number, number, number] {
  let [x, y, z] = [0, 0, 0];
  for (const other of neighbours) {
    const cosine =
      normals[3 * t]! * normals[3 * other]! +
      normals[3 * t + 1]! * normals[3 * other + 1]! +
      normals[3 * t + 2]! * normals[3 * other + 2]!;
    if (other !== t && cosine < ROUND) continue;
    const weight = areas[other]! + NEAR;
    x += normals[3 * other]! * weight;
    y += normals[3 * other + 1]! * weight;
    z += normals[3 * other + 2]! * weight;
  }
  const size = Math.hypot(x, y, z) || 1;
  return [x / size, y / size, z / size];
}

/** The corners made so far, one for each place and normal. */
class Corners {
  readonly places: number[] = [];
  readonly normals: number[] = [];
  readonly #positions: Float32Array;
  /** The last corner made at each place, and from each corner the one made there before it; -1 ends the chain. */
  readonly #last: Int32Array;
  readonly #before: number[] = [];

  constructor(positions: Float32Array) {
    this.#positions = positions;
    this.#last = new Int32Array(positions.length / 3).fill(-1);
  }

  /** The number of the corner at a place with a normal, made if it is new. */
  numberOf(place: number, [x, y, z]: readonly [number, number, number]): number {
    const { normals } = this;
    const same = (k: number): boolean =>
      normals[3 * k]! * x + normals[3 * k + 1]! * y + normals[3 * k + 2]! * z >= SAME;
    let k = this.#last[place]!;
    while (k >= 0 && !same(k)) k = this.#before[k]!;
    if (k >= 0) return k;
    const fresh = this.#before.length;
    this.#before.push(this.#last[place]!);
    this.#last[place] = fresh;
    this.places.push(...this.#positions.subarray(3 * place, 3 * place + 3));
    normals.push(x, y, z);
    return fresh;
  }
}

/** The triangles round each corner. */
function aroundCorners(triangles: Uint32Array, many: number): (corner: number) => Uint32Array {
  const first = new Uint32Array(many + 1);
  for (const v of triangles) first[v + 1]!++;
  for (let v = 0; v < many; v++) first[v + 1]! += first[v]!;
  const next = first.slice();
  const list = new Uint32Array(triangles.length);
  triangles.forEach((v, i) => {
    list[next[v]!++] = Math.floor(i / 3);
  });
  return (corner) => list.subarray(first[corner]!, first[corner + 1]!);
}
