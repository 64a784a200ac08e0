import { once } from '../once.ts';
import { type Frame, wingPoint } from './frame.ts';
import { signedArea } from './outline.ts';
import type { Vec2, Vec3 } from './vector.ts';

/*
 * Recipes for solids as plain data: what a part is made of, before any kernel has seen it.
 *
 * Millimetres; axes x aft, y right along the span, z up. A recipe is never changed once made, so the same object always
 * means the same metal and a kernel may remember what it built from it. Every primitive may name its faces; the names
 * survive cutting and joining. A face cut into a solid keeps the name of the tool that cut it.
 *
 * Rounds are faceted with their corners ON the true circle: a quarter bend of n facets loses r²(π/4 − (n/2) sin(π/2n))
 * of area on its outside and gains the same, with its own r, on its inside.
 */

export type Axis = 'x' | 'y' | 'z';

/**
 * Closed rings of equal corner count, joined corner to corner in order and capped at both ends. Winding does not
 * matter.
 */
export interface Loft {
  readonly kind: 'loft';
  readonly rings: readonly (readonly Vec3[])[];
  /** Names of the faces swept by edge k (corner k to k+1); one text names them all. */
  readonly sides: string | readonly string[];
  /** Names of whole belts between ring r and r+1, before those of the sides; '' leaves a belt to its sides. */
  readonly belts: readonly string[];
  /**
   * Edges not swept but closed by one flat face over their whole length, as the open end of a pan: every ring's two
   * corners there lie in one plane.
   */
  readonly flats: readonly number[];
  readonly start: string;
  readonly end: string;
}

/**
 * A closed outline with holes, drawn across `axis` and pulled along it. Across x: (y, z); across y: (x, z); across z:
 * (x, y).
 */
export interface Extrusion {
  readonly kind: 'extrusion';
  readonly outline: readonly Vec2[];
  readonly holes: readonly (readonly Vec2[])[];
  readonly axis: Axis;
  readonly from: number;
  readonly to: number;
  readonly sides: string | readonly string[];
  readonly start: string;
  readonly end: string;
}

export interface BoxSolid {
  readonly kind: 'box';
  readonly low: Vec3;
  readonly high: Vec3;
  readonly name: string;
}

/** A round bar between two points, of one or two radii. Corners lie on the true circle. */
export interface Cylinder {
  readonly kind: 'cylinder';
  readonly from: Vec3;
  readonly to: Vec3;
  readonly radius: number;
  readonly radiusTo: number;
  readonly facets: number;
  readonly name: string;
}

interface Union {
  readonly kind: 'union';
  readonly of: readonly Solid[];
}

/** The first solid less all the others, in one cut. */
interface Difference {
  readonly kind: 'difference';
  readonly from: Solid;
  readonly less: readonly Solid[];
}

/** A solid drawn in its own axes, laid where a Frame says; left-handed axes make the mirrored part. */
export interface Placed {
  readonly kind: 'placed';
  readonly of: Solid;
  readonly frame: Frame;
}

type Primitive = Loft | Extrusion | BoxSolid | Cylinder;
export type Solid = Primitive | Union | Difference | Placed;

interface FaceNames {
  readonly sides?: string | readonly string[];
  readonly belts?: readonly string[];
  readonly flats?: readonly number[];
  readonly start?: string;
  readonly end?: string;
}

export function loft(rings: readonly (readonly Vec3[])[], names: FaceNames = {}): Loft {
  return {
    kind: 'loft',
    rings,
    sides: names.sides ?? '',
    belts: names.belts ?? [],
    flats: names.flats ?? [],
    start: names.start ?? '',
    end: names.end ?? '',
  };
}

export function extrusion(
  outline: readonly Vec2[],
  along: { axis: Axis; from: number; to: number; holes?: readonly (readonly Vec2[])[] },
  names: Omit<FaceNames, 'belts' | 'flats'> = {},
): Extrusion {
  const { axis, from, to, holes = [] } = along;
  return {
    kind: 'extrusion',
    outline,
    holes,
    axis,
    from,
    to,
    sides: names.sides ?? '',
    start: names.start ?? '',
    end: names.end ?? '',
  };
}

export function box(low: Vec3, high: Vec3, name = ''): BoxSolid {
  return { kind: 'box', low, high, name };
}

export function cylinder(
  from: Vec3,
  to: Vec3,
  radius: number,
  options: { radiusTo?: number; facets?: number; name?: string } = {},
): Cylinder {
  return {
    kind: 'cylinder',
    from,
    to,
    radius,
    radiusTo: options.radiusTo ?? radius,
    facets: options.facets ?? 24,
    name: options.name ?? '',
  };
}

export function union(of: readonly Solid[]): Solid {
  const only = of[0];
  return of.length === 1 && only !== undefined ? only : { kind: 'union', of };
}

export function difference(from: Solid, less: readonly Solid[]): Solid {
  return less.length === 0 ? from : { kind: 'difference', from, less };
}

export function placed(of: Solid, frame: Frame): Solid {
  return { kind: 'placed', of, frame };
}

