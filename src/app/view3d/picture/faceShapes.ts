import { type BufferGeometry, Color } from 'three';
import type { Vec3 } from '../../../geometry/vector.ts';
import { type Light, PALETTE } from '../../../scene/palette.ts';
import type { SceneFace } from '../../../scene/shown.ts';
import { placeAt } from '../places.ts';
import type { ShownPart } from '../useSolids.ts';
import { geometryOf } from './attributes.ts';
import { MARK_NUMBER } from './hatch.ts';
import type { Moves } from './mergedMetal.ts';

/** Farther along x than any part reaches, mm. */
const FAR = 1e6;
const STAYS: Vec3 = [0, 0, 0];

/** The faces that carry a verdict, as a second skin over the metal. */
export function faceGeometry(
  parts: readonly ShownPart[],
  faces: readonly SceneFace[],
  light: Light,
  moves: Moves,
): BufferGeometry {
  const byId = new Map(parts.map((p) => [p.id, p]));
  const lists = { position: [], normal: [], aTone: [], aMark: [], aStretch: [], aApart: [] } as Lists;
  for (const face of faces) {
    const part = byId.get(face.part);
    if (part) addFace(lists, part, face, light, moves.get(part.id) ?? STAYS);
  }
  return geometryOf({
    position: [lists.position, 3],
    normal: [lists.normal, 3],
    aTone: [lists.aTone, 3],
    aMark: [lists.aMark, 1],
    aStretch: [lists.aStretch, 2],
    aApart: [lists.aApart, 3],
  });
}

type Lists = Readonly<Record<'position' | 'normal' | 'aTone' | 'aMark' | 'aStretch' | 'aApart', number[]>>;

/** Adds the corners of a face: its tone, its mark, the stretch of x that counts, and how far it moves with its part. */
function addFace(to: Lists, { mesh }: ShownPart, face: SceneFace, light: Light, move: Vec3): void {
  const group = mesh.faces.find((g) => g.name === face.face);
  if (!group) return;
  const { r, g, b } = new Color(PALETTE[light][face.verdict]);
  const [from, end] = face.within ? [face.within.low[0], face.within.high[0]] : [-FAR, FAR];
  for (const corner of mesh.triangles.subarray(3 * group.start, 3 * (group.start + group.count))) {
    to.position.push(...placeAt(mesh.positions, corner));
    to.normal.push(...placeAt(mesh.normals, corner));
    to.aTone.push(r, g, b);
    to.aMark.push(MARK_NUMBER[face.verdict]);
    to.aStretch.push(from, end);
    to.aApart.push(...move);
  }
}
