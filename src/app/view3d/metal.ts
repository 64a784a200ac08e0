import { BufferAttribute, BufferGeometry, Color } from 'three';
import type { Vec3 } from '../../geometry/vector.ts';
import type { Light } from '../../scene/palette.ts';
import { PALETTE } from '../../scene/palette.ts';
import type { SceneFace, SceneGap } from '../../scene/shown.ts';
import { MARK_NUMBER } from './hatch.ts';
import type { ShownPart } from './useSolids.ts';

/** Edges of many parts, and which points are whose. */
interface MergedEdges {
  readonly lines: BufferGeometry;
  readonly ranges: readonly { readonly part: ShownPart; readonly point: number; readonly points: number }[];
}

/** One geometry of many parts, and which corners are whose. */
export interface Merged {
  readonly surface: BufferGeometry;
  readonly ranges: readonly { readonly part: ShownPart; readonly corner: number; readonly corners: number }[];
  readonly edges: MergedEdges;
  /** Edges too short to be seen from afar, such as the rims of rivet holes. */
  readonly rims: MergedEdges;
}

/** How far each part moves when all is pulled apart, by part id. */
export type Moves = ReadonlyMap<string, Vec3>;

/** An edge shorter than this is a facet of a rim or a bend, mm. */
const RIM = 1.2;

/** All parts in one surface and two sets of edges, so that a frame is three draws however many ribs there are. */
export function mergedOf(parts: readonly ShownPart[], moves: Moves): Merged {
  const sum = (f: (p: ShownPart) => number): number => parts.reduce((total, p) => total + f(p), 0);
  const corners = sum((p) => p.mesh.positions.length);
  const positions = new Float32Array(corners);
  const normals = new Float32Array(corners);
  const apart = new Float32Array(corners);
  const index = new Uint32Array(sum((p) => p.mesh.triangles.length));
  const ranges: Merged['ranges'][number][] = [];
  let [at, tri] = [0, 0];
  for (const part of parts) {
    const { mesh } = part;
    positions.set(mesh.positions, at);
    normals.set(mesh.normals, at);
    const move = moves.get(part.id);
    if (move) for (let i = 0; i < mesh.positions.length; i++) apart[at + i] = move[i % 3]!;
    const base = at / 3;
    for (let i = 0; i < mesh.triangles.length; i++) index[tri + i] = mesh.triangles[i]! + base;
    ranges.push({ part, corner: base, corners: mesh.positions.length / 3 });
    at += mesh.positions.length;
    tri += mesh.triangles.length;
  }
  const surface = new BufferGeometry();
  surface.setAttribute('position', new BufferAttribute(positions, 3));
  surface.setAttribute('normal', new BufferAttribute(normals, 3));
  surface.setAttribute('aBack', new BufferAttribute(new Uint8Array(corners / 3), 1, true));
  surface.setAttribute('aApart', new BufferAttribute(apart, 3));
  surface.setIndex(new BufferAttribute(index, 1));
  return {
    surface,
    ranges,
    edges: mergedEdges(parts, moves, (long) => long >= RIM),
    rims: mergedEdges(parts, moves, (long) => long < RIM),
  };
}

function mergedEdges(parts: readonly ShownPart[], moves: Moves, wanted: (long: number) => boolean): MergedEdges {
  const most = parts.reduce((total, p) => total + p.mesh.edges.length, 0);
  const places = new Float32Array(most);
  const apart = new Float32Array(most);
  const ranges: MergedEdges['ranges'][number][] = [];
  let at = 0;
  for (const part of parts) {
    const e = part.mesh.edges;
    const move = moves.get(part.id);
    const from = at;
    for (let i = 0; i < e.length; i += 6) {
      if (!wanted(Math.hypot(e[i + 3]! - e[i]!, e[i + 4]! - e[i + 1]!, e[i + 5]! - e[i + 2]!))) continue;
      for (let k = 0; k < 6; k++) {
        places[at + k] = e[i + k]!;
        if (move) apart[at + k] = move[k % 3]!;
      }
      at += 6;
    }
    ranges.push({ part, point: from / 3, points: (at - from) / 3 });
  }
  const lines = new BufferGeometry();
  lines.setAttribute('position', new BufferAttribute(places.slice(0, at), 3));
  lines.setAttribute('aApart', new BufferAttribute(apart.slice(0, at), 3));
  lines.setAttribute('color', new BufferAttribute(new Uint8Array(at), 3, true));
  return { lines, ranges };
}

/** Sets every part but those of the chosen station a step back, the spars too where they run on behind a cut, and colours the edges to match. */
export function stepBack(
  { surface, ranges, edges, rims }: Merged,
  station: string | null,
  behindCut: boolean,
  light: Light,
): void {
  const back = surface.getAttribute('aBack') as BufferAttribute;
  const near = new Color(PALETTE[light].edge);
  const far = near.clone().lerp(new Color(PALETTE[light].bench), 0.45);
  const behind = (part: ShownPart): boolean =>
    station !== null && part.station !== station && (behindCut || part.station !== null);
  for (const { part, corner, corners } of ranges)
    (back.array as Uint8Array).fill(behind(part) ? 255 : 0, corner, corner + corners);
  back.needsUpdate = true;
  for (const { lines, ranges: owned } of [edges, rims]) {
    const tones = lines.getAttribute('color') as BufferAttribute;
    for (const { part, point, points } of owned) {
      const { r, g, b } = behind(part) ? far : near;
      const rgb = [Math.round(r * 255), Math.round(g * 255), Math.round(b * 255)] as const;
      for (let i = point; i < point + points; i++) (tones.array as Uint8Array).set(rgb, 3 * i);
    }
    tones.needsUpdate = true;
  }
}

const FAR = 1e6;
const STAYS: Vec3 = [0, 0, 0];

