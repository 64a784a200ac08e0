import type { SparName } from '../../model/schema.ts';
import type { RibPlace } from '../../parts/layout/layout.ts';
import { type Maker, ribEndAt } from '../asked.ts';
import { FREE, type Remedy } from '../remedy.ts';

/*
 * No metal comes off a spar's cap or its strip here: AC 43.13-1B, page 4-12, warns against less of it. A strip that
 * may be finished too long is measured against its drawing, and the designer is asked.
 */

/**
 * A strip that ends nearer than this to a rib it lies under, mm, was most likely finished too long: picked, no
 * source.
 */
const NEAR_ITS_END = 100;

/** Whether a cap strip lies under a rib end and stops a little past it. */
function endsUnder({ bay, spar }: RibPlace, model: Parameters<Maker>[0]['model']): boolean {
  const { y } = bay.station;
  return (model.spars[spar]?.strips ?? []).some(
    ({ from, to }) => y >= from && y <= to && Math.min(y - from, to - y) < NEAR_ITS_END,
  );
}

/** Measures the cap strip under a rib end, and asks. It moves nothing. */
function measureStrip(spar: SparName, station: string): Remedy {
  return {
    id: `strip:${spar}:${station}`,
    kind: 'strip',
    name: 'measure the strip against its drawing; ask the designer before it is cut',
    station,
    part: spar,
    cost: FREE,
    askDesigner: true,
    layers: false,
    edit: { name: `asked about the cap strip of the ${spar} spar`, apply: (m) => m },
  };
}

/** The strip under a binding rib end, if it stops a little past it. */
export const stripMeasured: Maker = (asked) => {
  const at = ribEndAt(asked);
  if (!at || !endsUnder(at.place, asked.model)) return [];
  return [measureStrip(at.place.spar, at.place.bay.station.id)];
};