/**
 * The frame of a section at a place: turned about +y by `pitch` (radians, nose up positive), then shifted.
 * Example: `sectionFrame([0, 400, 0], 0.01)` carries the point 100 forward of the origin to 1 above it.
 */
export function sectionFrame([x, y, z]: Vec3, pitch = 0): Frame {
  const c = Math.cos(pitch);
  const s = Math.sin(pitch);
  return {
    origin: wingPoint(x, y, z),
    axes: [
      [c, 0, -s],
      [0, 1, 0],
      [s, 0, c],
    ],
  };
}

/** The mirror image across the plane where `axis` is zero; no metal is gained or lost. */
export function mirroredSolid(of: Solid, axis: Axis): Solid {
  const sign = (a: Axis) => (a === axis ? -1 : 1);
  return placed(of, {
    origin: wingPoint(0, 0, 0),
    axes: [
      [sign('x'), 0, 0],
      [0, sign('y'), 0],
      [0, 0, sign('z')],
    ],
  });
}

/**
 * A short name for a recipe: equal recipes have equal names, whatever objects they are. 64 bits of the recipe's
 * numbers and words and how many there are of them, so that two different recipes with one name are not to be met
 * with.
 */
export const recipeKey: (solid: Solid) => string = once((solid) => shapeKey(solid));

/** As `recipeKey`, for the numbers and words of any plain shape. Nothing is remembered for it. */
export function shapeKey(shape: object): string {
  const stir = new Stir();
  stir.all(shape);
  return stir.name();
}

/** Two 32-bit words stirred with every number and letter in turn. */
class Stir {
  #a = 0x9e3779b9;
  #b = 0x85ebca6b;
  #many = 0;
  readonly #double = new Float64Array(1);
  readonly #words = new Uint32Array(this.#double.buffer);

  all(value: unknown): void {
    if (typeof value === 'number') this.#number(value);
    else if (typeof value === 'string') this.#text(value);
    else if (Array.isArray(value)) {
      this.#word(value.length);
      for (const inner of value) this.all(inner);
    } else if (value !== null && typeof value === 'object') {
      // Inner recipes go in by their own names, which are remembered.
      if (this.#many > 0 && 'kind' in value) this.#text(recipeKey(value as Solid));
      else for (const inner of Object.values(value)) this.all(inner);
    }
  }

  name(): string {
    return `${(this.#a >>> 0).toString(36)}.${(this.#b >>> 0).toString(36)}.${this.#many.toString(36)}`;
  }

  #number(value: number): void {
    this.#double[0] = value + 0; // minus nothing is nothing
    this.#word(this.#words[0] ?? 0);
    this.#word(this.#words[1] ?? 0);
  }

  #text(value: string): void {
    this.#word(value.length);
    for (let i = 0; i < value.length; i++) this.#word(value.charCodeAt(i));
  }

  #word(w: number): void {
    this.#many++;
    this.#a = Math.imul(this.#a ^ w, 0x9e3779b1);
    this.#a ^= this.#a >>> 15;
    this.#b = Math.imul((this.#b << 5) ^ (this.#b >>> 27) ^ w, 0x85ebca77);
  }
}

/**
 * A loft or extrusion opened out: its corners, its triangles by name, and its flat ends still to be cut into
 * triangles.
 */
export interface Shell {
  /** x, y, z of each corner. */
  readonly points: Float64Array;
  readonly triangles: Map<string, number[]>;
  /** Each end as loops of corner numbers, the outline first, wound as its outward side asks. */
  readonly ends: readonly { readonly name: string; readonly loops: readonly (readonly number[])[] }[];
}

/**
 * The corners and faces of a loft or extrusion, wound so that normals point out. Pure; flat ends are left as loops.
 * Throws when a loft's rings differ in corner count or there are fewer than two of them.
 */
export function shellOf(solid: Loft | Extrusion): Shell {
  switch (solid.kind) {
    case 'loft':
      return shellOfLoops([solid.rings], [solid.sides], solid.start, solid.end, solid);
    case 'extrusion': {
      const loops = [solid.outline, ...solid.holes].map((loop, i) => {
        const turned = signedArea(loop) > 0 === (i === 0) ? loop : [...loop].reverse();
        return [solid.from, solid.to].map((at) => turned.map((p) => across[solid.axis](p, at)));
      });
      const first =
        typeof solid.sides === 'string' || signedArea(solid.outline) > 0 ? solid.sides : reversedSides(solid.sides);
      return shellOfLoops(loops, [first, ...solid.holes.map(() => 'hole')], solid.start, solid.end);
    }
  }
}

/** A reversed ring's edge k was edge n−2−k before (and the closing edge stays last). */
function reversedSides(sides: readonly string[]): string[] {
  return [...sides.slice(0, -1).reverse(), ...sides.slice(-1)];
}

/** A point of an outline drawn across an axis, so far along it: `across.x([2, 3], 1)` is `[1, 2, 3]`. */
export const across: Readonly<Record<Axis, (point: Vec2, at: number) => Vec3>> = {
  x: ([a, b], at) => [at, a, b],
  y: ([a, b], at) => [a, at, b],
  z: ([a, b], at) => [a, b, at],
};

