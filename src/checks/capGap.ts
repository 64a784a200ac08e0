import { best, type Chain, chain, combine } from '../chains/chain.ts';
import type { Size } from '../chains/size.ts';
import { limitFor } from '../model/limits.ts';
import { type Bay, clearHeight, type RibPlace, type Skeleton, thickness } from '../parts/skeleton.ts';
import { sentence, show } from './describe.ts';
import { type Finding, judge } from './finding.ts';

/*
 * Asks: does each rib end go in between the caps, and where is the daylight?
 * Chain C1: clear height - rib end height - 2 × channel doublers - shims - cap closing - 2 × flange opening.
 * Positive is daylight, negative is metal in the same place. What a doubler loses by riding on the spar's bend is
 * asked by bendRide, which says what the gap comes to until the doubler is re-bent; here it is taken as home.
 * Chain C2 shares the sum between top and bottom by where the builder holds the rib.
 */

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

/** The words for a rib end: `M2, front end`. */
export function endName(place: RibPlace): string {
  return `${place.rib.id} ${place.end}`;
}

function gapFinding(skeleton: Skeleton, place: RibPlace): Finding {
  const { model } = skeleton;
  const name = endName(place);
  return judge({
    check: 'cap-gap',
    station: place.bay.station.id,
    place: name,
    restsOn: capGapChain(skeleton, place),
    limit: limitFor(model, 'cap-gap'),
    sense: (v) => (v < 0 ? 'binds' : 'loose'),
    say: (j) => {
      const phrase = j.value < 0
        ? `${name} end binds between the caps by ${show(model, -j.value)}`
        : `${name} end is loose between the caps by ${show(model, j.value)}, ${show(model, j.value / 2)} each side when centred`;
      const todo = j.value < 0
        ? 'Never hammer the cap: a lower rib, a deeper joggle or a thinner doubler makes room.'
        : 'Centre it first, then decide whether it wants a sheet.';
      return sentence(model, j, phrase, { todo });
    },
  });
}

function splitFinding(skeleton: Skeleton, place: RibPlace): Finding {
  const { model } = skeleton;
  const { top, bottom, held } = capSplitChains(skeleton, place);
  const upper = best(top) >= best(bottom);
  const name = endName(place);
  const side = upper ? 'top' : 'bottom';
  return judge({
    check: 'cap-split',
    station: place.bay.station.id,
    place: name,
    restsOn: upper ? top : bottom,
    limit: limitFor(model, 'cap-split'),
    floor: 0,
    sense: (v) => (v <= 0 ? 'no daylight' : held ? `daylight at the ${side}` : 'daylight each side'),
    say: (j) => {
      const where = held ? `at the ${side}` : 'at each cap, if the rib is held in the middle';
      const phrase = j.value > 0 ? `${name} end leaves ${show(model, j.value)} of daylight ${where}` : `${name} end leaves no daylight at the caps`;
      return sentence(model, j, phrase, { todo: held ? 'Centre the rib before shimming.' : undefined });
    },
  });
}

export function* capGap(skeleton: Skeleton, bay: Bay): Generator<Finding> {
  for (const place of skeleton.placesAt(bay.station.id)) {
    if (place.spec.ends !== 'nests') continue;
    yield gapFinding(skeleton, place);
    yield splitFinding(skeleton, place);
  }
}
