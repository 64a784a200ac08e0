import type { Vec3 } from '../../geometry/vector.ts';
import type { Rib } from '../../model/schema.ts';
import { type DrawnPlaces, fromPart, heightOf, onSpar, placeTurns } from '../drawnPlaces.ts';
import type { SceneLabel } from '../shown.ts';

/* Plain part marks: what stands at a station, every rib, or all that stands apart. */

/** With this many stations or fewer every rib pulled apart is marked; of more, every second, third and so on. */
const MOST_APART = 8;

/** A part's mark, which says nothing about a finding. */
const mark = (part: string, station: string | null, anchor: Vec3, text = part): SceneLabel => ({
  id: `mark:${part}`,
  text,
  anchor,
  verdict: null,
  findingId: null,
  station,
  part,
});

/** The marks of all that stands at a station. */
export function stationMarks(drawnPlaces: DrawnPlaces, station: string): SceneLabel[] {
  return [...ribsAt(drawnPlaces, station), ...doublersAt(drawnPlaces, station)];
}

function ribsAt(drawnPlaces: DrawnPlaces, station: string): SceneLabel[] {
  const ribs = drawnPlaces.skeleton.model.ribs.filter((rib) => rib.station === station);
  return ribs.flatMap((rib): SceneLabel[] => {
    const frame = drawnPlaces.frames.get(rib.id);
    if (!frame) return [];
    const label = mark(rib.id, station, fromPart(frame, [middleOf(drawnPlaces, rib), 0, 0]));
    const points = flangeOf(drawnPlaces, rib);
    return [points ? { ...label, points } : label];
  });
}

/** About the middle of a rib between the spars or ahead of them, along its own x. */
function middleOf(drawnPlaces: DrawnPlaces, rib: Rib): number {
  const long = drawnPlaces.drawn(`${rib.id}.length`) ?? rib.length;
  switch (rib.kind) {
    case 'main':
      return long * 0.55;
    case 'nose':
      return -long / 2;
    case 'tip':
      return 0;
  }
}

function doublersAt(drawnPlaces: DrawnPlaces, station: string): SceneLabel[] {
  return drawnPlaces.skeleton
    .placesAt(station)
    .flatMap((p) => p.doublers)
    .flatMap((d) => {
      const frame = drawnPlaces.frames.get(d.id);
      return frame ? [mark(d.id, station, frame.origin)] : [];
    });
}

/** Which way a rib's flange points, in the wing. */
function flangeOf(drawnPlaces: DrawnPlaces, rib: Rib): Vec3 | undefined {
  const place = drawnPlaces.skeleton.placesAt(rib.station).find((p) => p.rib === rib);
  return place && [0, placeTurns(drawnPlaces, place), 0];
}

/** The marks of spars and ribs that stand apart, and of the small parts where a station is chosen. */
export function apartMarks(drawnPlaces: DrawnPlaces, station: string | null): SceneLabel[] {
  const { bays } = drawnPlaces.skeleton;
  const every = Math.ceil(bays.length / MOST_APART);
  const near = bays.filter((b, i) => (station === null ? i % every === 0 : b.station.id === station));
  const marks = near.map((b) => b.station.id).flatMap((id) => ribOrAll(drawnPlaces, id, station !== null));
  return [...sparMarks(drawnPlaces), ...marks];
}

const ribOrAll = (drawnPlaces: DrawnPlaces, station: string, all: boolean): SceneLabel[] =>
  stationMarks(drawnPlaces, station).filter((l) => all || l.points !== undefined);

/** Each spar's name, in the middle of the bay before the middle station. */
function sparMarks(drawnPlaces: DrawnPlaces): SceneLabel[] {
  const { bays, model } = drawnPlaces.skeleton;
  const at = Math.floor(bays.length / 2);
  const middle = bays[at];
  if (!middle) return [];
  const y = (middle.station.y + (bays[at - 1] ?? middle).station.y) / 2;
  return (['front', 'rear'] as const)
    .filter((name) => model.spars[name])
    .map((name) => mark(name, null, onSpar(drawnPlaces, name, y, { aft: 0, inside: 0, side: 1 }), `${name} spar`));
}

/** One mark for each rib between the spars, `most` of them at most. */
export function ribMarks(drawnPlaces: DrawnPlaces, most: number): SceneLabel[] {
  const ribs = drawnPlaces.skeleton.bays.flatMap((b) => b.main ?? b.tip ?? b.nose ?? []);
  const every = Math.ceil(ribs.length / most);
  return ribs
    .filter((_, i) => i % every === 0)
    .flatMap((rib): SceneLabel[] => {
      const frame = drawnPlaces.frames.get(rib.id);
      return frame ? [mark(rib.id, rib.station, fromPart(frame, [40, 0, heightOf(rib) / 2]))] : [];
    });
}
