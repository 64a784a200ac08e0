import type { Vec3 } from '../../geometry/vector.ts';
import type { Spar } from '../../model/schema.ts';
import type { RibPlace } from '../../parts/layout/layout.ts';
import { sheetOf } from '../../parts/placed/build.ts';
import { setback } from '../../parts/shapes/pressed.ts';
import {
  capped,
  capStack,
  type DrawnPlaces,
  faceOf,
  fromPart,
  halfHeight,
  inwardOf,
  onSpar,
  packedBehind,
  placeTurns,
} from '../drawnPlaces.ts';
import { type Answers, type DrawnGap, drawnGap, type Ring, SEEN } from './gap.ts';

/** From a rib end's flange, or the doubler over it, to the cap above and below. */
export function capGaps(drawnPlaces: DrawnPlaces, place: RibPlace, answers: Answers): DrawnGap[] {
  const { rib, end, bay, spec } = place;
  const finding = spec.ends === 'nests' ? answers.of('cap-gap', rib.id, end) : undefined;
  const spar = drawnPlaces.skeleton.model.spars[place.spar];
  if (!finding || !spar || !drawnPlaces.frames.has(rib.id)) return [];
  return ([1, -1] as const).flatMap((side): DrawnGap[] => {
    const [near, far] = facesAt(drawnPlaces, place, spar, side);
    if (Math.abs(near[0][2] - far[0][2]) < SEEN) return [];
    const at = { station: bay.station.id, part: rib.id, at: side === 1 ? 'top' : 'bottom' };
    return [drawnGap(drawnPlaces, finding, at, [near, far])];
  });
}

/** The rib's face, and the cap's opposite it. */
function facesAt(drawnPlaces: DrawnPlaces, place: RibPlace, spar: Spar, side: 1 | -1): readonly [Ring, Ring] {
  const { near, far, from, to } = stretchOf(drawnPlaces, place, spar);
  const ring = (point: (deep: number, y: number) => Vec3): Ring => [
    point(near, from),
    point(far, from),
    point(far, to),
    point(near, to),
  ];
  const frame = drawnPlaces.frames.get(place.rib.id);
  const [face, inward] = [faceOf(drawnPlaces, place), inwardOf(place.end)];
  const up = side * (halfHeight(drawnPlaces, place) + capped(drawnPlaces, place, side));
  const onRib = (deep: number, y: number): Vec3 =>
    frame ? fromPart(frame, [face + inward * deep, y - place.bay.station.y, up]) : [0, y, 0];
  const onCap = (deep: number, y: number): Vec3 => {
    const datum = onSpar(drawnPlaces, place.spar, y, { aft: 0, inside: 0, side: 0 });
    const aft = onRib(deep, y)[0] - datum[0];
    return onSpar(drawnPlaces, place.spar, y, { aft, inside: capStack(drawnPlaces, place.spar, y, side), side });
  };
  return [ring(onRib), ring(onCap)];
}

/** Where rib and cap lie over one another: from the rib's face inward, clear of the bends, and along the flange. */
function stretchOf(drawnPlaces: DrawnPlaces, place: RibPlace, spar: Spar) {
  const { rib, bay, doublers } = place;
  const { y } = bay.station;
  const sheet = sheetOf(drawnPlaces, rib.sheet);
  const turns = placeTurns(drawnPlaces, place);
  const near = setback(Math.max(spar.radius, ...doublers.map((d) => d.radius ?? 0)), sheet, rib.radius);
  return {
    near,
    far: Math.max(capReach(drawnPlaces, place, spar), near + 4),
    from: y + turns * (sheet + rib.radius),
    to: y + turns * rib.flange,
  };
}

/** How far the cap reaches over the rib, from the rib's face: cap less web, packers and the daylight at this end. */
function capReach(drawnPlaces: DrawnPlaces, place: RibPlace, spar: Spar): number {
  const { y } = place.bay.station;
  const frame = drawnPlaces.frames.get(place.rib.id);
  const web = sheetOf(drawnPlaces, spar.sheet);
  const cap = drawnPlaces.rings[place.spar]?.find((r) => r.y === y)?.capWidth ?? 0;
  const inside = onSpar(drawnPlaces, place.spar, y, { aft: place.end === 'front' ? web : 0, inside: 0, side: 0 });
  const here = frame ? fromPart(frame, [faceOf(drawnPlaces, place), 0, 0]) : inside;
  const packs = packedBehind(drawnPlaces, place);
  const daylight = Math.max((here[0] - inside[0]) * inwardOf(place.end) - packs, 0);
  return cap - web - packs - daylight;
}
