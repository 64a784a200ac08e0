import { best } from '../../chains/chain.ts';
import { limitFor } from '../../model/limits.ts';
import type { Bay, RibPlace, Skeleton } from '../../parts/layout/layout.ts';
import { capGapChain, capSplitChains, sparOf } from '../../parts/layout/meeting.ts';
import { atEnd } from '../at.ts';
import { sentence, show } from '../describe.ts';
import { type Finding, judge } from '../finding.ts';
import { feelerHere } from './disagreement.ts';

/*
 * Asks: does each rib end go in between the caps, and where is the daylight?
 * Chain C1: clear height - rib end height - 2 × channel doublers - shims - cap closing - 2 × flange opening.
 * Positive is daylight, negative is metal in the same place. What a doubler loses by riding on the spar's bend is
 * asked by bendRide, which says what the gap comes to until the doubler is re-bent; here it is taken as home.
 * Chain C2 shares the sum between top and bottom by where the builder holds the rib.
 */

/** The words for a rib end: `M2, front end`. */
export function endName(place: RibPlace): string {
  return `${place.rib.id} ${place.end}`;
}

function gapFinding(skeleton: Skeleton, place: RibPlace): Finding {
  const { model } = skeleton;
  const name = endName(place);
  const { note, disputed, ...feeler } = feelerHere(skeleton, place.bay, [
    `gap.${place.key}`,
    `gap.${place.key}.top`,
    `gap.${place.key}.bottom`,
  ]);
  return judge({
    check: 'cap-gap',
    at: atEnd(place),
    place: name,
    ...feeler,
    restsOn: capGapChain(skeleton, place),
    limit: limitFor(model, 'cap-gap'),
    sense: (v) => (v < 0 ? 'binds' : 'loose'),
    say: (j) => {
      const phrase =
        j.value < 0
          ? `${name} end binds between the caps by ${show(model, -j.value)}`
          : `${name} end is loose between the caps by ${show(model, j.value)}, ${show(model, j.value / 2)} each side when centred`;
      const todo =
        j.value < 0
          ? `Never hammer the cap: ${place.doublers.length > 0 ? 'a lower rib, a deeper joggle or a thinner doubler' : 'a lower rib or a deeper joggle'} makes room.`
          : 'Centre it first, then decide whether it wants a sheet.';
      return sentence(model, j, phrase, {
        note: [note, j.value < 0 ? stripNote(skeleton, place) : undefined].filter(Boolean).join(' ') || undefined,
        todo,
        disputed,
      });
    },
  });
}

/** Where a strip lies under a rib end and stops close by: most likely it was finished too long. */
function stripNote(skeleton: Skeleton, place: RibPlace): string | undefined {
  const { y, id } = place.bay.station;
  const near = sparOf(skeleton, place.spar).strips.find(
    (s) => y >= s.from && y <= s.to && Math.min(y - s.from, s.to - y) < 100,
  );
  if (!near) return undefined;
  const past = Math.min(y - near.from, near.to - y);
  return `A cap strip of the ${place.spar} spar lies under it and runs only ${show(skeleton.model, past)} past ${id}: is it longer than drawn?`;
}

function splitFinding(skeleton: Skeleton, place: RibPlace): Finding {
  const { model } = skeleton;
  const { top, bottom, held } = capSplitChains(skeleton, place);
  const upper = best(top) >= best(bottom);
  const name = endName(place);
  const side = upper ? 'top' : 'bottom';
  return judge({
    check: 'cap-split',
    at: { ...atEnd(place), side: held ? side : undefined },
    place: name,
    restsOn: upper ? top : bottom,
    limit: limitFor(model, 'cap-split'),
    floor: 0,
    sense: (v) => {
      if (v <= 0) return 'no daylight';
      return held ? `daylight at the ${side}` : 'daylight each side';
    },
    say: (j) => {
      const where = held ? `at the ${side}` : 'at each cap, if the rib is held in the middle';
      const phrase =
        j.value > 0
          ? `${name} end leaves ${show(model, j.value)} of daylight ${where}`
          : `${name} end leaves no daylight at the caps`;
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
