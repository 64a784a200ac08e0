import { flangesPoint } from '../../model/hand.ts';
import type { Joint, Rib } from '../../model/schema.ts';
import type { RibPlace, Skeleton } from '../../parts/layout/layout.ts';

/* Where a joint's row runs: which rib end it goes through, and where along the span a hole of it stands. */

/**
 * A place in a joint's plane: along the span from the row's line, and across (above the chord line; in a cap, from
 * the web's face).
 */
export interface HoleSpot {
  readonly along: number;
  readonly up: number;
}

/** Whether a row runs along a cap, not up a web. */
export const inCap = (joint: Joint): boolean => joint.on === 'top' || joint.on === 'bottom';

/** Which way along y a rib's flanges point from its web. */
export function turned(skeleton: Skeleton, joint: Joint, rib: Rib): 1 | -1 {
  return flangesPoint(skeleton.model, rib, skeleton.bayAt(joint.station).station.y);
}

/** The end of a rib that a joint goes through. */
export const placeOf = (skeleton: Skeleton, joint: Joint, part: string): RibPlace | undefined =>
  skeleton.placesAt(joint.station).find((p) => p.rib.id === part && p.spar === joint.end);

/** The first rib end among a joint's layers: its row is the joint's row. */
export const rowOf = (skeleton: Skeleton, joint: Joint): RibPlace | undefined =>
  skeleton.placesAt(joint.station).find((p) => p.spar === joint.end && joint.layers.includes(p.rib.id));
