import { best, uncertainty } from '../../chains/chain.ts';
import type { Joint, Rivet } from '../../model/schema.ts';
import type { Skeleton } from '../../parts/layout/layout.ts';
import { fractionName } from '../../units/drills.ts';
import { NEAR } from '../../units/near.ts';
import { formatLength } from '../../units.ts';
import { show } from '../describe.ts';
import { solidLength } from './grip.ts';
import { stackOf } from './layers.ts';

/*
 * Which rivet goes in which hole after all the packers: grip as the layers are now, the length or range that takes
 * it, and a bag list per station. Commercial blind rivets are not approved on certificated structure (AC 43.13-1B,
 * 4-57f(9)).
 */

/** Solid rivets are bought in sixteenths with half sizes between: 1/32 in. */
const HALF_SIZE = 25.4 / 32;

/** The bag of one joint. */
export interface Bag {
  readonly joint: Joint;
  readonly count: number;
  /** Sum of the layers drawn together, mm, and its standard uncertainty. */
  readonly grip: number;
  readonly u: number;
  /** What to take, in words. */
  readonly take: string;
  /** True when what the file has in this bag no longer fits the layers. */
  readonly changed: boolean;
  /** What it took before pieces were added that are not on the drawing, where that differs. */
  readonly was?: string;
}

/**
 * Length to buy for a solid rivet, mm: grip + 1.5 D, up to the next half size. 0.100 in grip and 5/32 in: 0.334 →
 * 11/32 in.
 */
export function solidToBuy(grip: number, diameter: number): number {
  return Math.ceil(solidLength(grip, diameter) / HALF_SIZE - NEAR) * HALF_SIZE;
}

/** Rivet metal taken at 0.100 lb/in³, from memory, in g/mm³. */
const RIVET_DENSITY = (0.1 * 453.59237) / 25.4 ** 3;

/**
 * What a rivet's shank of a diameter weighs set in a joint, g: grip + 1.5 D long, head not counted. 1/8 × 1/4 in:
 * 0.139 g.
 */
export function shankGrams(skeleton: Skeleton, joint: Joint, diameter: number): number {
  const grip = best(stackOf(skeleton, joint));
  return RIVET_DENSITY * (Math.PI / 4) * diameter ** 2 * solidLength(grip, diameter);
}

/**
 * Blind rivets of a diameter whose marked range holds a grip; none, one, or two where ranges overlap. A grip on the
 * boundary between two ranges is in neither.
 */
export function blindFor(stock: readonly Rivet[], diameter: number, grip: number): Rivet[] {
  return stock.filter(
    (r) =>
      r.kind === 'blind' &&
      r.grip !== undefined &&
      Math.abs(r.diameter - diameter) < 0.01 &&
      grip >= r.grip[0] &&
      grip <= r.grip[1],
  );
}

const range = (r: Rivet): string =>
  r.grip ? `${formatLength(r.grip[0], 'in', { unitMark: false })} to ${formatLength(r.grip[1], 'in')}` : '';

function takeText(skeleton: Skeleton, joint: Joint, grip: number): { take: string; changed: boolean } {
  const { rivet } = joint;
  const size = fractionName(rivet.diameter) ?? show(skeleton.model, rivet.diameter);
  if (rivet.kind === 'solid') {
    const buy = solidToBuy(grip, rivet.diameter);
    const changed = rivet.length !== undefined && Math.abs(rivet.length - buy) > 0.01;
    return { take: `${size} solid, ${fractionName(buy) ?? show(skeleton.model, buy)} long`, changed };
  }
  const [fitting] = blindFor([rivet, ...skeleton.model.stock.rivets], rivet.diameter, grip);
  const own = rivet.grip !== undefined && grip >= rivet.grip[0] && grip <= rivet.grip[1];
  if (own) return { take: `${size} blind, grip ${range(rivet)}`, changed: false };
  if (fitting) return { take: `${size} blind, grip ${range(fitting)}`, changed: true };
  return { take: `no ${size} blind rivet on hand grips ${formatLength(grip, 'in')}: get one that does`, changed: true };
}

/** The bag of a joint as its layers are now, and what it was before anything was added to the design. */
export function bagOf(skeleton: Skeleton, joint: Joint): Bag {
  const stack = stackOf(skeleton, joint);
  const grip = best(stack);
  const added = joint.layers.filter((part) => isAdded(skeleton, part));
  const without = { ...joint, layers: joint.layers.filter((part) => !added.includes(part)) };
  const before = added.length > 0 ? takeText(skeleton, without, best(stackOf(skeleton, without))).take : undefined;
  const now = takeText(skeleton, joint, grip);
  return {
    joint,
    count: joint.holes.length,
    grip,
    u: uncertainty(stack),
    ...now,
    ...(before !== undefined && before !== now.take
      ? { was: `was ${before} before ${added.join(' and ')} went in` }
      : {}),
  };
}

/** A doubler, packer or shim that is not on the drawing. */
function isAdded(skeleton: Skeleton, part: string): boolean {
  const piece = skeleton.part(part);
  return piece !== undefined && 'designed' in piece && !piece.designed;
}

/** All bags along the span. */
export function bagList(skeleton: Skeleton): Bag[] {
  return skeleton.bays.flatMap((b) => skeleton.jointsAt(b.station.id).map((j) => bagOf(skeleton, j)));
}
