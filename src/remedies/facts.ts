import { bagOf } from '../checks/holes/rivets.ts';
import type { Doubler, Model } from '../model/schema.ts';
import { skeletonOf } from '../parts/layout/skeleton.ts';
import { NEAR } from '../units/near.ts';
import { gramsAdded } from './pieceMass.ts';

/*
 * What a remedy changes that is no chain: mass and where it sits, the layers a rivet goes through and whether the bag
 * still grips them. Which parts are touched: `touched.ts`.
 */

/** A joint whose stack became another one. */
interface StackChange {
  readonly joint: string;
  readonly station: string;
  readonly layers: readonly [before: number, after: number];
  /** Sum of the layers, mm. */
  readonly grip: readonly [before: number, after: number];
  /** What to take from the bags afterwards, in words. */
  readonly take: string;
  /** The rivet in the bag no longer fits. */
  readonly other: boolean;
}

export interface Facts {
  /** Grams added; what was left out comes off. */
  readonly grams: number;
  /** Grams times metres outboard of the middle of the span (a panel for both hands) or its root. */
  readonly outboard: number;
  readonly stacks: readonly StackChange[];
}

/** Grams that one station gained. */
function gramsAt(before: Model, after: Model, station: string): number {
  const only = (m: Model, list: readonly Doubler[]): Model => ({
    ...m,
    doublers: list.filter((d) => m.ribs.find((r) => r.id === d.part)?.station === station),
  });
  return gramsAdded(only(before, before.doublers), only(after, after.doublers));
}

/** The middle of a panel for both hands, else its root: y, mm. */
function rootOf({ hand, stations }: Model): number {
  const ys = stations.map((s) => s.y);
  if (hand === 'both') return 0;
  return hand === 'left' ? Math.max(...ys) : Math.min(...ys);
}

/** Mass, stacks and rivets before and after. */
export function changedFacts(before: Model, after: Model): Facts {
  const [was, is] = [skeletonOf(before), skeletonOf(after)];
  const had = new Map(before.joints.map((j) => [j.id, j]));
  const stacks = after.joints.flatMap((j): StackChange[] => {
    const old = had.get(j.id);
    if (!old) return [];
    const [a, b] = [bagOf(was, old), bagOf(is, j)];
    const sameRivet = old.rivet.diameter === j.rivet.diameter && old.rivet.grip?.[0] === j.rivet.grip?.[0];
    if (Math.abs(a.grip - b.grip) < NEAR && old.layers.length === j.layers.length && sameRivet) return [];
    return [
      {
        joint: j.id,
        station: j.station,
        layers: [old.layers.length, j.layers.length],
        grip: [a.grip, b.grip],
        take: b.take,
        other: b.changed,
      },
    ];
  });
  const root = rootOf(after);
  const outboard = after.stations.reduce(
    (sum, s) => sum + (gramsAt(before, after, s.id) * Math.abs(s.y - root)) / 1000,
    0,
  );
  return {
    grams: gramsAdded(before, after),
    outboard,
    stacks: stacks.sort((p, q) => q.layers[1] - p.layers[1] || (p.joint < q.joint ? -1 : 1)),
  };
}
