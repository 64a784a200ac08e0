import type { Mesh } from '../geometry/mesh.ts';

/*
 * Parts as one binary glTF 2.0 file (.glb), for any viewer. Positions are millimetres divided by 1000, for glTF is in
 * metres; they stay in the panel's axes (x aft, y right, z up) and one node above them all, "panel", turns them to
 * glTF's y up: aft stays +x, up becomes +y, right along the span becomes −z. Each part is a node and a mesh of its
 * own, by its name; its named faces are runs of its triangles, in order, told in the mesh's `extras`.
 */

export interface NamedMesh {
  readonly name: string;
  readonly mesh: Mesh;
  /** Linear red, green, blue, 0 to 1; bare metal unless told. */
  readonly colour?: readonly [number, number, number];
}

const METAL = [0.72, 0.74, 0.76] as const;
/** A quarter turn about x that sends z up to y up. */
const Y_UP = [-Math.SQRT1_2, 0, 0, Math.SQRT1_2] as const;

const FLOAT = 5126;
const UNSIGNED = 5125;
const VERTICES = 34962;
const INDICES = 34963;

/** The file's bytes. Parts without a triangle are left out. */
export function glb(parts: readonly NamedMesh[], title: string): Uint8Array {
  const solid = parts.filter(({ mesh }) => mesh.triangles.length > 0);
  const body = new Uint8Array(
    solid.reduce((sum, { mesh }) => sum + 4 * (mesh.positions.length + mesh.triangles.length), 0),
  );
  const view = new DataView(body.buffer);
  const bufferViews: object[] = [];
  const accessors: object[] = [];
  const meshes: object[] = [];
  let at = 0;
  solid.forEach(({ name, mesh }, i) => {
    const low = [Infinity, Infinity, Infinity];
    const high = [-Infinity, -Infinity, -Infinity];
    bufferViews.push({ buffer: 0, byteOffset: at, byteLength: 4 * mesh.positions.length, target: VERTICES });
    mesh.positions.forEach((mm, k) => {
      const m = Math.fround(mm / 1000);
      low[k % 3] = Math.min(low[k % 3] ?? m, m);
      high[k % 3] = Math.max(high[k % 3] ?? m, m);
      view.setFloat32(at, m, true);
      at += 4;
    });
    accessors.push({
      bufferView: 2 * i,
      componentType: FLOAT,
      count: mesh.positions.length / 3,
      type: 'VEC3',
      min: low,
      max: high,
    });
    bufferViews.push({ buffer: 0, byteOffset: at, byteLength: 4 * mesh.triangles.length, target: INDICES });
    mesh.triangles.forEach((corner) => {
      view.setUint32(at, corner, true);
      at += 4;
    });
    accessors.push({ bufferView: 2 * i + 1, componentType: UNSIGNED, count: mesh.triangles.length, type: 'SCALAR' });
    meshes.push({
      name,
      primitives: [{ attributes: { POSITION: 2 * i }, indices: 2 * i + 1, material: i }],
      extras: { faces: mesh.faces },
    });
  });
  const json = {
    asset: { version: '2.0', generator: 'Ribtrue' },
    scene: 0,
    scenes: [{ name: title, nodes: [solid.length] }],
    nodes: [
      ...solid.map(({ name }, i) => ({ name, mesh: i })),
      { name: 'panel', rotation: [...Y_UP], ...(solid.length > 0 ? { children: solid.map((_, i) => i) } : {}) },
    ],
    ...(solid.length > 0
      ? {
          meshes,
          accessors,
          bufferViews,
          buffers: [{ byteLength: body.length }],
          materials: solid.map(({ name, colour = METAL }) => ({
            name,
            pbrMetallicRoughness: { baseColorFactor: [...colour, 1], metallicFactor: 0.6, roughnessFactor: 0.5 },
          })),
        }
      : {}),
  };
  return packed(new TextEncoder().encode(JSON.stringify(json)), body);
}

/** Header, text chunk filled up with spaces, binary chunk (its length is a multiple of four already). */
function packed(text: Uint8Array, body: Uint8Array): Uint8Array {
  const padded = Math.ceil(text.length / 4) * 4;
  const chunk = body.length > 0 ? 8 + body.length : 0;
  const out = new Uint8Array(20 + padded + chunk);
  const view = new DataView(out.buffer);
  view.setUint32(0, 0x46546c67, true); // "glTF"
  view.setUint32(4, 2, true);
  view.setUint32(8, out.length, true);
  view.setUint32(12, padded, true);
  view.setUint32(16, 0x4e4f534a, true); // "JSON"
  out.fill(0x20, 20, 20 + padded);
  out.set(text, 20);
  if (chunk === 0) return out;
  view.setUint32(20 + padded, body.length, true);
  view.setUint32(24 + padded, 0x004e4942, true); // "BIN"
  out.set(body, 28 + padded);
  return out;
}
