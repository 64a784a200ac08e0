import type { Vec3 } from '../../geometry/vector.ts';
import type { Spar } from '../../model/schema.ts';
import type { RibPlace } from '../../parts/layout/layout.ts';
import { setback } from '../../parts/shapes/pressed.ts';
import {
  capped,
  capStack,
  faceOf,
  fromPart,
  halfHeight,
  inwardOf,
  onSpar,
  packed,
  type Stand,
  sheetOf,
  turnsOf,
} from '../drawnPlaces.ts';
import { type Answers, type Drawn, drawnGap, type Ring, SEEN } from './gap.ts';

/** From a rib end's flange, or the doubler over it, to the cap above and below. */
export function capGaps(stand: Stand, place: RibPlace, answers: Answers): Drawn[] {
  const { rib, end, bay, spec } = place;
  const finding = spec.ends === 'nests' ? answers.of('cap-gap', rib.id, end) : undefined;
  const spar = stand.skeleton.model.spars[place.spar];
  if (!finding || !spar || !stand.frames.has(rib.id)) return [];
  return ([1, -1] as const).flatMap((side): Drawn[] => {
    const [near, far] = facesAt(stand, place, spar, side);
    if (Math.abs(near[0][2] - far[0][2]) < SEEN) return [];
    const at = { station: bay.station.id, part: rib.id, at: side === 1 ? 'top' : 'bottom' };
    return [drawnGap(stand, finding, at, [near, far])];
  });
}

/** The rib's face, and the cap's opposite it. */
function facesAt(stand: Stand, place: RibPlace, spar: Spar, side: 1 | -1): readonly [Ring, Ring] {
  const { near, far, from, to } = stretchOf(stand, place, spar);
  const ring = (point: (deep: number, y: number) => Vec3): Ring => [
    point(near, from),
    point(far, from),
    point(far, to),
    point(near, to),
  ];
  const frame = stand.frames.get(place.rib.id);
  const [face, inward] = [faceOf(stand, place), inwardOf(place.end)];
  const up = side * (halfHeight(stand, place) + capped(stand, place, side));
  const onRib = (deep: number, y: number): Vec3 =>
    frame ? fromPart(frame, [face + inward * deep, y - place.bay.station.y, up]) : [0, y, 0];
  const onCap = (deep: number, y: number): Vec3 => {
    const datum = onSpar(stand, place.spar, y, { aft: 0, inside: 0, side: 0 });
    const aft = onRib(deep, y)[0] - datum[0];
    return onSpar(stand, place.spar, y, { aft, inside: capStack(stand, place.spar, y, side), side });
  };
  return [ring(onRib), ring(onCap)];
}

/** Where rib and cap lie over one another: from the rib's face inward, clear of the bends, and along the flange. */
function stretchOf(stand: Stand, place: RibPlace, spar: Spar) {
  const { rib, bay, doublers } = place;
  const { y } = bay.station;
  const sheet = sheetOf(stand, rib.sheet);
  const turns = turnsOf(stand, place);
  const near = setback(Math.max(spar.radius, ...doublers.map((d) => d.radius ?? 0)), sheet, rib.radius);
  return {
    near,
    far: Math.max(capReach(stand, place, spar), near + 4),
    from: y + turns * (sheet + rib.radius),
    to: y + turns * rib.flange,
  };
}

/** How far the cap reaches over the rib, from the rib's face: cap less web, packers and the daylight at this end. */
function capReach(stand: Stand, place: RibPlace, spar: Spar): number {
  const { y } = place.bay.station;
  const frame = stand.frames.get(place.rib.id);
  const web = sheetOf(stand, spar.sheet);
  const cap = stand.rings[place.spar]?.find((r) => r.y === y)?.capWidth ?? 0;
  const inside = onSpar(stand, place.spar, y, { aft: place.end === 'front' ? web : 0, inside: 0, side: 0 });
  const here = frame ? fromPart(frame, [faceOf(stand, place), 0, 0]) : inside;
  const packs = packed(stand, place);
  const daylight = Math.max((here[0] - inside[0]) * inwardOf(place.end) - packs, 0);
  return cap - web - packs - daylight;
}
