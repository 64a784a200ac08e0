import { BufferAttribute, BufferGeometry, Color } from 'three';
import { distance, type Vec3 } from '../../../geometry/vector.ts';
import { type Light, PALETTE } from '../../../scene/palette.ts';
import { placeAt } from '../places.ts';
import type { ShownPart } from '../useSolids.ts';

/* The metal of all parts as few geometries, so that a frame is three draws however many ribs there are. */

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

/** Puts one place over and over into a stretch of a list. */
function repeat(list: Float32Array, place: Vec3, from: number, to: number): void {
  for (let i = from; i < to; i += 3) list.set(place, i);
}

/** All parts in one surface and two sets of edges. */
export function mergedOf(parts: readonly ShownPart[], moves: Moves): Merged {
  const sum = (f: (p: ShownPart) => number): number => parts.reduce((total, p) => total + f(p), 0);
  const numbers = sum((p) => p.mesh.positions.length);
  const positions = new Float32Array(numbers);
  const normals = new Float32Array(numbers);
  const apart = new Float32Array(numbers);
  const index = new Uint32Array(sum((p) => p.mesh.triangles.length));
  const ranges: Merged['ranges'][number][] = [];
  let [at, next] = [0, 0];
  for (const part of parts) {
    const { mesh } = part;
    const [corner, corners] = [at / 3, mesh.positions.length / 3];
    const move = moves.get(part.id);
    positions.set(mesh.positions, at);
    normals.set(mesh.normals, at);
    if (move) repeat(apart, move, at, at + mesh.positions.length);
    index.set(
      mesh.triangles.map((c) => c + corner),
      next,
    );
    ranges.push({ part, corner, corners });
    at += mesh.positions.length;
    next += mesh.triangles.length;
  }
  const surface = new BufferGeometry();
  surface.setAttribute('position', new BufferAttribute(positions, 3));
  surface.setAttribute('normal', new BufferAttribute(normals, 3));
  surface.setAttribute('aBack', new BufferAttribute(new Uint8Array(numbers / 3), 1, true));
  surface.setAttribute('aApart', new BufferAttribute(apart, 3));
  surface.setIndex(new BufferAttribute(index, 1));
  return {
    surface,
    ranges,
    edges: mergedEdges(parts, moves, (long) => long >= RIM),
    rims: mergedEdges(parts, moves, (long) => long < RIM),
  };
}

/** Edges of the length wanted, of all parts. */
function mergedEdges(parts: readonly ShownPart[], moves: Moves, wanted: (long: number) => boolean): MergedEdges {
  const most = parts.reduce((total, p) => total + p.mesh.edges.length, 0);
  const places = new Float32Array(most);
  const apart = new Float32Array(most);
  const ranges: MergedEdges['ranges'][number][] = [];
  let at = 0;
  for (const part of parts) {
    const { edges } = part.mesh;
    const move = moves.get(part.id);
    const from = at;
    for (let i = 0; i < edges.length / 3; i += 2) {
      if (!wanted(distance(placeAt(edges, i), placeAt(edges, i + 1)))) continue;
      places.set(edges.subarray(3 * i, 3 * i + 6), at);
      at += 6;
    }
    if (move) repeat(apart, move, from, at);
    ranges.push({ part, point: from / 3, points: (at - from) / 3 });
  }
  const lines = new BufferGeometry();
  lines.setAttribute('position', new BufferAttribute(places.slice(0, at), 3));
  lines.setAttribute('aApart', new BufferAttribute(apart.slice(0, at), 3));
  lines.setAttribute('color', new BufferAttribute(new Uint8Array(at), 3, true));
  return { lines, ranges };
}

/** Where the look is drawn to. */
export interface Near {
  readonly station: string | null;
  /** Seen along the span behind a cut: spars that run on behind it step back too. */
  readonly behindCut: boolean;
}

const rgbOf = ({ r, g, b }: Color): Vec3 => [Math.round(r * 255), Math.round(g * 255), Math.round(b * 255)];

/** Sets every part but those of the chosen station a step back, and colours the edges to match. */
export function stepBack({ surface, ranges, edges, rims }: Merged, { station, behindCut }: Near, light: Light): void {
  const tones = PALETTE[light];
  const near = new Color(tones.edge);
  const far = near.clone().lerp(new Color(tones.bench), 0.45);
  const behind = (part: ShownPart): boolean =>
    station !== null && part.station !== station && (behindCut || part.station !== null);
  const back = surface.getAttribute('aBack') as BufferAttribute;
  for (const { part, corner, corners } of ranges)
    (back.array as Uint8Array).fill(behind(part) ? 255 : 0, corner, corner + corners);
  back.needsUpdate = true;
  for (const { lines, ranges: owned } of [edges, rims]) {
    const colours = lines.getAttribute('color') as BufferAttribute;
    for (const { part, point, points } of owned) {
      const rgb = rgbOf(behind(part) ? far : near);
      for (let i = point; i < point + points; i++) (colours.array as Uint8Array).set(rgb, 3 * i);
    }
    colours.needsUpdate = true;
  }
}

/** Gives the graphics card its memory back. */
export function forget({ surface, edges, rims }: Merged): void {
  for (const geometry of [surface, edges.lines, rims.lines]) geometry.dispose();
}

/**
 * Crisp edges of some parts, for an outline, moved by a share of how far they go when pulled apart: six numbers a
 * segment.
 */
export function edgesOf(parts: readonly ShownPart[], moves: Moves, share: number): Float32Array {
  const out = new Float32Array(parts.reduce((n, p) => n + p.mesh.edges.length, 0));
  let at = 0;
  for (const { id, mesh } of parts) {
    const move = share > 0 ? moves.get(id) : undefined;
    out.set(move ? mesh.edges.map((v, i) => v + move[(i % 3) as 0 | 1 | 2] * share) : mesh.edges, at);
    at += mesh.edges.length;
  }
  return out;
}