function shellOfLoops(
  loops: readonly (readonly (readonly Vec3[])[])[],
  sides: readonly (string | readonly string[])[],
  start: string,
  end: string,
  extra: Partial<Pick<Loft, 'belts' | 'flats'>> = {},
): Shell {
  const { belts = [], flats = [] } = extra;
  const points: number[] = [];
  const triangles = new Map<string, number[]>();
  const faces: { name: string; loops: number[][] }[] = [];
  const first: number[][] = [];
  const last: number[][] = [];
  loops.forEach((rings, which) => {
    const n = rings[0]?.length ?? 0;
    if (rings.length < 2 || n < 3)
      throw new Error(`a loft needs two rings of three corners or more; found ${rings.length} of ${n}`);
    const base = points.length / 3;
    rings.forEach((ring, r) => {
      if (ring.length !== n) throw new Error(`ring ${r} of a loft has ${ring.length} corners where the first has ${n}`);
      for (const p of ring) points.push(p[0], p[1], p[2]);
    });
    const named = sides[which] ?? '';
    for (let k = 0; k < n; k++) {
      const side = typeof named === 'string' ? named : (named[k] ?? '');
      if (flats.includes(k)) {
        const out = rings.map((_, r) => base + r * n + ((k + 1) % n));
        const back = rings.map((_, r) => base + r * n + k).reverse();
        faces.push({ name: side, loops: [[...out, ...back]] });
        continue;
      }
      for (let r = 0; r + 1 < rings.length; r++) {
        const name = belts[r] || side;
        const list = triangles.get(name) ?? [];
        if (list.length === 0) triangles.set(name, list);
        const a = base + r * n + k;
        const b = base + r * n + ((k + 1) % n);
        if (isHigher(points, a, b)) list.push(a, b, b + n, a, b + n, a + n);
        else list.push(a, b, a + n, b, b + n, a + n);
      }
    }
    first.push(Array.from({ length: n }, (_, k) => base + k).reverse());
    last.push(Array.from({ length: n }, (_, k) => base + (rings.length - 1) * n + k));
  });
  const ends = [...faces, { name: start, loops: first }, { name: end, loops: last }];
  const shell = { points: Float64Array.from(points), triangles, ends };
  return insideOut(shell) ? turned(shell) : shell;
}

/**
 * Which of two neighbours in a ring its quad is split from: the higher, or the further aft where they are level. Both
 * sides of a warped sheet are split alike by it, so the sheet keeps its thickness, and so do sheets lying on one
 * another.
 */
function isHigher(points: readonly number[], a: number, b: number): boolean {
  const [dx, dy, dz] = [0, 1, 2].map((k) => (points[3 * a + k] ?? 0) - (points[3 * b + k] ?? 0)) as [
    number,
    number,
    number,
  ];
  if (Math.abs(dz) > 1e-6) return dz > 0;
  return Math.abs(dx) > 1e-6 ? dx > 0 : dy > 0;
}

/** Six times the signed volume, flat ends fanned about their first corner, tells which way the shell is wound. */
function insideOut({ points, triangles, ends }: Shell): boolean {
  let six = 0;
  const [ox, oy, oz] = [points[0] ?? 0, points[1] ?? 0, points[2] ?? 0];
  const add = (a: number, b: number, c: number) => {
    const [ax, ay, az] = [(points[3 * a] ?? 0) - ox, (points[3 * a + 1] ?? 0) - oy, (points[3 * a + 2] ?? 0) - oz];
    const [bx, by, bz] = [(points[3 * b] ?? 0) - ox, (points[3 * b + 1] ?? 0) - oy, (points[3 * b + 2] ?? 0) - oz];
    const [cx, cy, cz] = [(points[3 * c] ?? 0) - ox, (points[3 * c + 1] ?? 0) - oy, (points[3 * c + 2] ?? 0) - oz];
    six += ax * (by * cz - bz * cy) + ay * (bz * cx - bx * cz) + az * (bx * cy - by * cx);
  };
  for (const t of triangles.values())
    for (let i = 0; i < t.length; i += 3) add(t[i] ?? 0, t[i + 1] ?? 0, t[i + 2] ?? 0);
  for (const { loops } of ends)
    for (const loop of loops)
      for (let i = 1; i + 1 < loop.length; i++) add(loop[0] ?? 0, loop[i] ?? 0, loop[i + 1] ?? 0);
  return six < 0;
}

function turned({ points, triangles, ends }: Shell): Shell {
  const flipped = new Map<string, number[]>();
  for (const [name, t] of triangles) {
    const out = [...t];
    for (let i = 0; i < out.length; i += 3) [out[i + 1], out[i + 2]] = [t[i + 2] ?? 0, t[i + 1] ?? 0];
    flipped.set(name, out);
  }
  return {
    points,
    triangles: flipped,
    ends: ends.map((e) => ({ name: e.name, loops: e.loops.map((l) => [...l].reverse()) })),
  };
}
