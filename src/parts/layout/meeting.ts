import { type Chain, chain, combine } from '../../chains/chain.ts';
import type { Size } from '../../chains/size.ts';
import type { Doubler, MainRib, Spar, SparName, Station, TipRib } from '../../model/schema.ts';
import type { Bay, RibPlace, Skeleton } from './layout.ts';

/*
 * Where two parts meet: the room there as a chain of sizes (C1 cap gap, C2 its split, C3 chord gap, C15 the
 * steps from cap to rib).
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

/**
 * Thickness of every piece with a web between a rib end and the spar web, one Size each: what moves the rib along the
 * chord.
 */
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
 * Straightness readings of a spar (bow or camber) as departures from the straight line through its two end readings
 * (C10). Ends that were not read are taken as on the line. The chain is empty where nothing was read.
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

/**
 * Top and bottom pieces between a rib end and the caps: thickness Sizes taken from the top gap and from the bottom
 * gap.
 */
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

/**
 * C15 as a chain: the steps from cap to rib at top and bottom together, cap proud positive; how they share it is
 * where the rib is held. Panel A, M5 front: 85.83 - (82.55 + 2.90) = +0.38.
 */
export function stepSumChain(skeleton: Skeleton, place: RibPlace): Chain {
  const { key, spec } = place;
  const { book } = skeleton;
  const whole = chain([1, book.get(`${place.spar}.depth@${place.bay.station.id}`)], [-1, book.get(`${key}.height`)]);
  // An end that butts has nothing to go under, unless its drawing says otherwise.
  const isJoggled = spec.ends === 'nests' || spec.joggle > 0;
  return isJoggled ? combine([1, whole], [-2, chain([1, book.get(`${key}.joggle`)])]) : whole;
}

/**
 * C15 where a tip rib in one piece passes the front spar: spar depth less the rib's height there, cap proud positive.
 * It is the far end of a rib registered on the rear web.
 */
export function tipStepChain({ book }: Skeleton, { station }: Bay, tip: TipRib): Chain {
  return chain([1, book.get(`front.depth@${station.id}`)], [-1, book.get(`${tip.id}.height`)]);
}

export type Hold = 'straight' | 'bowed';

/** Flat doublers on a spar's web that cover a station, on the rib side. */
function webDoublers(skeleton: Skeleton, name: 'front' | 'rear', y: number): Size[] {
  const spar = sparOf(skeleton, name);
  return spar.webDoublers.filter((d) => y >= d.from && y <= d.to).map((d) => thickness(skeleton, d.sheet));
}

/**
 * C3 as a chain at a station with a main rib between two spars. Panel A, M6 held straight: 264 - 0.813 - 0.635 -
 * 261.60 = +0.95.
 */
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
