import { limitFor } from '../../model/limits.ts';
import type { SparName } from '../../model/schema.ts';
import type { Skeleton } from '../../parts/layout/layout.ts';
import { departure } from '../../parts/layout/meeting.ts';
import { sentence, show } from '../describe.ts';
import { type Finding, judge } from '../finding.ts';

/*
 * Asks: are the spars straight? Bow in plan and camber up and down (C10): each reading less the line through the two
 * end readings. The good band is the limit's, and no more than length/2000.
 */

const WORDS = {
  bow: (spar: SparName, v: number) =>
    v < 0 ? `toward the ${spar === 'front' ? 'rear' : 'front'} spar` : spar === 'front' ? 'forward' : 'aft',
  camber: (_: SparName, v: number) => (v < 0 ? 'down' : 'up'),
};

export function* straight(skeleton: Skeleton): Generator<Finding> {
  const { model } = skeleton;
  const start = limitFor(model, 'bow');
  for (const name of ['front', 'rear'] as const) {
    const spar = model.spars[name];
    if (!spar) continue;
    const most = Math.abs(spar.to - spar.from) / 2000;
    const [low, high] = start.fits;
    const limit = {
      ...start,
      fits: [low === null ? null : Math.max(low, -most), high === null ? null : Math.min(high, most)] as const,
    };
    for (const what of ['bow', 'camber'] as const) {
      for (const bay of skeleton.bays) {
        const restsOn = departure(skeleton, name, what, bay);
        if (restsOn.length === 0) continue;
        yield judge({
          check: 'bow',
          at: { station: bay.station.id, spar: name, what },
          place: `${name} spar ${what} at ${bay.station.id}`,
          restsOn,
          limit,
          sense: (v) => WORDS[what](name, v),
          say: (j) =>
            sentence(
              model,
              j,
              `The ${name} spar ${what === 'bow' ? 'bows' : 'bends'} ${show(model, Math.abs(j.value))} ${WORDS[what](name, j.value)} at ${bay.station.id}`,
              {
                todo:
                  what === 'bow'
                    ? 'Straighten the jig blocks and read it again: every nose follows the spar.'
                    : 'Set the blocks and read the heights again.',
              },
            ),
        });
      }
    }
  }
}
