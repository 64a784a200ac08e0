import type { Kernel } from '../geometry/kernel.ts';
import { type CutFace, cutFace, facesOverlap, isThickerThan, type Loops, platesOf, touch } from '../geometry/loops.ts';
import { signedArea } from '../geometry/outline.ts';
import { difference, extrusion, type Solid, union } from '../geometry/solids.ts';
import type { Vec2 } from '../geometry/vector.ts';
import type { Skeleton } from '../parts/layout/layout.ts';
import type { PartKind, PlacedSolid } from '../parts/placed/build.ts';
import { solidsOf } from '../parts/placed/solids.ts';
import { nearPlane } from './nearPlane.ts';

/*
 * The skeleton cut open on a plane square to the span: the cut faces of every part it meets, from the solids
 * themselves, and the metal that two of them share. (u, v) is (x aft, z up) of the wing, mm; outlines
 * counterclockwise, holes clockwise.
 */

/** How a cut face is hatched: direction and spacing; no two that touch have the same. */
export type HatchStyle = 0 | 1 | 2 | 3;

const STYLES: readonly HatchStyle[] = [0, 1, 2, 3];

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

/** The hatch of each part: spars first, then whatever touches what is already hatched takes another. */
export function stylesOf(parts: readonly Loops[]): HatchStyle[] {
  const hatched: { readonly face: CutFace; readonly style: HatchStyle }[] = [];
  for (const face of parts.map(cutFace)) {
    const taken = new Set(hatched.filter((other) => touch(face, other.face, TOUCH)).map((other) => other.style));
    const style = STYLES.find((s) => !taken.has(s)) ?? 3;
    hatched.push({ face, style });
  }
  return hatched.map((h) => h.style);
}

/**
 * What two cut faces share, found by the kernel on plates of that outline: all of one less what the other leaves of
 * it.
 */
function sharedOf(kernel: Kernel, parts: readonly { readonly id: string; readonly loops: Loops }[]): CutShared[] {
  const faces = parts.map(({ id, loops }) => ({ id, face: cutFace(loops) }));
  return faces.flatMap((a, i) =>
    faces.slice(i + 1).flatMap((b): CutShared[] => {
      if (!facesOverlap(a.face, b.face)) return [];
      const loops = common(kernel, a.face.loops, b.face.loops);
      return loops.length > 0 ? [{ parts: [a.id, b.id], loops }] : [];
    }),
  );
}

/** The plane through the middle of the plates. */
const MIDDLE = { origin: [0, 0.5, 0], u: [1, 0, 0], v: [0, 0, 1] } as const;

function common(kernel: Kernel, a: Loops, b: Loops): Vec2[][] {
  const plate = plateOf(a);
  const onlyA = difference(plate, [plateOf(b)]);
  const loops = kernel.together(() => kernel.section(difference(plate, [onlyA]), MIDDLE));
  return loops.filter((loop) => isThickerThan(loop, FILM));
}

/** A plate 1 mm thick of some loops, each hole in the outline it lies in. */
function plateOf(loops: Loops): Solid {
  return union(platesOf(loops).map(({ outline, holes }) => extrusion(outline, { axis: 'y', from: 0, to: 1, holes })));
}
