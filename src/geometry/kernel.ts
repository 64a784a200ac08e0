import Module, { type CrossSection, type Manifold, type ManifoldToplevel } from 'manifold-3d';
import { NEAR } from '../units/near.ts';
import { loopsOf, trianglesOf } from './kernelLists.ts';
import { lumpFaces } from './lump.ts';
import type { FaceGroup, Mesh } from './mesh.ts';
import { type Extrusion, type Loft, recipeKey, type Solid, shellOf } from './solids.ts';
import { cross, dot, norm, scale, subtract, unit, type Vec2, type Vec3 } from './vector.ts';

/** A box along the wing axes. */
export interface Bounds {
  readonly low: Vec3;
  readonly high: Vec3;
}

/**
 * One face of a shared lump: whose it is, its name, its area, and how deep the lump goes square to it at the deepest.
 */
export interface LumpFace {
  readonly of: 'a' | 'b';
  readonly name: string;
  readonly area: number;
  readonly depth: number;
}

/**
 * One lump of metal that two solids share. `depth` is how far they bite: the least depth square to any face that has a good
 * share of the lump behind it. Exact for a plate, a wedge and a film, also one that runs on round a bend.
 */
export interface Lump extends Bounds {
  readonly volume: number;
  readonly depth: number;
  readonly faces: readonly LumpFace[];
}

/** What two solids share. Nothing at all, or a bare touch, has no lumps. */
export interface Overlap {
  /** mm³ */
  readonly volume: number;
  /** Greatest depth of any lump, mm. */
  readonly depth: number;
  /** Greatest first. */
  readonly lumps: readonly Lump[];
}

/** Where to cut: the section is drawn with `u` to the right and `v` up, both square to each other, from `origin`. */
export interface Plane {
  readonly origin: Vec3;
  readonly u: Vec3;
  readonly v: Vec3;
}

/**
 * The solid modeller: takes recipes, gives plain arrays and numbers. mm, mm³.
 *
 * Everything the kernel holds is freed before a call returns; what it answered is remembered by recipe, as plain data, up to
 * a bound. Inside `together` the built solids are kept until the
 * outermost one ends, so that many questions about the same parts build each part once.
 */
export interface Kernel {
  /** The surface; remembered for the recipe, so asking again for equal metal costs next to nothing. Throws Error on a recipe that closes no space. */
  build(solid: Solid): Mesh;
  volume(solid: Solid): number;
  bounds(solid: Solid): Bounds;
  overlap(a: Solid, b: Solid): Overlap;
  /** Least distance between two solids, 0 where they touch or overlap; `within` when they are further apart than that. */
  distance(a: Solid, b: Solid, within: number): number;
  /** The cut faces as closed loops in (u, v): outlines counterclockwise, holes clockwise. */
  section(solid: Solid, plane: Plane): Vec2[][];
  together<T>(job: () => T): T;
}

/** Below this a shared volume is a touch, mm³ (a film of a millionth over a square centimetre). */
const TOUCH = 1e-4;
/** Edges turned by more than this are crisp; bends of six facets a quarter turn by 15° a facet. */
const CRISP = Math.cos((25 * Math.PI) / 180);
/** Where two named faces meet, neither of them a bend, a turn of this much is crisp too; more than one facet of a nose. */
const NAMED = Math.cos((18 * Math.PI) / 180);

/** What is remembered at most: triangles of meshes (about 40 bytes each), and answers in numbers. */
const MOST_TRIANGLES = 1_500_000;
const MOST_ANSWERS = 20_000;

const NOTHING: Overlap = { volume: 0, depth: 0, lumps: [] };

/** Answers by key, the longest unasked dropped first once their sizes add up to more than `most`. */
class Kept<T> {
  readonly #all = new Map<string, T>();
  readonly #most: number;
  readonly #sizeOf: (value: T) => number;
  #size = 0;
  constructor(most: number, sizeOf: (value: T) => number) {
    this.#most = most;
    this.#sizeOf = sizeOf;
  }

  get(key: string): T | undefined {
    const value = this.#all.get(key);
    if (value === undefined) return undefined;
    this.#all.delete(key);
    this.#all.set(key, value);
    return value;
  }

