import { best } from '../../chains/chain.ts';
import type { Hole, Joint } from '../../model/schema.ts';
import type { Skeleton } from '../../parts/layout/layout.ts';
import { drillName } from '../../units/drills.ts';
import { NEAR } from '../../units/near.ts';
import { formatLength } from '../../units.ts';
import { show } from '../describe.ts';
import { UNSEEN } from '../slack.ts';
import { bendRoomChain } from './bendRoom.ts';
import { circlesOf, type HoleCircle, type Need, needOf } from './cleanUpDrill.ts';
import { edgeAt, leastPitch } from './edges.ts';
import { shankGrams } from './rivets.ts';
import type { HoleSpot } from './rowPlace.ts';

/*
 * The next larger size: would it clean the hole up, and do every layer's edge and the row hold it? One answer, for the
 * finding, the card, the ledger and the strip.
 */

/** One layer's room round a hole. D are diameters of the rivet of that size; undefined where no edge is near. */
export interface EdgeLine {
  readonly part: string;
  /**
   * From this layer's own hole to its edge, mm, and in D of the rivet; where it has no hole, from where the drill
   * will come.
   */
  readonly mm: number;
  readonly now: number;
  /** From the axis the drill takes, mm, and in D at final and next size. */
  readonly atAxis: number;
  readonly final: number;
  /** From the axis the next size takes, mm, and in its D; undefined without a next size. */
  readonly atNext: number | undefined;
  readonly next: number | undefined;
  /** Room between the head and the bend beside it, mm; undefined where no bend is near. */
  readonly bend: number | undefined;
}

/** What the next larger size would mean here. */
export type NextSize =
  | { readonly ok: true; readonly drill: number; readonly rivet: number; readonly grams: number; readonly note: string }
  | { readonly ok: false; readonly why: string };

const drillTexts = new Map<number, string>();

/** A drill by its name and size: `#30 (0.1285 in)`. */
export function drillText(d: number): string {
  let text = drillTexts.get(d);
  if (text === undefined) {
    const name = drillName(d);
    const inch = formatLength(d, 'in', { digits: 4 });
    text = name ? `${name} (${inch})` : inch;
    if (drillTexts.size > 500) drillTexts.clear();
    drillTexts.set(d, text);
  }
  return text;
}

/** A drill that would just clean up, by its size alone: no drill of that name need exist. */
export const neededText = (d: number): string => formatLength(d, 'in', { digits: 4 });

/** Parts by name: `M2`, `M2 and D2`, `front, D2 and M2`. */
export const namesTogether = (parts: readonly string[]): string =>
  parts.length < 2 ? (parts[0] ?? '') : `${parts.slice(0, -1).join(', ')} and ${parts.at(-1)}`;

/** The layer a hole is drilled through: `the front spar`, `M2`. */
export const guideName = (joint: Joint): string =>
  joint.guide === 'front' || joint.guide === 'rear' ? `the ${joint.guide} spar` : joint.guide;

/** Where a drill of a size goes, off the guide's hole: on the guide where that cleans up, else on the best axis. */
function axisFor(need: Need | undefined, drill: number): HoleSpot {
  return !need || need.following <= drill ? { along: 0, up: 0 } : need.axis;
}

const isSpot = (a: HoleSpot, b: HoleSpot): boolean => a.along === b.along && a.up === b.up;

const moved = (hole: Hole, by: HoleSpot): HoleSpot => ({ along: hole.along + by.along, up: hole.up + by.up });

/** Room round a hole in every layer: now at its own place, and where the drill will go, at final and next size. */
export function edgeLines(
  skeleton: Skeleton,
  joint: Joint,
  hole: Hole | undefined = joint.holes[0],
  circles: readonly HoleCircle[] = hole ? circlesOf(skeleton, joint, hole) : [],
  need: Need | undefined = needOf(circles, joint.guide),
): EdgeLine[] {
  if (!hole) return [];
  const { rivet, next } = joint;
  const [final, after] = [axisFor(need, joint.final), axisFor(need, next?.drill ?? joint.final)];
  return joint.layers.flatMap((part): EdgeLine[] => {
    const own = circles.find((c) => c.part === part);
    const read = skeleton.book.find(`${joint.id}/${hole.id}.${part}.edge`);
    const reach = (by: HoleSpot): number | undefined => {
      if (read) return read.best;
      const f = edgeAt(skeleton, joint, part, moved(hole, by));
      return f && best(f);
    };
    const atAxis = reach(final);
    if (atAxis === undefined) return [];
    // An edge near one place of a layer is near every place of it.
    const at = (by: HoleSpot): number => (isSpot(by, final) ? atAxis : (reach(by) ?? atAxis));
    const mm = at(own ? { along: own.along.best, up: own.up.best } : final);
    const bend = bendRoomChain(skeleton, joint, part, moved(hole, final));
    const further = next && { reach: at(after), rivet: next.rivet };
    return [
      {
        part,
        mm,
        now: mm / rivet.diameter,
        atAxis,
        final: atAxis / rivet.diameter,
        atNext: further?.reach,
        next: further && further.reach / further.rivet,
        bend: bend && best(bend),
      },
    ];
  });
}

/**
 * Whether the next larger size would clean a hole up and hold its edges and pitch, and what it weighs; else the first
 * thing in the way.
 */
export function nextSize(
  skeleton: Skeleton,
  joint: Joint,
  need: Need,
  hole: Hole | undefined = joint.holes[0],
  edges: readonly EdgeLine[] = edgeLines(skeleton, joint, hole, need.circles, need),
): NextSize {
  const { next } = joint;
  const { model } = skeleton;
  if (!next) return { ok: false, why: 'this is the largest rivet of the design' };
  if (need.bestAxis > next.drill) return { ok: false, why: `even ${drillText(next.drill)} would not clean it up` };
  const wanted = 2 * next.rivet;
  const short = edges.flatMap(({ part, atNext }) =>
    atNext !== undefined && atNext < wanted - NEAR ? [{ part, atNext }] : [],
  );
  if (short.length > 0) {
    const least = Math.min(...short.map((e) => e.atNext));
    const parts = short.filter((e) => e.atNext < least + UNSEEN).map((e) => e.part);
    return {
      ok: false,
      why: `${namesTogether(parts)} ${parts.length > 1 ? 'have' : 'has'} ${show(model, least)} to the edge and the next size wants ${show(model, wanted)}`,
    };
  }
  const pitch = leastPitch(joint);
  if (pitch < 3 * next.rivet - NEAR)
    return {
      ok: false,
      why: `the holes stand ${show(model, pitch)} apart and the next size wants ${show(model, 3 * next.rivet)}`,
    };
  const grams = shankGrams(skeleton, joint, next.rivet) - shankGrams(skeleton, joint, joint.rivet.diameter);
  const note =
    1 / joint.holes.length > 0.2
      ? `one of ${joint.holes.length} is more than the 20 % of a pattern that MIL-R-47196A lets go oversize`
      : '';
  return { ok: true, drill: next.drill, rivet: next.rivet, grams, note };
}
