import { door, keptWhole, sameItems } from '../../model/rested.ts';
import type {
  Bracket,
  Doubler,
  Joint,
  MainRib,
  Model,
  NoseRib,
  Rib,
  RibEnd,
  SparName,
  Station,
  TipRib,
} from '../../model/schema.ts';
import type { SizeBook } from '../../model/sizes.ts';
import { once } from '../../once.ts';

/** What stands at one station. */
export interface Bay {
  readonly station: Station;
  readonly index: number;
  readonly main?: MainRib;
  readonly nose?: NoseRib;
  readonly tip?: TipRib;
}

export type EndName = 'front' | 'rear' | 'tail';

/** One end of one rib, the spar it meets, and the pieces between them in the order they were added. */
export interface RibPlace {
  readonly rib: Rib;
  readonly end: EndName;
  /** Start of its sizes' keys: `M2.front`. */
  readonly key: string;
  readonly spec: RibEnd;
  readonly spar: SparName;
  readonly bay: Bay;
  readonly doublers: readonly Doubler[];
}

/**
 * The panel put together on paper: stations in order along the span, with what stands at each, and every Size by key.
 */
export interface Skeleton {
  readonly model: Model;
  /**
   * Every Size as known from all readings together: where a gap was felt directly, its parts are moved and tied by
   * it.
   */
  readonly book: SizeBook;
  /** Sorted by y. */
  readonly bays: readonly Bay[];
  readonly places: readonly RibPlace[];
  /** The bay of a station; throws RangeError where the panel has none of that name. */
  bayAt(station: string): Bay;
  doublersAt(part: string, end: EndName): readonly Doubler[];
  placesAt(station: string): readonly RibPlace[];
  jointsAt(station: string): readonly Joint[];
  /** A rib, doubler or bracket by its name. */
  part(id: string): Rib | Doubler | Bracket | undefined;
}

const NONE: readonly never[] = [];

/** What stands where; readings and holes have no part in it. */
export type Layout = Omit<Skeleton, 'model' | 'book' | 'jointsAt'>;

function standing(ribs: readonly Rib[]): Map<string, { main?: MainRib; nose?: NoseRib; tip?: TipRib }> {
  const all = new Map<string, { main?: MainRib; nose?: NoseRib; tip?: TipRib }>();
  for (const rib of ribs) {
    const here = all.get(rib.station) ?? {};
    if (rib.kind === 'main') here.main = rib;
    else if (rib.kind === 'nose') here.nose = rib;
    else here.tip = rib;
    all.set(rib.station, here);
  }
  return all;
}

/** Groups a list by a key, keeping its order. */
function grouped<T>(list: readonly T[], key: (item: T) => string): ReadonlyMap<string, readonly T[]> {
  const groups = new Map<string, T[]>();
  for (const item of list) {
    const had = groups.get(key(item));
    if (had) had.push(item);
    else groups.set(key(item), [item]);
  }
  return groups;
}

/** What stands where in a model; kept for as long as nothing but readings, holes and settings changes. */
export const layoutOf = keptWhole((model): Layout => {
  const ribs = standing(model.ribs);
  const added = grouped(model.doublers, (d) => `${d.part}.${d.end}`);
  const doublersAt = (part: string, end: EndName): readonly Doubler[] => added.get(`${part}.${end}`) ?? NONE;
  const bays = [...model.stations]
    .sort((a, b) => a.y - b.y)
    .map((station, index): Bay => ({ station, index, ...ribs.get(station.id) }));
  const places: RibPlace[] = [];
  for (const bay of bays) {
    const add = (rib: Rib, end: EndName, spec: RibEnd, spar: SparName) =>
      places.push({ rib, end, key: `${rib.id}.${end}`, spec, spar, bay, doublers: doublersAt(rib.id, end) });
    if (bay.nose) add(bay.nose, 'tail', bay.nose.tail, 'front');
    if (bay.main) {
      add(bay.main, 'front', bay.main.front, 'front');
      if (model.spars.rear) add(bay.main, 'rear', bay.main.rear, 'rear');
    }
    if (bay.tip && model.spars.rear) add(bay.tip, 'rear', bay.tip.rear, 'rear');
  }
  const at = grouped(places, (p) => p.bay.station.id);
  const parts = new Map<string, Rib | Doubler | Bracket>();
  for (const p of [...model.ribs, ...model.doublers, ...model.brackets]) parts.set(p.id, p);
  const byStation = new Map(bays.map((b) => [b.station.id, b]));
  const bayAt = (station: string): Bay => {
    const bay = byStation.get(station);
    if (!bay) throw new RangeError(`the panel has no station ${station}`);
    return bay;
  };
  return {
    bays,
    places,
    bayAt,
    doublersAt,
    placesAt: (station) => at.get(station) ?? NONE,
    part: (id) => parts.get(id),
  };
});

/** Joints by station, once for each list of them. */
const jointsByStation = once((joints: readonly Joint[]) => grouped(joints, (j) => j.station));
const jointsById = once(
  (joints: readonly Joint[]): ReadonlyMap<string, Joint> => new Map(joints.map((j) => [j.id, j])),
);

/** The joints of a station, in the order of the file. */
const jointsAt = door((model, station): readonly Joint[] => jointsByStation(model.joints).get(station) ?? NONE, {
  same: sameItems,
});

/** A joint of a panel by its name. */
export const jointOf = door((model, id): Joint | undefined => jointsById(model.joints).get(id));

/**
 * A panel laid out with a book of its sizes: every part of it a door, so that what an answer looks at is written
 * down.
 */
export function laidOut(model: Model, book: SizeBook): Skeleton {
  return {
    model,
    book,
    get bays() {
      return layoutOf(model).bays;
    },
    get places() {
      return layoutOf(model).places;
    },
    bayAt: (station) => layoutOf(model).bayAt(station),
    doublersAt: (part, end) => layoutOf(model).doublersAt(part, end),
    placesAt: (station) => layoutOf(model).placesAt(station),
    jointsAt: (station) => jointsAt(model, station),
    part: (id) => layoutOf(model).part(id),
  };
}