  keep(key: string, value: T): T {
    const old = this.#all.get(key);
    if (old !== undefined) this.#size -= this.#sizeOf(old);
    this.#all.delete(key);
    this.#all.set(key, value);
    this.#size += this.#sizeOf(value);
    for (const [oldest, dropped] of this.#all) {
      if (this.#size <= this.#most || oldest === key) break;
      this.#all.delete(oldest);
      this.#size -= this.#sizeOf(dropped);
    }
    return value;
  }
}

let loaded: Promise<Kernel> | undefined;

/**
 * The one kernel of this program, loaded on the first call. In a browser give the address of `manifold.wasm`; in Node
 * it finds its own file.
 */
export function openKernel(wasmUrl?: string): Promise<Kernel> {
  loaded ??= load(wasmUrl);
  return loaded;
}

async function load(wasmUrl: string | undefined): Promise<Kernel> {
  const wasm = await (wasmUrl === undefined ? Module() : Module({ locateFile: () => wasmUrl }));
  wasm.setup();
  return kernelOn(wasm);
}

/** A part, or a length of one, with its box. */
interface Piece {
  readonly solid: Manifold;
  readonly box: Bounds;
}

/** A solid of fewer triangles, or no longer than this (mm), is not cut up. */
const FEW = 6000;
const SHORT = 80;

interface Deletable {
  delete(): void;
}

/** A kernel on a module of its own, with a memory of its own; the program has one, `openKernel`. */
export function kernelOn(wasm: ManifoldToplevel): Kernel {
  const meshes = new Kept<Mesh>(MOST_TRIANGLES, (mesh) => mesh.triangles.length / 3);
  const sizes = new Kept<{ volume: number; bounds: Bounds }>(MOST_ANSWERS, () => 1);
  const shares = new Kept<Overlap>(MOST_ANSWERS, () => 1);
  const held = new Map<Solid, Manifold>();
  const cutUp = new Map<Solid, Piece[]>();
  const idSets = new Map<Solid, ReadonlySet<number>>();
  const names = new Map<number, string>();
  const bin: Deletable[] = [];
  let depth = 0;

  const own = <T extends Deletable>(thing: T): T => {
    bin.push(thing);
    return thing;
  };

  function together<T>(job: () => T): T {
    depth++;
    try {
      return job();
    } finally {
      if (--depth === 0) {
        for (const thing of bin) thing.delete();
        bin.length = 0;
        held.clear();
        cutUp.clear();
        idSets.clear();
        names.clear();
      }
    }
  }

  function made(solid: Solid): Manifold {
    let m = held.get(solid);
    if (m === undefined) {
      m = own(makeOne(solid));
      held.set(solid, m);
    }
    return m;
  }

  function makeOne(solid: Solid): Manifold {
    switch (solid.kind) {
      case 'union':
        return wasm.Manifold.union(solid.of.map(made));
      case 'difference':
        return cut(made(solid.from), solid.less.map(made));
      case 'placed': {
        const [x, y, z] = solid.frame.axes;
        const o = solid.frame.origin;
        return made(solid.of).transform([...x, 0, ...y, 0, ...z, 0, o[0], o[1], o[2], 1]);
      }
      case 'box': {
        const [x, y, z] = subtract(solid.high, solid.low);
        return named(own(wasm.Manifold.cube([x, y, z])).translate([...solid.low]), solid.name);
      }
      case 'cylinder': {
        const { from, to, radius, radiusTo, facets, name } = solid;
        const along = subtract(to, from);
        const w = unit(along);
        const u = acrossOf(w);
        const bar = own(wasm.Manifold.cylinder(norm(along), radius, radiusTo, facets));
        return named(bar.transform([...u, 0, ...cross(w, u), 0, ...w, 0, ...from, 1]), name);
      }
      default:
        return makePrimitive(solid);
    }
  }

  /** Cutters that keep clear of one another, as holes do, go in as one body, which is a quarter quicker. */
  function cut(from: Manifold, cutters: readonly Manifold[]): Manifold {
    const boxes = cutters.map(boxOf);
    const clear = boxes.every((a, i) => boxes.every((b, j) => j <= i || apart(a, b) > 0));
    return clear ? from.subtract(own(wasm.Manifold.compose(cutters))) : wasm.Manifold.difference([from, ...cutters]);
  }

  /** A fresh copy of a one-face solid under its own number, so that its faces can be told apart later. */
  function named(solid: Manifold, name: string): Manifold {
    const original = own(solid).asOriginal();
    names.set(original.originalID(), name);
    return original;
  }

  function makePrimitive(solid: Loft | Extrusion): Manifold {
    const { points, triangles, ends } = shellOf(solid);
    for (const end of ends) {
      const list = triangles.get(end.name) ?? [];
      triangles.set(end.name, list);
      fillEnd(points, end.loops, list);
    }
    let id = wasm.Manifold.reserveIDs(triangles.size);
    const corners: number[] = [];
    const runIndex: number[] = [0];
    const runOriginalID: number[] = [];
    for (const [name, list] of triangles) {
      names.set(id, name);
      runOriginalID.push(id++);
      for (const corner of list) corners.push(corner);
      runIndex.push(corners.length);
    }
    const { rough, exact } = roughened(points);
    const mesh = new wasm.Mesh({
      numProp: 3,
      vertProperties: rough,
      triVerts: Uint32Array.from(corners),
      runIndex: Uint32Array.from(runIndex),
      runOriginalID: Uint32Array.from(runOriginalID),
    });
    // Meshes go in with single precision; the warp puts every corner back to the double it was.
    const sharp = own(own(wasm.Manifold.ofMesh(mesh)).warpBatch(exact));
    const status = sharp.status();
    if (status !== 'NoError') throw new Error(`a ${solid.kind} does not close a space (${status})`);
    return sharp.setTolerance(NEAR);
  }

  function fillEnd(points: Float64Array, loops: readonly (readonly number[])[], list: number[]): void {
    const at = (i: number): Vec3 => [points[3 * i] ?? 0, points[3 * i + 1] ?? 0, points[3 * i + 2] ?? 0];
    const normal = normalOf((loops[0] ?? []).map(at));
    const u = acrossOf(normal);
    const v = cross(normal, u);
    const flat = loops.map((loop) => loop.map((i): [number, number] => [dot(at(i), u), dot(at(i), v)]));
    const order = loops.flat();
    const only = flat.length === 1 ? flat[0] : undefined;
    if (only !== undefined && isConvex(only)) {
      for (let i = 1; i + 1 < order.length; i++) list.push(order[0] ?? 0, order[i] ?? 0, order[i + 1] ?? 0);
      return;
    }
    for (const [a, b, c] of trianglesOf(wasm, flat)) list.push(order[a] ?? 0, order[b] ?? 0, order[c] ?? 0);
  }

  const sized = (solid: Solid): { volume: number; bounds: Bounds } => {
    const key = recipeKey(solid);
    const known = sizes.get(key);
    if (known) return known;
    return together(() => {
      const m = made(solid);
      return sizes.keep(key, { volume: m.volume(), bounds: boxOf(m) });
    });
  };

  const build = (solid: Solid): Mesh => {
    const key = recipeKey(solid);
    const known = meshes.get(key);
    if (known) return known;
    return together(() => {
      const m = made(solid);
      if (m.status() !== 'NoError' || !(m.volume() > 0))
        throw new Error(`a ${solid.kind} leaves no metal (${m.status()})`);
      sizes.keep(key, { volume: m.volume(), bounds: boxOf(m) });
      return meshes.keep(key, plainMesh(m.getMesh(), names));
    });
  };

  const overlap = (a: Solid, b: Solid): Overlap =>
    together(() => {
      if (apart(sized(a).bounds, sized(b).bounds) > 0) return NOTHING;
      const key = `${recipeKey(a)} ${recipeKey(b)}`;
      return shares.get(key) ?? shares.keep(key, shareOf(a, b));
    });

  function shareOf(a: Solid, b: Solid): Overlap {
    const [as, bs] = [piecesNear(a, sized(b).bounds), piecesNear(b, sized(a).bounds)];
    return scratch(() => {
      const parts = as.flatMap((p) =>
        bs.flatMap((q) => (apart(p.box, q.box) > 0 ? [] : [own(p.solid.intersect(q.solid))])),
      );
      const shared = parts.length === 1 && parts[0] ? parts[0] : own(wasm.Manifold.union(parts));
      if (!(shared.volume() > TOUCH)) return NOTHING;
      const first = idsOf(a);
      const lumps = shared
        .decompose()
        .map(own)
        .filter((m) => m.volume() > TOUCH)
        .map((m) => lumpOf(m, first));
      lumps.sort((p, q) => q.volume - p.volume);
      return { volume: shared.volume(), depth: Math.max(0, ...lumps.map((l) => l.depth)), lumps };
    });
  }

  /** A job that makes nothing to be kept: what it holds is freed at its end, not at that of `together`. */
  function scratch<T>(job: () => T): T {
    const before = bin.length;
    try {
      return job();
    } finally {
      for (const thing of bin.splice(before)) thing.delete();
    }
  }

  /** The numbers of a solid's faces. */
  function idsOf(solid: Solid): ReadonlySet<number> {
    let ids = idSets.get(solid);
    if (ids === undefined) {
      ids = new Set(made(solid).getMesh().runOriginalID);
      idSets.set(solid, ids);
    }
    return ids;
  }

  /** A long part is cut across into short pieces once, so that a neighbour is set against the piece beside it, not the whole. */
  function piecesNear(solid: Solid, box: Bounds): Piece[] {
    let pieces = cutUp.get(solid);
    if (pieces === undefined) {
      const m = made(solid);
      pieces = shortened({ solid: m, box: boxOf(m) });
      cutUp.set(solid, pieces);
    }
    return pieces.filter((p) => apart(p.box, box) <= 0);
  }

  function shortened(piece: Piece): Piece[] {
    const { low, high } = piece.box;
    const along = subtract(high, low).reduce((most, d, k, all) => (d > (all[most] ?? 0) ? k : most), 0) as 0 | 1 | 2;
    if (piece.solid.numTri() < FEW || high[along] - low[along] < SHORT) return [piece];
    const way: Vec3 = along === 0 ? [1, 0, 0] : along === 1 ? [0, 1, 0] : [0, 0, 1];
    const halves = piece.solid.splitByPlane([...way], (low[along] + high[along]) / 2).map(own);
    return halves.flatMap((m) => (m.isEmpty() ? [] : shortened({ solid: m, box: boxOf(m) })));
  }

  function lumpOf(m: Manifold, first: ReadonlySet<number>): Lump {
    const mesh = m.getMesh();
    const box = boxOf(m);
    const faces = lumpFaces(
      mesh.vertProperties,
      mesh.triVerts,
      Array.from(mesh.runOriginalID, (id, run) => ({
        of: first.has(id) ? 'a' : 'b',
        name: names.get(id) ?? '',
        from: (mesh.runIndex[run] ?? 0) / 3,
        to: (mesh.runIndex[run + 1] ?? 0) / 3,
      })),
    );
    const volume = m.volume();
    // A face that has a good share of the lump behind it; a film that runs on where the two only touch has none.
    const telling = faces.filter((f) => f.area * f.depth >= 0.3 * volume);
    // No lump is deeper than a pyramid of its volume on its largest face.
    const most = (3 * volume) / Math.max(...faces.map((f) => f.area));
    return {
      ...box,
      volume,
      depth: Math.min(most, ...subtract(box.high, box.low), ...telling.map((f) => f.depth)),
      faces,
    };
  }

  const distance = (a: Solid, b: Solid, within: number): number =>
    together(() =>
      apart(sized(a).bounds, sized(b).bounds) >= within ? within : Math.min(within, made(a).minGap(made(b), within)),
    );

  const section = (solid: Solid, { origin, u, v }: Plane): Vec2[][] =>
    together(() => {
      const w = cross(u, v);
      const column = (k: 0 | 1 | 2) => [u[k], v[k], w[k], 0] as const;
      const turned = own(
        made(solid).transform([
          ...column(0),
          ...column(1),
          ...column(2),
          -dot(origin, u),
          -dot(origin, v),
          -dot(origin, w),
          1,
        ]),
      );
      const slice: CrossSection = own(turned.slice(0));
      return loopsOf(slice);
    });

  return {
    build,
    overlap,
    distance,
    section,
    together,
    volume: (solid) => sized(solid).volume,
    bounds: (solid) => sized(solid).bounds,
  };
}

/** A direction square to another of length one. */
function acrossOf(w: Vec3): Vec3 {
  return unit(Math.abs(w[0]) < 0.8 ? subtract([1, 0, 0], scale(w, w[0])) : subtract([0, 1, 0], scale(w, w[1])));
}

function boxOf(m: Manifold): Bounds {
  const { min, max } = m.boundingBox();
  return { low: min, high: max };
}

/** Distance between two boxes along the worst axis; below nothing when they share space. */
function apart(a: Bounds, b: Bounds): number {
  return Math.max(...([0, 1, 2] as const).map((k) => Math.max(a.low[k] - b.high[k], b.low[k] - a.high[k])));
}

/** Newell's mean normal of a loop that need not be quite flat. */
function normalOf(loop: readonly Vec3[]): Vec3 {
  let n: Vec3 = [0, 0, 0];
  loop.forEach((p, i) => {
    const q = loop[(i + 1) % loop.length] ?? p;
    n = [
      n[0] + (p[1] - q[1]) * (p[2] + q[2]),
      n[1] + (p[2] - q[2]) * (p[0] + q[0]),
      n[2] + (p[0] - q[0]) * (p[1] + q[1]),
    ];
  });
  return unit(n);
}

/** Whether every corner of a counterclockwise loop turns left, none of them straight on. */
function isConvex(loop: readonly Vec2[]): boolean {
  return loop.every((b, i) => {
    const a = loop[(i + loop.length - 1) % loop.length] ?? b;
    const c = loop[(i + 1) % loop.length] ?? b;
    return (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0]) > NEAR;
  });
}

