import { type Chain, chain } from '../../chains/chain.ts';
import { exact } from '../../chains/size.ts';
import { type Limit, limitFor } from '../../model/limits.ts';
import type { Bay, RibPlace, Skeleton } from '../../parts/layout/layout.ts';
import { thickness } from '../../parts/layout/meeting.ts';
import { atEnd } from '../at.ts';
import { sentence, show } from '../describe.ts';
import { type Finding, judge } from '../finding.ts';
import { endName } from './capGap.ts';

/*
 * Asks: is each relief hole wide enough that the bends it parts do not tear into one another? Chain: its drawn
 * diameter. FAA-H-8083-31 ch. 4: not under 1/8 in for sheet up to 0.064 in, 3/16 in for thicker. Never under twice
 * the sheet. A rib end without a relief hole on its drawing is not asked.
 */

/** Sheet up to here takes the smaller hole, mm. */
const THIN = 0.064 * 25.4;
/** Least hole of thicker sheet, mm. */
const IN_THICK = (3 / 16) * 25.4;

/** The drawn diameter of a relief hole, mm. */
function reliefDiameterChain(place: RibPlace, diameter: number): Chain {
  return chain([1, exact(`${place.key}.relief-diameter`, `relief hole of ${endName(place)} across`, diameter)]);
}

/**
 * The limit in force for a hole in a sheet, mm.
 *
 * @example 0.025 in sheet (0.635): it fits from 3.175, and is at act under 1.27.
 */
export function reliefDiameterLimit(limit: Limit, sheet: number): Limit {
  const torn = 2 * sheet;
  const least = sheet > THIN + 1e-3 ? IN_THICK : 0;
  const act = Math.max(limit.act[0] ?? 0, torn);
  return { ...limit, fits: [Math.max(limit.fits[0] ?? 0, least, act), null], act: [act, null] };
}

export function* reliefDiameter(skeleton: Skeleton, bay: Bay): Generator<Finding> {
  const { model } = skeleton;
  for (const place of skeleton.placesAt(bay.station.id)) {
    const { relief } = place.spec;
    if (!relief) continue;
    const sheet = thickness(skeleton, place.rib.sheet).best;
    const limit = reliefDiameterLimit(limitFor(model, 'relief-diameter'), sheet);
    yield judge({
      check: 'relief-diameter',
      at: atEnd(place),
      place: endName(place),
      restsOn: reliefDiameterChain(place, relief.diameter),
      limit,
      sense: (v) => (v < (limit.fits[0] ?? 0) ? 'small' : 'wide enough'),
      say: (j) =>
        sentence(
          model,
          j,
          `The relief hole of ${endName(place)} end is ${show(model, j.value)} across in ${show(model, sheet)} sheet`,
          { todo: 'Drill it larger and smooth its edge: a small one starts a crack.' },
        ),
    });
  }
}
