import type { Vec3 } from '../geometry/vector.ts';
import type { Joint, Model, Rib } from '../model/schema.ts';
import type { Skeleton } from './skeleton.ts';
import { inWing, stancesOf } from './stance.ts';

/** +1 where outboard is to the right along the span at a place, −1 where it is to the left. */
export function outboardAt(model: Model, y: number): 1 | -1 {
  if (model.hand === 'both') return y < 0 ? -1 : 1;
  return model.stations.reduce((sum, s) => sum + s.y, 0) >= 0 ? 1 : -1;
}

/** +1 where a rib's flanges point to the right along the span, −1 to the left. */
export function flangesPoint(model: Model, rib: Rib, y: number): 1 | -1 {
  const outboard = outboardAt(model, y);
  return rib.turns === 'outboard' ? outboard : outboard === 1 ? -1 : 1;
}

/** Where a joint's holes are on their spar's web, drilled or not; wing frame, mm. */
export function holePlaces(skeleton: Skeleton, joint: Joint): { readonly id: string; readonly at: Vec3 }[] {
  const stance = stancesOf(skeleton, 1).find((s) => s.bay.station.id === joint.station);
  if (!stance) return [];
  const { y } = stance.bay.station;
  const place = skeleton.placesAt(joint.station).find((p) => (joint.end === 'rear') === (p.spar === 'rear') && joint.layers.includes(p.rib.id));
  const row = place ? flangesPoint(skeleton.model, place.rib, y) * (skeleton.book.find(`${place.key}.row`)?.best ?? place.spec.row) : 0;
  return joint.holes.map((hole) => {
    const at = inWing(stance, joint.end === 'rear' ? stance.rear : stance.front, hole.up);
    return { id: hole.id, at: [at.x, y + row + hole.along, at.z] };
  });
}
