import type { Chain } from '../../chains/chain.ts';
import { type Size, sameSize } from '../../chains/size.ts';
import { type DirectReading, type Posterior, posterior } from '../../chains/update.ts';
import { door, doorInto, keptWhole, perPanel } from '../../model/rested.ts';
import type { Model } from '../../model/schema.ts';
import { isFeeler } from '../../model/sizeEntries.ts';
import { bookOf, knownOf, newlyRead, type SizeBook, sizeBook } from '../../model/sizes.ts';
import { once } from '../../once.ts';
import { type Bay, type EndName, laidOut, layoutOf, type RibPlace, type Skeleton } from './layout.ts';
import { capGapChain, capSplitChains, chordGapChain, stepSumChain, tipStepChain } from './meeting.ts';

/*
 * What a feeler says: a room where two parts meet, known from its parts and felt as it stands. The two are combined
 * over all sizes at once, so that every question asked afterwards already knows what the feeler said.
 */

/**
 * A room that a feeler can read: the gap at top and bottom of a rib end together or one of them, its steps from cap
 * to rib, or a rib's end gap between the webs.
 */
export interface Feelable {
  /** Of its readings: `gap.M2.front`, `gap.M2.front.top`, `step.M2.front`, `chord.M5`. */
  readonly key: string;
  readonly what: 'caps' | 'top' | 'bottom' | 'steps' | 'webs';
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

/**
 * Every gap of a station that can be felt, with its chain; each side of an end only where the rib is known to be held
 * there.
 */
export function feelableAt(skeleton: Skeleton, bay: Bay): Feelable[] {
  const all: Feelable[] = [];
  const station = bay.station.id;
  for (const place of skeleton.placesAt(station)) {
    const name = `${place.rib.id} ${place.end}`;
    const key = `gap.${place.key}`;
    const at = { station, part: place.rib.id, end: place.end, place: name };
    const steps = { ...at, key: `step.${place.key}`, what: 'steps', computed: stepSumChain(skeleton, place) } as const;
    if (place.spec.ends !== 'nests') {
      all.push(steps);
      continue;
    }
    all.push({ ...at, key, what: 'caps', computed: capGapChain(skeleton, place) });
    const { top, bottom, held } = capSplitChains(skeleton, place);
    if (held)
      all.push(
        { ...at, key: `${key}.top`, what: 'top', computed: top },
        { ...at, key: `${key}.bottom`, what: 'bottom', computed: bottom },
      );
    all.push(steps);
  }
  if (bay.tip) {
    const { id } = bay.tip;
    const computed = tipStepChain(skeleton, bay, bay.tip);
    all.push({
      station,
      part: id,
      end: 'front',
      place: `${id} front`,
      key: `step.${id}.front`,
      what: 'steps',
      computed,
    });
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
 * The same skeleton as its parts alone tell, no feeler asked. Where a side gap was felt and nobody measured how far
 * above the middle the rib is held, that stands in it as not known.
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
 * The book of sizes after every felt gap was taken in: least squares over all sizes at once, weights by uncertainty,
 * what sizes share kept shared. The readings' own entries (`gap.…`, `chord.…`) stay as they were read.
 */
export const feelerBook = (model: Model): SizeBook => bookOf(model, (key) => sizeDoor(model, key));
