import { BufferAttribute, BufferGeometry, Color } from 'three';
import type { Light } from '../../scene/palette.ts';
import { PALETTE } from '../../scene/palette.ts';
import type { SceneFace, SceneGap } from '../../scene/shown.ts';
import { MARK_NUMBER } from './hatch.ts';
import type { ShownPart } from './useSolids.ts';

/** One geometry of many parts, and which corners and edges are whose. */
export interface Merged {
  readonly surface: BufferGeometry;
  readonly edges: BufferGeometry;
  /** Corners and edge points of each part: start and count. */
  readonly ranges: readonly { readonly part: ShownPart; readonly corner: number; readonly corners: number; readonly point: number; readonly points: number }[];
}

/** All parts in one surface and one set of edges, so that a frame is two draws however many ribs there are. */
export function mergedOf(parts: readonly ShownPart[]): Merged {
  const sum = (f: (p: ShownPart) => number): number => parts.reduce((total, p) => total + f(p), 0);
  const corners = sum((p) => p.mesh.positions.length);
  const positions = new Float32Array(corners);
  const normals = new Float32Array(corners);
  const index = new Uint32Array(sum((p) => p.mesh.triangles.length));
  const edges = new Float32Array(sum((p) => p.mesh.edges.length));
  const ranges: Merged['ranges'][number][] = [];
  let [at, tri, edge] = [0, 0, 0];
  for (const part of parts) {
    const { mesh } = part;
    positions.set(mesh.positions, at);
    normals.set(mesh.normals, at);
    const base = at / 3;
    for (let i = 0; i < mesh.triangles.length; i++) index[tri + i] = mesh.triangles[i]! + base;
    edges.set(mesh.edges, edge);
    ranges.push({ part, corner: base, corners: mesh.positions.length / 3, point: edge / 3, points: mesh.edges.length / 3 });
    at += mesh.positions.length;
    tri += mesh.triangles.length;
    edge += mesh.edges.length;
  }
  const surface = new BufferGeometry();
  surface.setAttribute('position', new BufferAttribute(positions, 3));
  surface.setAttribute('normal', new BufferAttribute(normals, 3));
  surface.setAttribute('aBack', new BufferAttribute(new Uint8Array(corners / 3), 1, true));
  surface.setIndex(new BufferAttribute(index, 1));
  const lines = new BufferGeometry();
  lines.setAttribute('position', new BufferAttribute(edges, 3));
  lines.setAttribute('color', new BufferAttribute(new Uint8Array(edges.length), 3, true));
  return { surface, edges: lines, ranges };
}

/** Sets every part but those of the chosen station a step back, and colours the edges to match. */
export function stepBack({ surface, edges, ranges }: Merged, station: string | null, light: Light): void {
  const back = surface.getAttribute('aBack') as BufferAttribute;
  const tones = edges.getAttribute('color') as BufferAttribute;
  const near = new Color(PALETTE[light].edge);
  const far = near.clone().lerp(new Color(PALETTE[light].bench), 0.45);
  for (const { part, corner, corners, point, points } of ranges) {
    const behind = station !== null && part.station !== station && part.station !== null;
    (back.array as Uint8Array).fill(behind ? 255 : 0, corner, corner + corners);
    const { r, g, b } = behind ? far : near;
    const rgb = [Math.round(r * 255), Math.round(g * 255), Math.round(b * 255)] as const;
    for (let i = point; i < point + points; i++) (tones.array as Uint8Array).set(rgb, 3 * i);
  }
  back.needsUpdate = true;
  tones.needsUpdate = true;
}

const FAR = 1e6;

/** The faces that carry a verdict, as a second skin over the metal. */
export function faceGeometry(parts: readonly ShownPart[], faces: readonly SceneFace[], light: Light): BufferGeometry {
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
      }
    }
  }
  return attributes({ position: [positions, 3], normal: [normals, 3], aTone: [tones, 3], aMark: [marks, 1], aStretch: [stretches, 2] });
}

function attributes(of: Record<string, readonly [number[], number]>): BufferGeometry {
  const geometry = new BufferGeometry();
  for (const [name, [values, size]] of Object.entries(of)) geometry.setAttribute(name, new BufferAttribute(Float32Array.from(values), size));
  return geometry;
}

/** Corner numbers of the six sides of a gap, two triangles each. */
export const GAP_TRIANGLES: readonly number[] = [
  0, 2, 1, 0, 3, 2, 4, 5, 6, 4, 6, 7, 0, 1, 5, 0, 5, 4, 1, 2, 6, 1, 6, 5, 2, 3, 7, 2, 7, 6, 3, 0, 4, 3, 4, 7,
];
const GAP_EDGES: readonly number[] = [0, 1, 1, 2, 2, 3, 3, 0, 4, 5, 5, 6, 6, 7, 7, 4, 0, 4, 1, 5, 2, 6, 3, 7];

/** The gaps of one kind as one surface, turned outward whichever way their corners run. */
export function gapGeometry(gaps: readonly SceneGap[], light: Light): BufferGeometry {
  const positions: number[] = [];
  const tones: number[] = [];
  const marks: number[] = [];
  for (const gap of gaps) {
    const c = gap.corners;
    const across = (i: number, j: number): [number, number, number] => [c[j]![0] - c[i]![0], c[j]![1] - c[i]![1], c[j]![2] - c[i]![2]];
    const [u, v, w] = [across(0, 1), across(0, 3), across(0, 4)];
    const volume = u[0] * (v[1] * w[2] - v[2] * w[1]) + u[1] * (v[2] * w[0] - v[0] * w[2]) + u[2] * (v[0] * w[1] - v[1] * w[0]);
    const { r, g, b } = new Color(PALETTE[light][gap.verdict]);
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
    const { r, g, b } = new Color(PALETTE[light][gap.verdict]);
    for (const i of GAP_EDGES) {
      segments.push(...gap.corners[i]!);
      colors.push(r, g, b);
    }
  }
  return { segments: Float32Array.from(segments), colors: Float32Array.from(colors) };
}

/** Crisp edges of some parts, for an outline: six numbers a segment. */
export function edgesOf(parts: readonly ShownPart[]): Float32Array {
  const out = new Float32Array(parts.reduce((n, p) => n + p.mesh.edges.length, 0));
  let at = 0;
  for (const { mesh } of parts) {
    out.set(mesh.edges, at);
    at += mesh.edges.length;
  }
  return out;
}
