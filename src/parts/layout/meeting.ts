import { type Chain, chain, combine } from '../../chains/chain.ts';
import { type Size, sameSize } from '../../chains/size.ts';
import { type DirectReading, type Posterior, posterior } from '../../chains/update.ts';
import { door, doorInto, keptWhole, perPanel } from '../../model/rested.ts';
import type { Doubler, MainRib, Model, Spar, SparName, Station } from '../../model/schema.ts';
import { isFeeler } from '../../model/sizeEntries.ts';
import { bookOf, knownOf, newlyRead, type SizeBook, sizeBook } from '../../model/sizes.ts';
import { once } from '../../once.ts';
import { type Bay, type EndName, laidOut, layoutOf, type RibPlace, type Skeleton } from './layout.ts';

/*
 * Where two parts meet: the room there as a chain of sizes (C1 cap gap, C2 its split, C3 chord gap), and the same room
 * felt directly. A felt gap and its chain are combined over all sizes at once, so that every question asked afterwards
 * already knows what the feeler said.
 */

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
  const first = skeleton.bays[0];
  const last = skeleton.bays.at(-1);
  if (!here || !first || !last || bay === first || bay === last) return [];
  const t = (bay.station.y - first.station.y) / (last.station.y - first.station.y);
  const a = skeleton.book.find(`${name}.${what}@${first.station.id}`);
  const b = skeleton.book.find(`${name}.${what}@${last.station.id}`);
  return combine([1, chain([1, here])], [-(1 - t), a ? chain([1, a]) : []], [-t, b ? chain([1, b]) : []]);
}

/** Top and bottom pieces between a rib end and the caps: thickness Sizes taken from the top gap and from the bottom gap. */
function between(skeleton: Skeleton, place: RibPlace): { top: Size[]; bottom: Size[] } {
  const top: Size[] = [];
  const bottom: Size[] = [];
  for (const d of place.doublers) {
    const t = thickness(skeleton, d.sheet);
    if (d.form === 'channel' || d.on === 'top') top.push(t);
    if (d.form === 'channel' || d.on === 'bottom') bottom.push(t);
  }
  return { top, bottom };
}

/** C1 as a chain, at a rib end that nests. Panel A, M2 front: 84.30 - 83.35 - 2 × 0.635 = -0.32. */
export function capGapChain(skeleton: Skeleton, place: RibPlace): Chain {
  const { book } = skeleton;
  const { key } = place;
  const { top, bottom } = between(skeleton, place);
  const links: [number, Size][] = [[-1, book.get(`${key}.height`)]];
  for (const t of [...top, ...bottom]) links.push([-1, t]);
  const droop = book.find(`${place.spar}.droop@${place.bay.station.id}`);
  if (droop) links.push([-1, droop]);
  const open = book.find(`${key}.open`);
  if (open) links.push([-2, open]);
  return combine([1, clearHeight(skeleton, place.spar, place.bay.station)], [1, chain(...links)]);
}

/**
 * C2 as two chains. Each side's gap is half of (clear height - rib height) less what lies on that side, less or plus
 * how far the rib is held above the middle. Without a reading of that, the daylight is shared evenly.
 */
export function capSplitChains(skeleton: Skeleton, place: RibPlace): { top: Chain; bottom: Chain; held: boolean } {
  const sum = capGapChain(skeleton, place);
  const bias = skeleton.book.find(`${place.key}.bias`);
  if (!bias) return { top: combine([0.5, sum]), bottom: combine([0.5, sum]), held: false };
  const { top, bottom } = between(skeleton, place);
  const uneven = chain(...top.map((s): [number, Size] => [-0.5, s]), ...bottom.map((s): [number, Size] => [0.5, s]));
  return {
    top: combine([0.5, sum], [1, uneven], [-1, chain([1, bias])]),
    bottom: combine([0.5, sum], [-1, uneven], [1, chain([1, bias])]),
    held: true,
  };
}

export type Hold = 'straight' | 'bowed';

/** Flat doublers on a spar's web that cover a station, on the rib side. */
function webDoublers(skeleton: Skeleton, name: 'front' | 'rear', y: number): Size[] {
  const spar = sparOf(skeleton, name);
  return spar.webDoublers.filter((d) => y >= d.from && y <= d.to).map((d) => thickness(skeleton, d.sheet));
}

/** C3 as a chain at a station with a main rib between two spars. Panel A, M6 held straight: 264 - 0.813 - 0.635 - 261.60 = +0.95. */
export function chordGapChain(skeleton: Skeleton, bay: Bay, main: MainRib, hold: Hold): Chain {
  const { book } = skeleton;
  const taken = [
    thickness(skeleton, sparOf(skeleton, 'front').sheet),
    ...webDoublers(skeleton, 'front', bay.station.y),
    ...websBetween(skeleton, skeleton.doublersAt(main.id, 'front')),
    book.get(`${main.id}.length`),
    ...websBetween(skeleton, skeleton.doublersAt(main.id, 'rear')),
    ...webDoublers(skeleton, 'rear', bay.station.y),
  ];
  const straight = chain([1, book.get(`webs@${bay.station.id}`)], ...taken.map((s): [number, Size] => [-1, s]));
  if (hold === 'straight') return straight;
  return combine(
    [1, straight],
    [1, departure(skeleton, 'front', 'bow', bay)],
    [1, departure(skeleton, 'rear', 'bow', bay)],
  );
}

/** A gap that a feeler can read: top and bottom of a rib end together or one of them, or a rib's end gap between the webs. */
export interface Feelable {
  /** Of its readings: `gap.M2.front`, `gap.M2.front.top`, `chord.M5`. */
  readonly key: string;
  readonly what: 'caps' | 'top' | 'bottom' | 'webs';
  readonly station: string;
  readonly part: string;
  /** Left out for a rib between the webs. */
  readonly end?: EndName;
  /** Part and end as the findings name it: `M2 front`, `M5`. */
  readonly place: string;
  /** The same room from its parts; spars held straight. */
  readonly computed: Chain;
}

