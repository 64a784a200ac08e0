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

/** The panel put together on paper: stations in order along the span, with what stands at each, and every Size by key. */
export interface Skeleton {
  readonly model: Model;
  /** Every Size as known from all readings together: where a gap was felt directly, its parts are moved and tied by it. */
  readonly book: SizeBook;
  /** What stands where, the same object for as long as nothing but readings and settings changes. */
  readonly layout: Layout;
  /** Sorted by y. */
  readonly bays: readonly Bay[];
  readonly places: readonly RibPlace[];
  doublersAt(part: string, end: EndName): readonly Doubler[];
  placesAt(station: string): readonly RibPlace[];
  jointsAt(station: string): readonly Joint[];
  /** A rib, doubler or bracket by its name. */
  part(id: string): Rib | Doubler | Bracket | undefined;
}

const NONE: readonly never[] = [];

/** What stands where; the readings have no part in it. */
export type Layout = Omit<Skeleton, 'model' | 'book' | 'layout'>;

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

function layOut(model: Model): Layout {
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
  const joints = grouped(model.joints, (j) => j.station);
  const parts = new Map<string, Rib | Doubler | Bracket>();
  for (const p of [...model.ribs, ...model.doublers, ...model.brackets]) parts.set(p.id, p);
  return {
    bays,
    places,
    doublersAt,
    placesAt: (station) => at.get(station) ?? NONE,
    jointsAt: (station) => joints.get(station) ?? NONE,
    part: (id) => parts.get(id),
  };
}

/** The groups of a model that say what stands where. */
const STANDS = ['stations', 'ribs', 'doublers', 'brackets', 'joints', 'spars'] as const;
const laidOut = new WeakMap<readonly Rib[], { readonly model: Model; readonly layout: Layout }>();

/** What stands where in a model; kept for as long as nothing but readings and settings changes. */
export function layoutOf(model: Model): Layout {
  const had = laidOut.get(model.ribs);
  if (had && STANDS.every((k) => had.model[k] === model[k])) return had.layout;
  const layout = layOut(model);
  laidOut.set(model.ribs, { model, layout });
  return layout;
}
