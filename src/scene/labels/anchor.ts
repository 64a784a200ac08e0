import { pieceOf } from '../../checks/at.ts';
import type { CheckId, Finding } from '../../checks/finding.ts';
import { add, scale, type Vec3 } from '../../geometry/vector.ts';
import type { RibPlace } from '../../parts/layout/layout.ts';
import { type DrawnPlaces, faceOf, fromPart, fromSection, halfHeight, inwardOf } from '../drawnPlaces.ts';
import type { SceneGap, SceneHole, SceneLine } from '../shown.ts';
import { familyOf } from './family.ts';

/** What is drawn already, for a leader to point at. */
export interface DrawnMarks {
  readonly gaps: readonly SceneGap[];
  readonly holes: readonly SceneHole[];
  readonly lines: readonly SceneLine[];
}

/** Where a finding's leader points: at its gap or hole, its chord's rear end, its rib end, its part, else its spar. */
export function anchorOf(drawnPlaces: DrawnPlaces, f: Finding, drawn: DrawnMarks): Vec3 {
  return (
    onGap(f, drawn) ??
    onHole(f, drawn) ??
    onChord(drawnPlaces, f, drawn) ??
    onPart(drawnPlaces, f) ??
    onSpar(drawnPlaces, f)
  );
}

function onGap(f: Finding, { gaps }: DrawnMarks): Vec3 | undefined {
  const own = gaps.find((g) => g.findingId === f.id);
  const nose = familyOf(f) === 'nose' ? gaps.find((g) => g.part === f.at.part) : undefined;
  const gap = own ?? nose;
  return gap && middleOf(gap.corners);
}

function middleOf(points: readonly Vec3[]): Vec3 {
  const sum = points.reduce<Vec3>(add, [0, 0, 0]);
  return scale(sum, 1 / Math.max(points.length, 1));
}

function onHole(f: Finding, { holes }: DrawnMarks): Vec3 | undefined {
  const hole = holes.find((h) => h.findingId === f.id) ?? holes.find((h) => h.joint === f.at.joint);
  return hole?.at;
}

/** What is said of the whole panel is said at its last station. */
const stationOf = (drawnPlaces: DrawnPlaces, f: Finding): string | undefined =>
  f.station ?? [...drawnPlaces.stances.keys()].at(-1);

function onChord(drawnPlaces: DrawnPlaces, f: Finding, { lines }: DrawnMarks): Vec3 | undefined {
  if (familyOf(f) !== 'twist') return undefined;
  return lines.find((l) => l.id === `chord:${stationOf(drawnPlaces, f)}`)?.points.at(-1);
}

function onPart(drawnPlaces: DrawnPlaces, f: Finding): Vec3 | undefined {
  const frame = drawnPlaces.frames.get(pieceOf(f.at) ?? f.at.spar ?? '');
  const place = f.at.doubler === undefined ? ribPlace(drawnPlaces, f) : undefined;
  if (!frame || !place) return frame?.origin;
  const along = faceOf(drawnPlaces, place) + inwardOf(place.end) * awayFromEnd(f.check, place);
  return fromPart(frame, [along, 0, halfHeight(drawnPlaces, place)]);
}

function ribPlace(drawnPlaces: DrawnPlaces, f: Finding): RibPlace | undefined {
  const station = stationOf(drawnPlaces, f);
  const places =
    station === undefined ? [] : drawnPlaces.skeleton.placesAt(station).filter((p) => p.rib.id === f.at.part);
  return places.find((p) => p.end === f.at.end) ?? places.find((p) => p.end === 'front') ?? places[0];
}

/** How far from the rib's end its label points, mm. */
function awayFromEnd(check: CheckId, { spec }: RibPlace): number {
  if (check === 'relief') return spec.relief?.fromEnd ?? 10;
  return check === 'lean' || check === 'skew' ? 60 : 8;
}

function onSpar(drawnPlaces: DrawnPlaces, f: Finding): Vec3 {
  const stance = drawnPlaces.stances.get(stationOf(drawnPlaces, f) ?? '');
  if (!stance) return [0, 0, 0];
  return fromSection(stance, f.at.spar === 'rear' ? stance.rear : stance.front, 0);
}
