import { best } from '../../chains/chain.ts';
import type { Vec3 } from '../../geometry/vector.ts';
import type { Spar } from '../../model/schema.ts';
import type { RibPlace } from '../../parts/layout/layout.ts';
import { chordGapChain } from '../../parts/layout/meeting.ts';
import { sheetOf } from '../../parts/placed/build.ts';
import { setback } from '../../parts/shapes/pressed.ts';
import { formatLength } from '../../units.ts';
import {
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

/** The end at which the daylight between the webs is, by where the ribs stand home. */
const FREE_END = { rear: 'front', front: 'rear', clamped: undefined } as const;

/**
 * From a main rib's end flange to the web, or the doubler on it, as both are drawn: the spar as it lies, bow and all.
 * The number is the finding's, with the spars held straight; where that is another, the gap says what is drawn.
 */
export function chordGaps(drawnPlaces: DrawnPlaces, place: RibPlace, answers: Answers): DrawnGap[] {
  const { model } = drawnPlaces.skeleton;
  const { rib, end, bay } = place;
  const spar = model.spars[place.spar];
  if (rib.kind !== 'main' || end !== FREE_END[model.stand] || !spar || !drawnPlaces.frames.has(rib.id)) return [];
  const finding = answers.of('chord-gap', rib.id);
  if (!finding) return [];
  const [near, far] = facesAt(drawnPlaces, place, spar);
  const open = (near[0][0] - far[0][0] + near[1][0] - far[1][0]) * inwardOf(end) * 0.5;
  if (Math.abs(open) < SEEN) return [];
  const at = { station: bay.station.id, part: rib.id, at: end };
  const made = drawnGap(drawnPlaces, finding, at, [near, far], open > 0 ? 'daylight' : 'interference');
  const bowed = best(chordGapChain(drawnPlaces.skeleton, bay, rib, 'bowed'));
  if (Math.abs(bowed - finding.value) < 0.005) return [made];
  const lies = `${formatLength(Math.abs(bowed), model.units)} ${bowed < 0 ? 'long' : 'short'}`;
  return [{ ...made, state: `spars held straight; drawn as the spar lies, ${lies}` }];
}

/** The rib's end flange, and the web opposite it. */
function facesAt(drawnPlaces: DrawnPlaces, place: RibPlace, spar: Spar): readonly [Ring, Ring] {
  const { rib, end, bay, spec } = place;
  const { y } = bay.station;
  const frame = drawnPlaces.frames.get(rib.id);
  const sheet = sheetOf(drawnPlaces, rib.sheet);
  const turns = placeTurns(drawnPlaces, place);
  const tab = Math.max(drawnPlaces.drawn(`${rib.id}.${end}.tab`) ?? spec.tab, 4);
  const [from, to] = [y + turns * (sheet + rib.radius), y + turns * tab];
  const back = setback(Math.max(spar.radius, ...place.doublers.map((d) => d.radius ?? 0)), sheet, rib.radius);
  const half = halfHeight(drawnPlaces, place) - back;
  const ring = (point: (y: number, z: number) => Vec3): Ring => [
    point(from, -half),
    point(to, -half),
    point(to, half),
    point(from, half),
  ];
  const face = faceOf(drawnPlaces, place);
  const aft = webFace(drawnPlaces, place, spar);
  const onRib = (at: number, z: number): Vec3 => (frame ? fromPart(frame, [face, at - y, z]) : [0, at, z]);
  const onWeb = (at: number, z: number): Vec3 => {
    const [dx, dz] = upOf(drawnPlaces, place, at);
    const foot = onSpar(drawnPlaces, place.spar, at, { aft, inside: 0, side: 0 });
    return [foot[0] + dx * z, at, foot[2] + dz * z];
  };
  return [ring(onRib), ring(onWeb)];
}

/**
 * How far aft of its web's forward face a spar's inside is, with its web doublers and what the rib end has before it.
 */
function webFace(drawnPlaces: DrawnPlaces, place: RibPlace, spar: Spar): number {
  const { y } = place.bay.station;
  const here = spar.webDoublers.filter((d) => y >= d.from && y <= d.to);
  const plates = here.reduce((sum, d) => sum + sheetOf(drawnPlaces, d.sheet), 0);
  const packs = packedBehind(drawnPlaces, place);
  return place.end === 'front' ? sheetOf(drawnPlaces, spar.sheet) + plates + packs : -plates - packs;
}

/** Which way is up in a spar's section at y: aft, up. */
function upOf(drawnPlaces: DrawnPlaces, place: RibPlace, y: number): readonly [number, number] {
  const up = onSpar(drawnPlaces, place.spar, y, { aft: 0, inside: 0, side: 1 });
  const mid = onSpar(drawnPlaces, place.spar, y, { aft: 0, inside: 0, side: 0 });
  const d = Math.hypot(up[0] - mid[0], up[2] - mid[2]) || 1;
  return [(up[0] - mid[0]) / d, (up[2] - mid[2]) / d];
}
