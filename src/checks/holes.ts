import { best, type Chain, chain, combine } from '../chains/chain.ts';
import type { Size } from '../chains/size.ts';
import { smallestHolding } from '../geometry/circle.ts';
import { limitFor } from '../model/limits.ts';
import type { Hole, Joint } from '../model/schema.ts';
import type { Bay, Skeleton } from '../parts/skeleton.ts';
import { drillName, formatLength, formatPercent } from '../units.ts';
import { chance } from '../chains/normal.ts';
import { sentence, show } from './describe.ts';
import { edgeChain } from './edges.ts';
import { type Finding, judge } from './finding.ts';
import { asSize, type OffsetChains, offsetsOf } from './offsets.ts';
import { stageIndex } from './stages.ts';

/*
 * Asks: will this hole clean up at final size through every layer? (C12)
 * Each layer's hole is a circle in the plane of the sheets, off the guide layer by what was measured, or by what `offsets`
 * reckons from how it was drilled. Following the guide needs the guide's axis and the farthest circle; the best axis is the
 * centre of the smallest circle that holds them all. Margin = (final - needed)/2.
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
  /** Drill that cleans every layer when it follows the guide layer. */
  readonly following: number;
  /** Drill that cleans every layer on the best axis, which lies at (along, up) from the guide's. */
  readonly bestAxis: number;
  readonly axis: { readonly along: number; readonly up: number };
  /** Standard uncertainty of each margin. */
  readonly uFollowing: number;
  readonly uBest: number;
}

const known = new WeakMap<Skeleton, WeakMap<Hole, readonly HoleCircle[]>>();

/** The circles that exist at a hole now, or at another stage; layers without a hole yet are not among them. Those of the present stage are remembered with the skeleton. */
export function circlesOf(skeleton: Skeleton, joint: Joint, hole: Hole, at?: number): readonly HoleCircle[] {
  if (at !== undefined && at !== stageIndex(skeleton.model)) return circlesAt(skeleton, joint, hole, at);
  let byHole = known.get(skeleton);
  if (!byHole) known.set(skeleton, (byHole = new WeakMap()));
  let circles = byHole.get(hole);
  if (!circles) byHole.set(hole, (circles = circlesAt(skeleton, joint, hole, at)));
  return circles;
}

function circlesAt(skeleton: Skeleton, joint: Joint, hole: Hole, at: number | undefined): HoleCircle[] {
  const offsets = offsetsOf(skeleton, joint, hole, at);
  return hole.layers
    .filter((l) => l.state !== 'none' && l.size > 0)
    .map((l) => {
      const key = `${joint.id}/${hole.id}.${l.part}`;
      const terms = offsets(l.part);
      return { part: l.part, along: asSize(terms.along, `${key}.along`, `spanwise offset of ${l.part}`), up: asSize(terms.up, `${key}.up`, `vertical offset of ${l.part}`), diameter: l.size, terms };
    });
}

/** Needed drill following the guide and on the best axis; undefined with fewer than two drilled layers. Panel A, S3: 3.270 and 2.880 mm. */
export function needOf(circles: readonly HoleCircle[], guide: string): Need | undefined {
  const lead = circles.find((c) => c.part === guide) ?? circles[0];
  if (!lead || circles.length < 2) return undefined;
  const reach = (c: HoleCircle): number => Math.hypot(c.along.best - lead.along.best, c.up.best - lead.up.best);
  let far = lead;
  for (const c of circles) if (2 * reach(c) + c.diameter > 2 * reach(far) + far.diameter) far = c;
  let widest = lead;
  for (const c of circles) if (reach(c) > reach(widest)) widest = c;
  const inLine = reach(widest) === 0;
  const holding = inLine ? { x: lead.along.best, y: lead.up.best, r: Math.max(...circles.map((c) => c.diameter)) / 2 } : smallestHolding(circles.map((c) => ({ x: c.along.best, y: c.up.best, r: c.diameter / 2 })));
  const u = offsetUncertainty(widest, lead);
  return {
    circles,
    widest,
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

const needed = (d: number): string => formatLength(d, 'in', { digits: 4 });
const drill = (d: number): string => {
  const name = drillName(d);
  const inch = `${formatLength(d, 'in', { digits: 4 })}`;
  return name ? `${name} (${inch})` : inch;
};

/** Words for the next larger size: does it clean up, does the edge hold; or that there is no larger size left. */
export function nextStep(skeleton: Skeleton, joint: Joint, need: Need): string {
  const { model } = skeleton;
  if (!joint.next) return 'This is the largest rivet of the design: no larger size is left.';
  const next = joint.next;
  if (need.bestAxis > next.drill) return `Even ${drill(next.drill)} would not clean it up: no larger size is left.`;
  for (const part of joint.layers) {
    const edge = edgeChain(skeleton, joint, part);
    if (!edge) continue;
    const wanted = 2 * next.rivet;
    if (best(edge) < wanted) return `The next size, ${drill(next.drill)}, wants ${show(model, wanted)} to the edge and ${part} has ${show(model, best(edge))}: no larger size is left.`;
  }
  return `The next size, ${drill(next.drill)}, would clean it up and the edges hold; ask the designer.`;
}

function cleanupFinding(skeleton: Skeleton, joint: Joint, hole: Hole): Finding | undefined {
  const { model } = skeleton;
  const need = needOf(circlesOf(skeleton, joint, hole), joint.guide);
  if (!need) return undefined;
  const margin = (joint.final - need.bestAxis) / 2;
  const follow = (joint.final - need.following) / 2;
  const follows = follow - 2 * need.uFollowing >= 0;
  const name = `${joint.id} hole ${hole.id}`;
  return judge({
    check: 'hole-cleanup',
    station: joint.station,
    place: name,
    restsOn: combine([-0.5, chainOf(need.widest, 'along')], [-0.5, chainOf(need.widest, 'up')]),
    value: margin,
    u: need.uBest,
    limit: limitFor(model, 'hole-cleanup'),
    ...(follow < 0 ? { atLeast: 'watch' as const } : {}),
    sense: (v) => (v < 0 ? 'does not clean up' : follows ? 'follow the guide' : 'bushing set midway'),
    say: (j) => {
      const early = hole.layers.some((l) => l.state === 'final') && hole.layers.some((l) => l.state !== 'final');
      const soon = early ? `It was opened too soon in ${hole.layers.filter((l) => l.state === 'final').map((l) => l.part).join(' and ')}. ` : '';
      const bestAxis = `${name} needs ${needed(need.bestAxis)} on the best axis against ${drill(joint.final)} final, a margin of ${show(model, j.value)}`;
      if (j.value < 0) return sentence(model, j, bestAxis, { note: soon + nextStep(skeleton, joint, need) });
      const likely = formatPercent(chance(follow / need.uFollowing));
      const following = `Following the ${joint.guide === 'front' || joint.guide === 'rear' ? `${joint.guide} spar` : joint.guide} hole it needs ${needed(need.following)}: by its margin alone ${likely} likely to clean up.`;
      return sentence(model, j, bestAxis, { note: follows ? undefined : following, todo: 'Drill through a bushing set midway.' });
    },
  });
}

export function* holes(skeleton: Skeleton, bay: Bay): Generator<Finding> {
  for (const joint of skeleton.jointsAt(bay.station.id)) {
    for (const hole of joint.holes) {
      const f = cleanupFinding(skeleton, joint, hole);
      if (f) yield f;
    }
  }
}
