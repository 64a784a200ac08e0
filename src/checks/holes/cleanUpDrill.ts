import { type Chain, chain } from '../../chains/chain.ts';
import type { Size } from '../../chains/size.ts';
import { smallestHolding } from '../../geometry/circle.ts';
import { kept } from '../../model/rested.ts';
import type { Hole, Joint } from '../../model/schema.ts';
import { jointOf, type Skeleton } from '../../parts/layout/layout.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { asSize, type OffsetChains, offsetsOf } from './offsets.ts';
import { stageIndex } from './stages.ts';

/*
 * The circles of one hole, a layer each, and the drill that cleans them all up (C12). Following the guide needs the
 * guide's axis and the farthest circle; the best axis is the centre of the smallest circle that holds them all.
 */

/** A layer's hole as it is now: offset from the guide layer (along the span, up) and present diameter, mm. */
export interface HoleCircle {
  readonly part: string;
  readonly along: Size;
  readonly up: Size;
  readonly diameter: number;
  /** What the offsets are sums of, where they are. */
  readonly terms?: OffsetChains;
}

/** Offset of a circle along one axis as a chain. */
export const chainOf = (c: HoleCircle, axis: 'along' | 'up'): Chain => c.terms?.[axis] ?? chain([1, c[axis]]);

/** What a hole needs, mm diameters, and how surely. */
export interface Need {
  readonly circles: readonly HoleCircle[];
  /** The circle farthest off the guide. */
  readonly widest: HoleCircle;
  /** The circle that may lie farthest off the guide, with its doubt: the margins' uncertainty is its. */
  readonly worst: HoleCircle;
  /** Drill that cleans every layer when it follows the guide layer. */
  readonly following: number;
  /** Drill that cleans every layer on the best axis, which lies at (along, up) from the guide's. */
  readonly bestAxis: number;
  readonly axis: { readonly along: number; readonly up: number };
  /** Standard uncertainty of each margin. */
  readonly uFollowing: number;
  readonly uBest: number;
}

/** The circles of a joint's holes as they are now. */
const circlesNow = kept((model, id): ReadonlyMap<Hole, readonly HoleCircle[]> => {
  const skeleton = skeletonOf(model);
  const joint = jointOf(model, id);
  return new Map(joint?.holes.map((hole) => [hole, circlesAt(skeleton, joint, hole, undefined)]));
});

/** The circles that exist at a hole now, or at another stage; layers without a hole yet are not among them. */
export function circlesOf(skeleton: Skeleton, joint: Joint, hole: Hole, at?: number): readonly HoleCircle[] {
  const now = at === undefined || at === stageIndex(skeleton.model);
  const known =
    now && skeleton === skeletonOf(skeleton.model) ? circlesNow(skeleton.model, joint.id).get(hole) : undefined;
  return known ?? circlesAt(skeleton, joint, hole, at);
}

function circlesAt(skeleton: Skeleton, joint: Joint, hole: Hole, at: number | undefined): HoleCircle[] {
  const offsets = offsetsOf(skeleton, joint, hole, at);
  return hole.layers
    .filter((l) => l.state !== 'none' && l.size > 0)
    .map((l) => {
      const key = `${joint.id}/${hole.id}.${l.part}`;
      const terms = offsets(l.part);
      return {
        part: l.part,
        along: asSize(terms.along, `${key}.along`, `spanwise offset of ${l.part}`),
        up: asSize(terms.up, `${key}.up`, `vertical offset of ${l.part}`),
        diameter: l.size,
        terms,
      };
    });
}

/**
 * Needed drill following the guide and on the best axis; undefined with fewer than two drilled layers. Panel A, S3:
 * 3.270 and 2.880 mm.
 */
export function needOf(circles: readonly HoleCircle[], guide: string): Need | undefined {
  const lead = circles.find((c) => c.part === guide) ?? circles[0];
  if (!lead || circles.length < 2) return undefined;
  const reach = (c: HoleCircle): number => Math.hypot(c.along.best - lead.along.best, c.up.best - lead.up.best);
  let far = lead;
  for (const c of circles) if (2 * reach(c) + c.diameter > 2 * reach(far) + far.diameter) far = c;
  const others = circles.filter((c) => c !== lead);
  const widest = others.reduce((w, c) =>
    reach(c) > reach(w) || (reach(c) === reach(w) && offsetUncertainty(c, lead) > offsetUncertainty(w, lead)) ? c : w,
  );
  // In doubt by whichever layer may lie farthest off: one not read at all may, though its best is no offset.
  const worst = others.reduce(
    (w, c) => (reach(c) + 2 * offsetUncertainty(c, lead) > reach(w) + 2 * offsetUncertainty(w, lead) ? c : w),
    widest,
  );
  const inLine = reach(widest) === 0;
  const holding = inLine
    ? { x: lead.along.best, y: lead.up.best, r: Math.max(...circles.map((c) => c.diameter)) / 2 }
    : smallestHolding(circles.map((c) => ({ x: c.along.best, y: c.up.best, r: c.diameter / 2 })));
  const u = offsetUncertainty(worst, lead);
  return {
    circles,
    widest,
    worst,
    following: 2 * reach(far) + far.diameter,
    bestAxis: 2 * holding.r,
    axis: { along: holding.x - lead.along.best, up: holding.y - lead.up.best },
    uFollowing: u,
    uBest: u / 2,
  };
}

/** Uncertainty of the distance between two holes along the line joining them; the plain one where they coincide. */
function offsetUncertainty(a: HoleCircle, b: HoleCircle): number {
  const dx = a.along.best - b.along.best;
  const dy = a.up.best - b.up.best;
  const r = Math.hypot(dx, dy);
  const vx = a.along.u ** 2 + b.along.u ** 2;
  const vy = a.up.u ** 2 + b.up.u ** 2;
  if (r === 0) return Math.sqrt((vx + vy) / 2);
  return Math.sqrt(vx * (dx / r) ** 2 + vy * (dy / r) ** 2);
}
