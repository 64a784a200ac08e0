import { best } from '../chains/chain.ts';
import { computedNose, fromNominal, nosesOf } from '../checks/fit/noseLine.ts';
import type { Band } from '../model/checkRow.ts';
import { limitFor } from '../model/limits.ts';
import { perPanel } from '../model/rested.ts';
import type { Model } from '../model/schema.ts';
import type { Bay, EndName, RibPlace, Skeleton } from '../parts/layout/layout.ts';
import { capGapChain, chordGapChain } from '../parts/layout/meeting.ts';
import { skeletonOf } from '../parts/layout/skeleton.ts';
import { NEAR } from '../units/near.ts';

/*
 * Which size does a rib want at another place? The one that leaves there the daylight its drawing leaves, whatever it
 * leaves as it is: a rib that binds by 3.00 and comes where there is 2.41 more room wants to be lower, not higher.
 */

/** A size as it is wanted, mm, and as it is. */
export interface WantedSize {
  readonly wanted: number;
  readonly now: number;
}

/** The panel by its drawing alone. */
export const drawn = perPanel((model): Skeleton => skeletonOf({ ...model, readings: [] }));

const within = (value: number, [low, high]: Band): boolean =>
  (low === null || value >= low - NEAR) && (high === null || value <= high + NEAR);

/** The middle one of some numbers. */
function median(values: readonly number[]): number | undefined {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)];
}

/**
 * The daylight a drawing means for one place: its own, where that fits; where the drawing itself does not fit there
 * (a strip drawn too long), what it leaves in the middle of the like places that fit; else nothing.
 */
function meant(own: number | undefined, like: readonly number[], fits: Band): number {
  if (own !== undefined && within(own, fits)) return own;
  return median(like.filter((v) => within(v, fits))) ?? 0;
}

const gapAt = (skeleton: Skeleton, place: RibPlace): number => best(capGapChain(skeleton, place));

/** Height over the flanges that a rib end which nests wants in a panel; undefined where none nests there. */
export function heightWanted(model: Model, after: Model, rib: string, end: EndName): WantedSize | undefined {
  const there = skeletonOf(after);
  const same = (p: RibPlace): boolean => p.rib.id === rib && p.end === end;
  const place = there.places.find((p) => same(p) && p.spec.ends === 'nests');
  if (!place) return undefined;
  const paper = drawn(model);
  const nesting = paper.places.filter((p) => p.end === end && p.spec.ends === 'nests');
  const own = nesting.find(same);
  const daylight = meant(
    own && gapAt(paper, own),
    nesting.map((p) => gapAt(paper, p)),
    limitFor(model, 'cap-gap').fits,
  );
  const now = there.book.get(`${place.key}.height`).best;
  return { now, wanted: now + gapAt(there, place) - daylight };
}

/** End gap of a main rib between the webs, spars held straight. */
const endGap = (skeleton: Skeleton, bay: Bay): number | undefined =>
  bay.main && best(chordGapChain(skeleton, bay, bay.main, 'straight'));

/** Length that a main rib wants between the webs; undefined where none stands between two spars. */
export function lengthWanted(model: Model, after: Model, station: string): WantedSize | undefined {
  const there = skeletonOf(after);
  const bay = there.bays.find((b) => b.station.id === station);
  const gap = bay && endGap(there, bay);
  if (!bay?.main || gap === undefined || !model.spars.rear) return undefined;
  const paper = drawn(model);
  const gaps = paper.bays.flatMap((b) => ({ id: b.station.id, gap: endGap(paper, b) }));
  const daylight = meant(
    gaps.find((g) => g.id === station)?.gap,
    gaps.flatMap((g) => g.gap ?? []),
    limitFor(model, 'chord-gap').fits,
  );
  const now = there.book.get(`${bay.main.id}.length`).best;
  return { now, wanted: now + gap - daylight };
}

/**
 * Height over the flanges that a nose rib's tail wants where it butts on the spar: as much off the spar's depth as
 * its drawing has it.
 */
export function tailHeightWanted(model: Model, after: Model, station: string): WantedSize | undefined {
  const there = skeletonOf(after);
  const nose = there.bays.find((b) => b.station.id === station)?.nose;
  if (!nose || nose.tail.ends === 'nests') return undefined;
  const off = (s: Skeleton): number => {
    const depth = s.book.get(`front.depth@${station}`).best;
    return depth - s.book.get(`${nose.id}.tail.height`).best;
  };
  const now = there.book.get(`${nose.id}.tail.height`).best;
  return { now, wanted: now + off(there) - off(drawn(model)) };
}

/**
 * Length that a nose or tip rib wants, for its nose to stand on the drawing, and what it has by where its nose
 * stands; undefined where a clip says where it stands.
 */
export function noseLengthWanted(after: Model, station: string): WantedSize | undefined {
  const there = skeletonOf(after);
  const nose = nosesOf(there, 'straight').find((n) => n.bay.station.id === station);
  const rib = nose?.bay.nose ?? nose?.bay.tip;
  const parts = nose && computedNose(there, nose.bay, 'straight');
  if (!nose || !rib || !parts || (rib.kind === 'tip' && rib.registered === 'front')) return undefined;
  const wanted = there.book.get(`${rib.id}.length`).best + nose.bay.station.nose - best(parts);
  return { wanted, now: wanted + fromNominal(nose) };
}