/** Corners in single precision, and the step that makes a kernel's copy of them exact again, whatever order it keeps them in. */
function roughened(points: Float64Array): {
  rough: Float32Array;
  exact: (corners: Float64Array, count: number) => void;
} {
  const rough = Float32Array.from(points);
  const bits = new Uint32Array(rough.buffer);
  // An open table of corners by their bits, twice as large as it need be; empty places hold −1.
  const room = 1 << Math.ceil(Math.log2((points.length / 3) * 2 + 1));
  const table = new Int32Array(room).fill(-1);
  const start = (x: number, y: number, z: number): number =>
    ((Math.imul(x, 0x9e3779b1) ^ Math.imul(y, 0x85ebca77) ^ Math.imul(z, 0xc2b2ae3d)) >>> 0) & (room - 1);
  const same = (i: number, x: number, y: number, z: number): boolean =>
    bits[i] === x && bits[i + 1] === y && bits[i + 2] === z;
  const find = (x: number, y: number, z: number): number => {
    let at = start(x, y, z);
    while ((table[at] ?? -1) >= 0 && !same(table[at] ?? 0, x, y, z)) at = (at + 1) & (room - 1);
    return at;
  };
  for (let i = 0; i < bits.length; i += 3) table[find(bits[i] ?? 0, bits[i + 1] ?? 0, bits[i + 2] ?? 0)] = i;
  const one = new Float32Array(3);
  const oneBits = new Uint32Array(one.buffer);
  const exact = (corners: Float64Array, count: number) => {
    for (let i = 0; i < 3 * count; i += 3) {
      for (let k = 0; k < 3; k++) one[k] = corners[i + k] ?? 0;
      const from = table[find(oneBits[0] ?? 0, oneBits[1] ?? 0, oneBits[2] ?? 0)] ?? -1;
      if (from < 0) continue;
      for (let k = 0; k < 3; k++) corners[i + k] = points[from + k] ?? 0;
    }
  };
  return { rough, exact };
}

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
function plainMesh(mesh: KernelMesh, names: ReadonlyMap<number, string>): Mesh {
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
  const normals = new Float64Array(triangles.length);
  const faceOf = new Int32Array(triangles.length / 3);
  const at = (i: number): number => positions[i] ?? 0;
  for (let t = 0; t < triangles.length; t += 3) {
    const [a, b, c] = [3 * (triangles[t] ?? 0), 3 * (triangles[t + 1] ?? 0), 3 * (triangles[t + 2] ?? 0)];
    const [ux, uy, uz] = [at(b) - at(a), at(b + 1) - at(a + 1), at(b + 2) - at(a + 2)];
    const [vx, vy, vz] = [at(c) - at(a), at(c + 1) - at(a + 1), at(c + 2) - at(a + 2)];
    const [nx, ny, nz] = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
    const size = Math.hypot(nx, ny, nz) || 1;
    normals[t] = nx / size;
    normals[t + 1] = ny / size;
    normals[t + 2] = nz / size;
  }
  faces.forEach(({ start, count }, f) => faceOf.fill(f, start, start + count));
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