/** The faces that carry a verdict, as a second skin over the metal. */
export function faceGeometry(
  parts: readonly ShownPart[],
  faces: readonly SceneFace[],
  light: Light,
  moves: Moves,
): BufferGeometry {
  const byPart = new Map<string, SceneFace[]>();
  for (const face of faces) {
    const list = byPart.get(face.part);
    if (list) list.push(face);
    else byPart.set(face.part, [face]);
  }
  const positions: number[] = [];
  const normals: number[] = [];
  const tones: number[] = [];
  const marks: number[] = [];
  const stretches: number[] = [];
  const apart: number[] = [];
  for (const { id, mesh } of parts) {
    for (const face of byPart.get(id) ?? []) {
      const group = mesh.faces.find((g) => g.name === face.face);
      if (!group) continue;
      const { r, g, b } = new Color(PALETTE[light][face.verdict]);
      const [from, to] = face.within ? [face.within.low[0], face.within.high[0]] : [-FAR, FAR];
      for (let i = group.start * 3; i < (group.start + group.count) * 3; i++) {
        const v = mesh.triangles[i]! * 3;
        positions.push(mesh.positions[v]!, mesh.positions[v + 1]!, mesh.positions[v + 2]!);
        normals.push(mesh.normals[v]!, mesh.normals[v + 1]!, mesh.normals[v + 2]!);
        tones.push(r, g, b);
        marks.push(MARK_NUMBER[face.verdict]);
        stretches.push(from, to);
        apart.push(...(moves.get(id) ?? STAYS));
      }
    }
  }
  return attributes({
    position: [positions, 3],
    normal: [normals, 3],
    aTone: [tones, 3],
    aMark: [marks, 1],
    aStretch: [stretches, 2],
    aApart: [apart, 3],
  });
}

function attributes(of: Record<string, readonly [number[], number]>): BufferGeometry {
  const geometry = new BufferGeometry();
  for (const [name, [values, size]] of Object.entries(of))
    geometry.setAttribute(name, new BufferAttribute(Float32Array.from(values), size));
  return geometry;
}

/** Corner numbers of the six sides of a gap, two triangles each. */
export const GAP_TRIANGLES: readonly number[] = [
  0, 2, 1, 0, 3, 2, 4, 5, 6, 4, 6, 7, 0, 1, 5, 0, 5, 4, 1, 2, 6, 1, 6, 5, 2, 3, 7, 2, 7, 6, 3, 0, 4, 3, 4, 7,
];
const GAP_EDGES: readonly number[] = [0, 1, 1, 2, 2, 3, 3, 0, 4, 5, 5, 6, 6, 7, 7, 4, 0, 4, 1, 5, 2, 6, 3, 7];

/** The tone of a gap's verdict; a faint one is half metal. */
function toneOf({ verdict, faint }: SceneGap, light: Light): Color {
  const tone = new Color(PALETTE[light][verdict]);
  return faint ? tone.lerp(new Color(PALETTE[light].metal), 0.5) : tone;
}

/** The gaps of one kind as one surface, turned outward whichever way their corners run. */
export function gapGeometry(gaps: readonly SceneGap[], light: Light): BufferGeometry {
  const positions: number[] = [];
  const tones: number[] = [];
  const marks: number[] = [];
  for (const gap of gaps) {
    const c = gap.corners;
    const across = (i: number, j: number): [number, number, number] => [
      c[j]![0] - c[i]![0],
      c[j]![1] - c[i]![1],
      c[j]![2] - c[i]![2],
    ];
    const [u, v, w] = [across(0, 1), across(0, 3), across(0, 4)];
    const volume =
      u[0] * (v[1] * w[2] - v[2] * w[1]) + u[1] * (v[2] * w[0] - v[0] * w[2]) + u[2] * (v[0] * w[1] - v[1] * w[0]);
    const { r, g, b } = toneOf(gap, light);
    for (let t = 0; t < GAP_TRIANGLES.length; t += 3) {
      const three = [GAP_TRIANGLES[t]!, GAP_TRIANGLES[t + 1]!, GAP_TRIANGLES[t + 2]!];
      for (const i of volume > 0 ? three : three.reverse()) positions.push(...c[i]!);
      for (let i = 0; i < 3; i++) {
        tones.push(r, g, b);
        marks.push(MARK_NUMBER[gap.verdict]);
      }
    }
  }
  const geometry = attributes({ position: [positions, 3], aTone: [tones, 3], aMark: [marks, 1] });
  geometry.computeVertexNormals();
  return geometry;
}

/** The twelve edges of each gap as segments, six numbers each, and their colours likewise. */
export function gapEdges(gaps: readonly SceneGap[], light: Light): { segments: Float32Array; colors: Float32Array } {
  const segments: number[] = [];
  const colors: number[] = [];
  for (const gap of gaps) {
    const { r, g, b } = toneOf(gap, light);
    for (const i of GAP_EDGES) {
      segments.push(...gap.corners[i]!);
      colors.push(r, g, b);
    }
  }
  return { segments: Float32Array.from(segments), colors: Float32Array.from(colors) };
}

/** Crisp edges of some parts, for an outline, moved by a share of how far they go when pulled apart: six numbers a segment. */
export function edgesOf(parts: readonly ShownPart[], moves: Moves, share: number): Float32Array {
  const out = new Float32Array(parts.reduce((n, p) => n + p.mesh.edges.length, 0));
  let at = 0;
  for (const { id, mesh } of parts) {
    out.set(mesh.edges, at);
    const move = share > 0 ? moves.get(id) : undefined;
    if (move) for (let i = 0; i < mesh.edges.length; i++) out[at + i]! += move[i % 3]! * share;
    at += mesh.edges.length;
  }
  return out;
}
