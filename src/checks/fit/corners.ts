import { best, type Chain, chain, combine } from '../../chains/chain.ts';
import type { Size } from '../../chains/size.ts';
import { limitFor } from '../../model/limits.ts';
import type { Bay, RibPlace, Skeleton } from '../../parts/layout/layout.ts';
import { chordGapChain, sparOf, thickness, websBetween } from '../../parts/layout/meeting.ts';
import { atEnd } from '../at.ts';
import { sentence, show } from '../describe.ts';
import { type Finding, judge } from '../finding.ts';
import { endName } from './capGap.ts';

/*
 * Asks: will any corner start a crack? Relief holes clear of the cap edge (C16).
 */

/**
 * Daylight at a main rib's end as the ribs stand: against the rear web the free chord gap is all at the front, and the
 * other way round; clamped there is none. Never negative.
 */
function endGap(skeleton: Skeleton, place: RibPlace): Chain {
  const { model } = skeleton;
  const main = place.bay.main;
  const open = (place.end === 'front' && model.stand === 'rear') || (place.end === 'rear' && model.stand === 'front');
  if (!open || place.rib !== main || !model.spars.rear) return [];
  const k = chordGapChain(skeleton, place.bay, main, 'straight');
  return best(k) > 0 ? k : [];
}

/**
 * C16 to the centre: cap-edge side of the relief hole, mm; positive clears. Panel A, M2: 0.813 + 0.635 + 0.05 + 14.4
 * - 16 = -0.10.
 */
export function reliefChain(skeleton: Skeleton, place: RibPlace): Chain {
  const { book } = skeleton;
  const links: [number, Size][] = [[1, thickness(skeleton, sparOf(skeleton, place.spar).sheet)]];
  for (const t of websBetween(skeleton, place.doublers)) links.push([1, t]);
  links.push([1, book.get(`${place.key}.relief`)], [-1, book.get(`${place.spar}.cap@${place.bay.station.id}`)]);
  return combine([1, chain(...links)], [1, endGap(skeleton, place)]);
}

function* reliefs(skeleton: Skeleton, bay: Bay): Generator<Finding> {
  const { model } = skeleton;
  for (const place of skeleton.placesAt(bay.station.id)) {
    const relief = place.spec.relief;
    if (!relief || place.spec.ends !== 'nests') continue;
    const restsOn = reliefChain(skeleton, place);
    const centre = best(restsOn);
    const rim = centre - relief.diameter / 2;
    yield judge({
      check: 'relief',
      at: atEnd(place),
      place: endName(place),
      restsOn,
      value: model.reliefCounts === 'rim' ? rim : centre,
      limit: limitFor(model, 'relief'),
      sense: (v) => (v < 0 ? 'sits on the notch' : 'clear'),
      say: (j) => {
        const counted = model.reliefCounts;
        const way =
          j.value < 0
            ? `lies ${show(model, -j.value)} under the cap edge`
            : `clears the cap edge by ${show(model, j.value)}`;
        const [to, by] = counted === 'centre' ? ['rim', rim] : ['centre', centre];
        const other = `Counted to the ${to} it ${by < 0 ? `overlaps by ${show(model, -by)}` : `clears by ${show(model, by)}`}.`;
        return sentence(model, j, `The relief hole of ${endName(place)} end ${way}, counted to its ${counted}`, {
          note: j.verdict === 'fits' ? undefined : other,
          todo: 'The cap corner would sit on the notch and start a crack.',
        });
      },
    });
  }
}

/** Relief holes of the rib ends at a station. */
export function* corners(skeleton: Skeleton, bay: Bay): Generator<Finding> {
  yield* reliefs(skeleton, bay);
}
