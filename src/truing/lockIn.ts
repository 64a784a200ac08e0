import { show } from '../checks/describe.ts';
import { twistsOf } from '../checks/fit/twistRead.ts';
import { UNSEEN } from '../checks/slack.ts';
import type { Model } from '../model/schema.ts';
import type { Bay, Skeleton } from '../parts/layout/layout.ts';
import { skeletonOf } from '../parts/layout/skeleton.ts';
import { NEAR } from '../units/near.ts';
import { overLength, torsionBox } from './torsionBox.ts';

/*
 * Asks: what does the skin do to a twist left in the skeleton? The bare skeleton is two open channels, the skinned
 * panel closed cells. Once the skin is on, the twist is locked in, and it would take the torque given here to hold it
 * out. All of it is an estimate.
 */

export interface LockIn {
  /**
   * Torsion constants over the whole length, mm⁴: the length over ∫dy/J, so that tapered panels count where they are
   * weak.
   */
  readonly open: number;
  readonly closed: number;
  /** So many times stiffer once skinned. */
  readonly times: number;
  /** Twist found, degrees, nose up positive; undefined where nothing was read. */
  readonly twist: number | undefined;
  /** The two stations it was found between: the ends, or those that differ most where the panel comes back. */
  readonly between: readonly [string, string] | undefined;
  /** Torque that holds that twist out, N·m, bare and skinned. */
  readonly torqueBare: number;
  readonly torque: number;
  /** Shear flow round the cells then, N/mm, where the panel is slimmest: nose cell first, then the box. */
  readonly flows: readonly number[];
  readonly sentence: string;
}

/** A twist that was found: degrees from one bay to another, nose up positive. */
interface FoundTwist {
  readonly twist: number;
  readonly from: Bay;
  readonly to: Bay;
}

/**
 * The twist that skinning would lock in: from the first to the last station, by the first way that has both; where
 * the panel twists and comes back (a hump), between the two stations that differ most, the nearest such pair.
 */
function foundTwist(skeleton: Skeleton): FoundTwist | undefined {
  for (const way of ['heights', 'level', 'plumb'] as const) {
    const twists = twistsOf(skeleton, way);
    const [first, last] = [twists[0], twists.at(-1)];
    if (!first || !last || first === last) continue;
    const whole = change(first, last);
    const all = twists.map((t) => t.residual);
    if (Math.max(...all) - Math.min(...all) < 2 * Math.abs(whole.twist)) return whole;
    const pairs = twists.flatMap((a, i) => twists.slice(i + 1).map((b) => change(a, b)));
    return pairs.reduce((most, next) => (tellsMore(next, most) ? next : most), whole);
  }
  return undefined;
}

type TwistAt = ReturnType<typeof twistsOf>[number];

const change = (a: TwistAt, b: TwistAt): FoundTwist => ({ twist: b.residual - a.residual, from: a.bay, to: b.bay });

/** Whether a pair of stations differs by more than another, or by as much on a shorter way. */
function tellsMore(next: FoundTwist, most: FoundTwist): boolean {
  const more = Math.abs(next.twist) - Math.abs(most.twist);
  const shorter = next.to.index - next.from.index < most.to.index - most.from.index;
  return more > NEAR || (more > -NEAR && shorter);
}

const round = (v: number): string => (v >= 100 ? Number(v.toPrecision(2)).toString() : v.toPrecision(2));

/**
 * What skinning does to the panel in torsion; undefined where the panel has no skin or no cell it could close.
 *
 * @example panel A: some thousand times stiffer once skinned; the 0.59° found, held by a finger now, would take over 100 N·m
 */
export function lockIn(model: Model): LockIn | undefined {
  const skeleton = skeletonOf(model);
  const box = torsionBox(skeleton);
  const [first, last] = [skeleton.bays[0], skeleton.bays.at(-1)];
  if (!box || !first || !last) return undefined;
  const { sections, shear } = box;
  const found = foundTwist(skeleton);
  const { from, to } = found ?? { from: first, to: last };
  const between = sections.slice(from.index, to.index + 1);
  const length = Math.max(1, to.station.y - from.station.y);
  const rate = (Math.abs(found?.twist ?? 0) * Math.PI) / 180 / length;
  const torqueOf = (of: 'open' | 'closed'): number => (shear * overLength(between, of) * rate) / 1000;
  const [torqueBare, torque] = [torqueOf('open'), torqueOf('closed')];
  const slim = between.reduce((a, b) => (b.closed < a.closed ? b : a));
  const [open, closed] = [overLength(sections, 'open'), overLength(sections, 'closed')];
  const numbers = {
    open,
    closed,
    times: closed / open,
    twist: found?.twist,
    between: found && ([from.station.id, to.station.id] as const),
    torqueBare,
    torque,
    flows: slim.flows.map((q) => q * torque * 1000),
  };
  const whole = from === first && to === last;
  return { ...numbers, sentence: sentenceOf(model, numbers, whole) };
}

/** `whole`: the twist was found between the panel's ends. */
function sentenceOf(model: Model, found: Omit<LockIn, 'sentence'>, whole: boolean): string {
  const { twist, between, torqueBare, torque, flows } = found;
  const how = `Skinned, the panel is about ${round(found.times)} times as stiff in twist as bare, an estimate`;
  if (twist === undefined || Math.abs(twist) < UNSEEN) return `${how}. Whatever twist is in it then stays.`;
  const where = whole || !between ? 'from end to end' : `between ${between.join(' and ')}`;
  const what = `The ${show(model, Math.abs(twist), 'deg')} found ${where}`;
  const holds = `${round(torqueBare)} N·m to hold out now and ${round(torque)} N·m then`;
  const flow = `a shear flow of up to ${round(Math.max(...flows.map(Math.abs)))} N/mm`;
  return `${how}. ${what} takes ${holds}, ${flow}: take it out before the skin goes on.`;
}