/** How far a rib is held above the middle, when only feelers can tell: known to ±5 mm, that is not at all. */
const HELD_ANYWHERE = 5;

const anywhere = once(
  (place: RibPlace): Size => ({
    key: `${place.key}.bias`,
    name: `${place.rib.id}, ${place.end} end above the middle`,
    best: 0,
    u: HELD_ANYWHERE,
    tolerance: 2 * HELD_ANYWHERE,
    origin: 'measured',
  }),
);

/** Every gap of a station that can be felt, with its chain; each side of an end only where the rib is known to be held there. */
export function feelableAt(skeleton: Skeleton, bay: Bay): Feelable[] {
  const all: Feelable[] = [];
  const station = bay.station.id;
  for (const place of skeleton.placesAt(station)) {
    if (place.spec.ends !== 'nests') continue;
    const name = `${place.rib.id} ${place.end}`;
    const key = `gap.${place.key}`;
    const at = { station, part: place.rib.id, end: place.end, place: name };
    all.push({ ...at, key, what: 'caps', computed: capGapChain(skeleton, place) });
    const { top, bottom, held } = capSplitChains(skeleton, place);
    if (held)
      all.push(
        { ...at, key: `${key}.top`, what: 'top', computed: top },
        { ...at, key: `${key}.bottom`, what: 'bottom', computed: bottom },
      );
  }
  if (bay.main && skeleton.model.spars.rear)
    all.push({
      key: `chord.${bay.main.id}`,
      what: 'webs',
      station,
      part: bay.main.id,
      place: bay.main.id,
      computed: chordGapChain(skeleton, bay, bay.main, 'straight'),
    });
  return all;
}

/** A gap known twice: from its parts, as they are known without any feeler, and felt. */
export interface FeelerGap extends DirectReading, Feelable {}

const feelerDoor = door((model, station) => {
  const book = sizeBook(model);
  return book.readingsAt(station).some((r) => isFeeler(book.entryOf(r.size)));
});

/** Whether any reading of a station is of a gap felt directly. */
export const feelerAt = (skeleton: Skeleton, station: string): boolean => feelerDoor(skeleton.model, station);

type Find = SizeBook['find'];

const byBias = once(
  (places: readonly RibPlace[]): ReadonlyMap<string, RibPlace> => new Map(places.map((p) => [`${p.key}.bias`, p])),
);

/**
 * The same skeleton as its parts alone tell, no feeler asked. Where a side gap was felt and nobody measured how far above
 * the middle the rib is held, that stands in it as not known.
 */
export function byParts(skeleton: Skeleton): Skeleton {
  const { model, places } = skeleton;
  return laidOut(model, bookOf(model, heldAnywhere(sizeBook(model).find, places)));
}

/** How a Size is found as its parts alone tell it, from how it is found as it was read. */
function heldAnywhere(read: Find, places: readonly RibPlace[]): Find {
  const ends = byBias(places);
  return (key) => {
    const known = read(key);
    const place = known ? undefined : ends.get(key);
    if (!place) return known;
    const gap = `gap.${place.key}`;
    return read(`${gap}.top`) || read(`${gap}.bottom`) ? anywhere(place) : undefined;
  };
}

/** The gaps of a station that were felt, each with the chain of its parts. */
export function feelerGaps(parts: Skeleton, bay: Bay): FeelerGap[] {
  return feelableAt(parts, bay).flatMap((f) => {
    const read = parts.book.find(f.key);
    return read ? [{ ...f, read }] : [];
  });
}

/** What all the felt gaps of a panel say together of its sizes; nothing where none was felt. */
const takenIn = keptWhole((model): Posterior | undefined => {
  const skeleton = laidOut(model, sizeBook(model));
  const stations = skeleton.bays.filter((bay) => feelerAt(skeleton, bay.station.id));
  if (stations.length === 0) return undefined;
  const parts = byParts(skeleton);
  return posterior(stations.flatMap((bay) => feelerGaps(parts, bay)));
});

/** How each Size is found, and what that rests on besides readings. */
interface Finder {
  readonly known: ReturnType<typeof knownOf>;
  readonly after: Posterior | undefined;
  readonly places: readonly RibPlace[];
  readonly find: Find;
}

/** As a Size's parts alone tell, then moved and narrowed by what was felt. */
const finderOf = perPanel((model): Finder => {
  const known = knownOf(model);
  const after = takenIn(model);
  const { places } = layoutOf(model);
  if (!after) return { known, after, places, find: known.find };
  const byParts = heldAnywhere(known.find, places);
  const find = (key: string): Size | undefined => {
    const size = byParts(key);
    return size && !isFeeler(known.entries.get(key)) ? after.adjust(size) : size;
  };
  return { known, after, places, find };
});

/** The sizes that were read anew, where what was felt is as it was. */
function newlyFound(was: Finder, is: Finder): ReadonlySet<string> | undefined {
  if (was.after !== is.after || was.places !== is.places) return undefined;
  return newlyRead(was.known, is.known);
}

const sizeDoor = doorInto({
  of: finderOf,
  look: ({ find }, key: string) => find(key),
  same: sameSize,
  moved: newlyFound,
});

/**
 * The book of sizes after every felt gap was taken in: least squares over all sizes at once, weights by uncertainty, what
 * sizes share kept shared. The readings' own entries (`gap.…`, `chord.…`) stay as they were read.
 */
export const feelerBook = (model: Model): SizeBook => bookOf(model, (key) => sizeDoor(model, key));
