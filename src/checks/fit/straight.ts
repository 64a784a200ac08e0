import { type Limit, limitFor } from '../../model/limits.ts';
import type { Model, Spar, SparName } from '../../model/schema.ts';
import type { Bay, Skeleton } from '../../parts/layout/layout.ts';
import { departure } from '../../parts/layout/meeting.ts';
import { sentence, show } from '../describe.ts';
import { type Finding, judge } from '../finding.ts';

/*
 * Asks: are the spars straight? Bow in plan and camber up and down (C10): each reading less the line through the two
 * end readings. The good band is the limit's, and no more than length/2000.
 */

type Departure = 'bow' | 'camber';

const VERB: Readonly<Record<Departure, string>> = { bow: 'bows', camber: 'bends' };
const TODO: Readonly<Record<Departure, string>> = {
  bow: 'Straighten the jig blocks and read it again: every nose follows the spar.',
  camber: 'Set the blocks and read the heights again.',
};

/** Which way a spar departs from its string line, in words: bow is positive away from the other spar, camber up. */
function wayOf(what: Departure, spar: SparName, v: number): string {
  if (what === 'camber') return v < 0 ? 'down' : 'up';
  if (spar === 'front') return v < 0 ? 'toward the rear spar' : 'forward';
  return v < 0 ? 'toward the front spar' : 'aft';
}

/** The limit of a spar's bow: as given, and nowhere good beyond length/2000. */
function bowLimit(model: Model, { from, to }: Spar): Limit {
  const limit = limitFor(model, 'bow');
  const most = Math.abs(to - from) / 2000;
  const [low, high] = limit.fits;
  return {
    ...limit,
    fits: [low === null ? null : Math.max(low, -most), high === null ? null : Math.min(high, most)],
  };
}

function bowFinding(skeleton: Skeleton, name: SparName, what: Departure, bay: Bay, limit: Limit): Finding | undefined {
  const { model } = skeleton;
  const station = bay.station.id;
  const restsOn = departure(skeleton, name, what, bay);
  if (restsOn.length === 0) return undefined;
  return judge({
    check: 'bow',
    at: { station, spar: name, what },
    place: `${name} spar ${what} at ${station}`,
    restsOn,
    limit,
    sense: (v) => wayOf(what, name, v),
    say: (j) => {
      const much = `${show(model, Math.abs(j.value))} ${wayOf(what, name, j.value)}`;
      return sentence(model, j, `The ${name} spar ${VERB[what]} ${much} at ${station}`, { todo: TODO[what] });
    },
  });
}

export function* straight(skeleton: Skeleton): Generator<Finding> {
  const { model, bays } = skeleton;
  for (const name of ['front', 'rear'] as const) {
    const spar = model.spars[name];
    if (!spar) continue;
    const limit = bowLimit(model, spar);
    for (const what of ['bow', 'camber'] as const)
      yield* bays.map((bay) => bowFinding(skeleton, name, what, bay, limit)).filter((f) => f !== undefined);
  }
}
