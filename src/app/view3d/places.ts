import type { Bounds } from '../../geometry/boxes.ts';
import { boxRound } from '../../geometry/boxes.ts';
import type { Mesh } from '../../geometry/mesh.ts';
import type { Vec3 } from '../../geometry/vector.ts';
import { once } from '../../once.ts';

/** The place number `i` of a list of numbers, three to a place. */
export const placeAt = (list: ArrayLike<number>, i: number): Vec3 => [
  list[3 * i] ?? 0,
  list[3 * i + 1] ?? 0,
  list[3 * i + 2] ?? 0,
];

/** The three corners of a mesh's triangle number `t`. */
export function triangleOf({ positions, triangles }: Mesh, t: number): readonly [Vec3, Vec3, Vec3] {
  const corner = (k: number): Vec3 => placeAt(positions, triangles[3 * t + k] ?? 0);
  return [corner(0), corner(1), corner(2)];
}

function* placesOf(list: Float32Array): Iterable<Vec3> {
  for (let i = 0; i < list.length / 3; i++) yield placeAt(list, i);
}

const NOWHERE: Bounds = { low: [0, 0, 0], high: [0, 0, 0] };
const boxOfPlaces = once((positions: Float32Array): Bounds => boxRound(placesOf(positions)) ?? NOWHERE);

/** The box round the corners of a mesh. */
export const boxOf = ({ positions }: Pick<Mesh, 'positions'>): Bounds => boxOfPlaces(positions);
