import { type Chain, chain, combine } from '../chains/chain.ts';
import type { Size } from '../chains/size.ts';
import type { Bracket, Doubler, Joint, MainRib, Model, NoseRib, Rib, RibEnd, Spar, SparName, Station, TipRib } from '../model/schema.ts';
import { type SizeBook, sizeBook } from '../model/sizes.ts';

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
  const bays = [...model.stations].sort((a, b) => a.y - b.y).map((station, index): Bay => ({ station, index, ...ribs.get(station.id) }));
  const places: RibPlace[] = [];
  for (const bay of bays) {
    const add = (rib: Rib, end: EndName, spec: RibEnd, spar: SparName) => places.push({ rib, end, key: `${rib.id}.${end}`, spec, spar, bay, doublers: doublersAt(rib.id, end) });
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
const made = new WeakMap<Model, Skeleton>();

function layoutOf(model: Model): Layout {
  const had = laidOut.get(model.ribs);
  if (had && STANDS.every((k) => had.model[k] === model[k])) return had.layout;
  const layout = layOut(model);
  laidOut.set(model.ribs, { model, layout });
  return layout;
}

/** The skeleton of a model; made once for each model and remembered with it. A new reading keeps the layout. */
export function skeletonOf(model: Model): Skeleton {
  let skeleton = made.get(model);
  if (!skeleton) {
    const layout = layoutOf(model);
    skeleton = { model, book: sizeBook(model), layout, ...layout };
    made.set(model, skeleton);
  }
  return skeleton;
}

/** The spar a place meets; throws RangeError when the panel has none of that name. */
export function sparOf(skeleton: Skeleton, name: SparName): Spar {
  const spar = skeleton.model.spars[name];
  if (!spar) throw new RangeError(`the panel has no ${name} spar`);
  return spar;
}

/** The thickness Size of a sheet; every part cut from it shares this one Size. */
export function thickness(skeleton: Skeleton, sheet: string): Size {
  return skeleton.book.get(`sheet.${sheet}`);
}

/** Thickness of every piece with a web between a rib end and the spar web, one Size each: what moves the rib along the chord. */
export function websBetween(skeleton: Skeleton, doublers: readonly Doubler[]): Size[] {
  return doublers.filter((d) => d.form === 'channel' || d.on === 'web').map((d) => thickness(skeleton, d.sheet));
}

/**
 * Clear height between a spar's caps at a station: read directly where it was, else depth less two caps less the
 * strips that run past this station. Direct beats computed.
 */
export function clearHeight(skeleton: Skeleton, name: SparName, station: Station): Chain {
  const direct = skeleton.book.find(`${name}.clear@${station.id}`);
  if (direct) return chain([1, direct]);
  const spar = sparOf(skeleton, name);
  const links: [number, Size][] = [
    [1, skeleton.book.get(`${name}.depth@${station.id}`)],
    [-2, thickness(skeleton, spar.sheet)],
  ];
  for (const strip of spar.strips) {
    if (station.y < strip.from || station.y > strip.to) continue;
    links.push([strip.caps === 'both' ? -2 : -1, thickness(skeleton, strip.sheet)]);
  }
  return chain(...links);
}

/**
 * Straightness readings of a spar (bow or camber) as departures from the straight line through its two end readings (C10).
 * Ends that were not read are taken as on the line. The chain is empty where nothing was read.
 */
export function departure(skeleton: Skeleton, name: SparName, what: 'bow' | 'camber', bay: Bay): Chain {
  const here = skeleton.book.find(`${name}.${what}@${bay.station.id}`);
  const first = skeleton.bays[0]!;
  const last = skeleton.bays[skeleton.bays.length - 1]!;
  if (!here || bay === first || bay === last || first === last) return [];
  const t = (bay.station.y - first.station.y) / (last.station.y - first.station.y);
  const a = skeleton.book.find(`${name}.${what}@${first.station.id}`);
  const b = skeleton.book.find(`${name}.${what}@${last.station.id}`);
  return combine([1, chain([1, here])], [-(1 - t), a ? chain([1, a]) : []], [-t, b ? chain([1, b]) : []]);
}
