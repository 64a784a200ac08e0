import { type FaceGroup, type Mesh, triangleNormals } from '../mesh.ts';

/** Edges turned by more than this are crisp; bends of six facets a quarter turn by 15° a facet. */
const CRISP = Math.cos((25 * Math.PI) / 180);
/**
 * Where two named faces meet, neither of them a bend, a turn of this much is crisp too; more than one facet of a
 * nose.
 */
const NAMED = Math.cos((18 * Math.PI) / 180);

interface KernelMesh {
  readonly numProp: number;
  readonly vertProperties: Float32Array;
  readonly triVerts: Uint32Array;
  readonly mergeFromVert: Uint32Array;
  readonly mergeToVert: Uint32Array;
  readonly runIndex: Uint32Array;
  readonly runOriginalID: Uint32Array;
}

/** The kernel's mesh with its runs gathered by face name, in order of first appearance, and its crisp edges found. */
export function plainMesh(mesh: KernelMesh, names: ReadonlyMap<number, string>): Mesh {
  const welded = Uint32Array.from({ length: mesh.vertProperties.length / mesh.numProp }, (_, i) => i);
  mesh.mergeFromVert.forEach((from, i) => {
    welded[from] = mesh.mergeToVert[i] ?? from;
  });
  const byName = new Map<string, [number, number][]>();
  mesh.runOriginalID.forEach((id, run) => {
    const name = names.get(id) ?? '';
    const runs = byName.get(name) ?? [];
    if (runs.length === 0) byName.set(name, runs);
    runs.push([mesh.runIndex[run] ?? 0, mesh.runIndex[run + 1] ?? 0]);
  });
  const triangles = new Uint32Array(mesh.triVerts.length);
  const faces: FaceGroup[] = [];
  let filled = 0;
  for (const [name, runs] of byName) {
    const start = filled;
    for (const [from, to] of runs)
      for (let i = from; i < to; i++) triangles[filled++] = welded[mesh.triVerts[i] ?? 0] ?? 0;
    if (filled > start) faces.push({ name, start: start / 3, count: (filled - start) / 3 });
  }
  const positions = Float32Array.from(mesh.vertProperties);
  return { positions, triangles, faces, edges: crispEdges(positions, triangles, faces) };
}

/** Edges where the surface turns sharply, once each, as pairs of points. */
function crispEdges(positions: Float32Array, triangles: Uint32Array, faces: readonly FaceGroup[]): Float32Array {
  const normals = triangleNormals({ positions, triangles });
  const faceOf = new Int32Array(triangles.length / 3);
  for (const [f, { start, count }] of faces.entries()) faceOf.fill(f, start, start + count);
  const at = (i: number): number => positions[i] ?? 0;
  // Every edge is met twice; an open table by its corners holds the triangle it was met in first.
  const room = 1 << Math.ceil(Math.log2(triangles.length * 1.5 + 1));
  const firstSeen = new Int32Array(room).fill(-1);
  const ends = new Uint32Array(2 * room);
  const out: number[] = [];
  for (let i = 0; i < triangles.length; i++) {
    const [p, q] = [triangles[i] ?? 0, triangles[i % 3 === 2 ? i - 2 : i + 1] ?? 0];
    const [low, high] = p < q ? [p, q] : [q, p];
    let place = ((Math.imul(low, 0x9e3779b1) ^ Math.imul(high, 0x85ebca77)) >>> 0) & (room - 1);
    while ((firstSeen[place] ?? -1) >= 0 && (ends[2 * place] !== low || ends[2 * place + 1] !== high))
      place = (place + 1) & (room - 1);
    const [t, other] = [Math.floor(i / 3), firstSeen[place] ?? -1];
    if (other < 0) {
      firstSeen[place] = t;
      ends[2 * place] = low;
      ends[2 * place + 1] = high;
      continue;
    }
    const cosine =
      (normals[3 * t] ?? 0) * (normals[3 * other] ?? 0) +
      (normals[3 * t + 1] ?? 0) * (normals[3 * other + 1] ?? 0) +
      (normals[3 * t + 2] ?? 0) * (normals[3 * other + 2] ?? 0);
    if (isCrisp(cosine, faces[faceOf[t] ?? 0]?.name ?? '', faces[faceOf[other] ?? 0]?.name ?? '')) {
      for (const end of [p, q]) out.push(at(3 * end), at(3 * end + 1), at(3 * end + 2));
    }
  }
  return Float32Array.from(out);
}

function isCrisp(cosine: number, a: string, b: string): boolean {
  if (cosine < CRISP) return true;
  return a !== b && cosine < NAMED && !a.includes('bend') && !b.includes('bend');
}
