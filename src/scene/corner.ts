import { upThrough } from '../geometry/loops.ts';
import type { Vec2 } from '../geometry/vector.ts';
import { alongAt } from '../model/along.ts';
import type { SparName } from '../model/schema.ts';
import type { RibPlace, Skeleton } from '../parts/layout/layout.ts';
import { sparRings, stancesOf } from '../parts/placed/stance.ts';
import { ringAt, type SparRing, toRing } from '../parts/shapes/spar.ts';
import type { Cut, CutPart, CutShared } from './cut.ts';

/*
 * A cut looked at near one spar, in the spar's own axes: a aft of its web's forward face, b up from its middle, mm.
 */

interface CornerPart extends Omit<CutPart, 'loops'> {
  readonly loops: readonly (readonly Vec2[])[];
}

export interface Corner {
  readonly parts: readonly CornerPart[];
  readonly shared: readonly CutShared[];
  /** Half the spar's depth: the cap's outside. */
  readonly half: number;
  /** Which way the spar's channel opens, along a, and how far its caps reach. */
  readonly way: 1 | -1;
  readonly cap: number;
}

/** The section of a spar at y, deviations as the skeleton has them. */
export function sparSectionAt(skeleton: Skeleton, name: SparName, y: number): SparRing | undefined {
  const spar = skeleton.model.spars[name];
  return (
    spar && ringAt(sparRings(skeleton, name, stancesOf(skeleton, 1), { magnify: 1, from: spar.from, to: spar.to }), y)
  );
}

/** A cut drawn true (magnify 1) in the axes of the spar that a rib end meets. */
export function cornerOf(skeleton: Skeleton, cut: Cut, place: RibPlace): Corner | undefined {
  const spar = skeleton.model.spars[place.spar];
  const ring = sparSectionAt(skeleton, place.spar, cut.y);
  if (!spar || !ring) return undefined;
  const turned = (loops: readonly (readonly Vec2[])[]): Vec2[][] =>
    loops.map((l) => l.map(([u, v]) => toRing(ring, [u, cut.y, v])));
  return {
    parts: cut.parts.filter((p) => p.kind !== 'skin').map((p) => ({ ...p, loops: turned(p.loops) })),
    shared: cut.shared.map((s) => ({ ...s, loops: turned(s.loops) })),
    half: ring.depth / 2,
    way: spar.opens === 'aft' ? 1 : -1,
    cap: alongAt(spar.capWidth, cut.y),
  };
}

/** The uppermost metal of a part at a, near the top cap; undefined where it has none there. */
export function topOf({ parts, half }: Corner, id: string, a: number): readonly [from: number, to: number] | undefined {
  const part = parts.find((p) => p.id === id);
  const [from, to] = (part && upThrough(part.loops, a).at(-1)) ?? [0, 0];
  return part && to > half * 0.6 && to - from < half * 0.5 ? [from, to] : undefined;
}

/** The longest stretch of a, from the web outwards, over which all the parts named lie under the cap. */
export function sharedStretch(corner: Corner, ids: readonly string[]): readonly [number, number] | undefined {
  const step = 0.2;
  let best: [number, number] | undefined;
  let start: number | undefined;
  for (let d = 0; d <= corner.cap + step; d += step) {
    const all = d <= corner.cap && ids.every((id) => topOf(corner, id, corner.way * d));
    if (all) start ??= d;
    else if (start !== undefined) {
      if (!best || d - step - start > best[1] - best[0]) best = [start, d - step];
      start = undefined;
    }
  }
  return best;
}
