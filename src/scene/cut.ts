import type { Kernel } from '../geometry/kernel.ts';
import { signedArea } from '../geometry/outline.ts';
import { difference, extrusion, type Solid, union } from '../geometry/solids.ts';
import type { Vec2, Vec3 } from '../geometry/vector.ts';
import type { Skeleton } from '../parts/layout/layout.ts';
import type { PartKind, PlacedSolid } from '../parts/placed/build.ts';
import { solidsOf } from '../parts/placed/solids.ts';
import { nearPlane } from './nearPlane.ts';

/*
 * The skeleton cut open on a plane square to the span: the cut faces of every part it meets, from the solids themselves,
 * and the metal that two of them share. (u, v) is (x aft, z up) of the wing, mm; outlines counterclockwise, holes clockwise.
 */

/** How a cut face is hatched: direction and spacing; no two that touch have the same. */
export type HatchStyle = 0 | 1 | 2 | 3;

export interface CutPart {
  readonly id: string;
  readonly kind: PartKind;
  readonly mark: string;
  readonly station: string | null;
  readonly loops: readonly (readonly Vec2[])[];
  readonly style: HatchStyle;
}

/** Metal that two parts both want, in the plane of the cut. */
export interface CutShared {
  readonly parts: readonly [string, string];
  readonly loops: readonly (readonly Vec2[])[];
}

export interface Cut {
  readonly y: number;
  readonly magnify: number;
  readonly parts: readonly CutPart[];
  readonly shared: readonly CutShared[];
}

export interface CutOptions {
  readonly magnify: number;
  readonly y: number;
  readonly skin?: boolean;
}

/** Faces nearer than this touch and are hatched apart, mm. */
const TOUCH = 0.3;
/** A shared area thinner than this is a touch, mm. */
const FILM = 0.004;

/** Panel A at S2, ×20: the front spar's loop is shared with D2's legs, 3.2 mm deep above and below. */
export function cutOf(kernel: Kernel, skeleton: Skeleton, { magnify, y, skin = false }: CutOptions): Cut {
  const cut = solidsOf(skeleton, { magnify, skin }).flatMap((part) => {
    const loops = loopsOf(kernel, part, y);
    return loops.length > 0
      ? [{ id: part.id, kind: part.kind, mark: part.mark, station: part.station ?? null, loops }]
      : [];
  });
  const metal = cut.filter((p) => p.kind !== 'skin');
  const styles = stylesOf(metal.map((p) => p.loops));
  const parts = cut.map((p): CutPart => ({ ...p, style: styles[metal.indexOf(p)] ?? 0 }));
  return { y, magnify, parts, shared: sharedOf(kernel, metal) };
}

function loopsOf(kernel: Kernel, part: PlacedSolid, y: number): Vec2[][] {
  const near = nearPlane(part.solid, y);
  if (!near) return [];
  return kernel
    .section(near, { origin: [0, y, 0], u: [1, 0, 0], v: [0, 0, 1] })
    .filter((l) => Math.abs(signedArea(l)) > 1e-4);
}

type Loops = readonly (readonly Vec2[])[];
type Box = readonly [u0: number, v0: number, u1: number, v1: number];

function boxOf(loops: Loops): Box {
  let [u0, v0, u1, v1] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const loop of loops) {
    for (const [u, v] of loop) {
      u0 = Math.min(u0, u);
      v0 = Math.min(v0, v);
      u1 = Math.max(u1, u);
      v1 = Math.max(v1, v);
    }
  }
  return [u0, v0, u1, v1];
}

const boxesMeet = (a: Box, b: Box, by: number): boolean =>
  a[0] <= b[2] + by && b[0] <= a[2] + by && a[1] <= b[3] + by && b[1] <= a[3] + by;

/** The hatch of each part: spars first, then whatever touches what is already hatched takes another. */
export function stylesOf(parts: readonly Loops[]): HatchStyle[] {
  const boxes = parts.map(boxOf);
  const styles: HatchStyle[] = [];
  parts.forEach((loops, i) => {
    const taken = new Set<HatchStyle>();
    for (let j = 0; j < i; j++)
      if (boxesMeet(boxes[i]!, boxes[j]!, TOUCH) && touch(loops, parts[j]!)) taken.add(styles[j]!);
    styles.push(([0, 1, 2, 3] as const).find((s) => !taken.has(s)) ?? 3);
  });
  return styles;
}

function touch(a: Loops, b: Loops): boolean {
  const near = (p: Vec2, loops: Loops): boolean =>
    loops.some((loop) => loop.some((q, i) => awayFrom(p, q, loop[(i + 1) % loop.length]!) < TOUCH));
  return a.some((loop) => loop.some((p) => near(p, b))) || b.some((loop) => loop.some((p) => near(p, a)));
}

