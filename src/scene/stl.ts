import type { Mesh } from '../geometry/mesh.ts';
import { cross, norm, scale, subtract, type Vec3 } from '../geometry/vector.ts';

/**
 * One part as a binary STL file: millimetres, in the panel's axes (x aft, y right, z up), one outward normal a
 * triangle. The form has no names and no unit, so each part is a file of its own and the header says the unit.
 * Example: a cube is 84 + 12 × 50 bytes.
 */
export function stl({ positions, triangles }: Mesh, name: string): Uint8Array {
  const many = triangles.length / 3;
  const out = new Uint8Array(84 + 50 * many);
  // Not beginning with "solid", which would look like the form in text.
  out.set(new TextEncoder().encode(`Ribtrue part ${name}, millimetres`).slice(0, 80));
  const view = new DataView(out.buffer);
  view.setUint32(80, many, true);
  const point = (i: number): Vec3 => [positions[3 * i] ?? 0, positions[3 * i + 1] ?? 0, positions[3 * i + 2] ?? 0];
  for (let t = 0; t < many; t++) {
    const [a, b, c] = [
      point(triangles[3 * t] ?? 0),
      point(triangles[3 * t + 1] ?? 0),
      point(triangles[3 * t + 2] ?? 0),
    ];
    const square = cross(subtract(b, a), subtract(c, a));
    const size = norm(square);
    const normal: Vec3 = size > 0 ? scale(square, 1 / size) : [0, 0, 0];
    for (const [k, v] of [normal, a, b, c].flat().entries()) view.setFloat32(84 + 50 * t + 4 * k, v, true);
  }
  return out;
}
