import type { Vec3 } from '../../geometry/vector.ts';
import { flangesPoint } from '../../model/hand.ts';
import type { Hole, Joint } from '../../model/schema.ts';
import type { RibPlace, Skeleton } from '../layout/layout.ts';
import { sparOf, thickness } from '../layout/meeting.ts';
import { inWing, stancesOf } from './stance.ts';

/** Whether a joint's row runs along a cap, not up a web. */
export const isCapRow = (joint: Joint): boolean => joint.on === 'top' || joint.on === 'bottom';

/** A hole and where it is. */
export interface HolePlace {
  readonly id: string;
  readonly hole: Hole;
  readonly at: Vec3;
}

/** Where a joint's holes are on their spar's web, or on the outside of its cap, drilled or not; wing frame, mm. */
export function holePlaces(skeleton: Skeleton, joint: Joint): HolePlace[] {
  const stance = stancesOf(skeleton, 1).find((s) => s.bay.station.id === joint.station);
  if (!stance) return [];
  const { y } = stance.bay.station;
  const place = skeleton
    .placesAt(joint.station)
    .find((p) => (joint.end === 'rear') === (p.spar === 'rear') && joint.layers.includes(p.rib.id));
  const row = place
    ? flangesPoint(skeleton.model, place.rib, y) * (skeleton.book.find(`${place.key}.row`)?.best ?? place.spec.row)
    : 0;
  const web = joint.end === 'rear' ? stance.rear : stance.front;
  const spar = sparOf(skeleton, joint.end);
  const half = skeleton.book.get(`${joint.end}.depth@${joint.station}`).best / 2;
  // In a cap, up counts from the web's flat face toward the cap's free edge.
  const aft = (up: number): number => (spar.opens === 'aft' ? up : thickness(skeleton, spar.sheet).best - up);
  return joint.holes.map((hole) => {
    const at = isCapRow(joint)
      ? inWing(stance, web + aft(hole.up), joint.on === 'top' ? half : -half)
      : inWing(stance, web, hole.up);
    return { id: hole.id, hole, at: [at.x, y + row + hole.along, at.z] };
  });
}

/** Where a feeler goes at a rib end: at the top cap, at the bottom cap, and at the web in between; wing frame, mm. */
export function feelPlaces(
  skeleton: Skeleton,
  place: RibPlace,
): { readonly top: Vec3; readonly bottom: Vec3; readonly web: Vec3 } | undefined {
  const stance = stancesOf(skeleton, 1).find((s) => s.bay === place.bay);
  if (!stance) return undefined;
  const { y } = place.bay.station;
  const along = y + (flangesPoint(skeleton.model, place.rib, y) * place.spec.tab) / 2;
  const web = place.spar === 'front' ? stance.front : stance.rear;
  const inside = web + (sparOf(skeleton, place.spar).opens === 'aft' ? 8 : -8);
  const at = (x: number, z: number): Vec3 => {
    const p = inWing(stance, x, z);
    return [p.x, along, p.z];
  };
  return { top: at(inside, place.spec.height / 2), bottom: at(inside, -place.spec.height / 2), web: at(web, 0) };
}