function awayFrom([x, y]: Vec2, [ax, ay]: Vec2, [bx, by]: Vec2): number {
  const [dx, dy] = [bx - ax, by - ay];
  const t = Math.min(Math.max(((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy || 1), 0), 1);
  return Math.hypot(x - ax - t * dx, y - ay - t * dy);
}

/** What two cut faces share, found by the kernel on plates of that outline: all of one less what the other leaves of it. */
function sharedOf(kernel: Kernel, parts: readonly { readonly id: string; readonly loops: Loops }[]): CutShared[] {
  const boxes = parts.map((p) => boxOf(p.loops));
  return parts.flatMap((a, i) =>
    parts.slice(i + 1).flatMap((b, k): CutShared[] => {
      if (!boxesMeet(boxes[i]!, boxes[i + 1 + k]!, 0) || !cross(a.loops, b.loops)) return [];
      const loops = common(kernel, a.loops, b.loops);
      return loops.length > 0 ? [{ parts: [a.id, b.id], loops }] : [];
    }),
  );
}

/** Whether any side of one crosses a side of the other, or one lies in the other whole: what only touches need not be asked. */
function cross(a: Loops, b: Loops): boolean {
  const lies = (p: Loops, q: Loops): boolean =>
    p.some((l) => signedArea(l) > 0 && q.filter((m) => isInside(l[0]!, m)).length % 2 === 1);
  return (
    a.some((l) =>
      l.some((p, i) =>
        b.some((m) => m.some((r, j) => sidesCross(p, l[(i + 1) % l.length]!, r, m[(j + 1) % m.length]!))),
      ),
    ) ||
    lies(a, b) ||
    lies(b, a)
  );
}

function sidesCross(p: Vec2, q: Vec2, r: Vec2, s: Vec2): boolean {
  const way = (a: Vec2, b: Vec2, c: Vec2): number => (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
  return way(p, q, r) * way(p, q, s) < 0 && way(r, s, p) * way(r, s, q) < 0;
}

function common(kernel: Kernel, a: Loops, b: Loops): Vec2[][] {
  const plate = plateOf(a);
  const half = { origin: [0, 0.5, 0] as Vec3, u: [1, 0, 0] as Vec3, v: [0, 0, 1] as Vec3 };
  const loops = kernel.together(() => kernel.section(difference(plate, [difference(plate, [plateOf(b)])]), half));
  return loops.filter((l) => Math.abs(signedArea(l)) * 2 > FILM * around(l));
}

const around = (loop: readonly Vec2[]): number =>
  loop.reduce(
    (sum, p, i) => sum + Math.hypot(p[0] - loop[(i + 1) % loop.length]![0], p[1] - loop[(i + 1) % loop.length]![1]),
    0,
  );

/** A plate 1 mm thick of some loops, each hole in the outline it lies in. */
function plateOf(loops: Loops): Solid {
  return union(outlinesOf(loops).map(({ outline, holes }) => extrusion(outline, { axis: 'y', from: 0, to: 1, holes })));
}

export interface Outline {
  readonly outline: readonly Vec2[];
  readonly holes: readonly (readonly Vec2[])[];
}

/** Loops sorted into outlines, each with the holes that lie in it. */
export function outlinesOf(loops: Loops): Outline[] {
  const holes = loops.filter((l) => signedArea(l) < 0);
  const outlines = loops.filter((l) => signedArea(l) > 0);
  return outlines.map((outline) => ({ outline, holes: holes.filter((h) => isInside(h[0]!, outline)) }));
}

function isInside([u, v]: Vec2, loop: readonly Vec2[]): boolean {
  let into = false;
  for (let i = 0, j = loop.length - 1; i < loop.length; j = i++) {
    const [p, q] = [loop[i]!, loop[j]!];
    if (p[1] > v !== q[1] > v && u < ((q[0] - p[0]) * (v - p[1])) / (q[1] - p[1]) + p[0]) into = !into;
  }
  return into;
}

/** Stretches of metal on a line straight up through some loops at u, lowest first. */
export function upThrough(loops: Loops, u: number): [from: number, to: number][] {
  const at: number[] = [];
  for (const loop of loops) {
    loop.forEach((p, i) => {
      const q = loop[(i + 1) % loop.length]!;
      if (p[0] > u !== q[0] > u) at.push(p[1] + ((u - p[0]) * (q[1] - p[1])) / (q[0] - p[0]));
    });
  }
  at.sort((a, b) => a - b);
  return at.flatMap((v, i): [number, number][] => (i % 2 === 0 && at[i + 1] !== undefined ? [[v, at[i + 1]!]] : []));
}
