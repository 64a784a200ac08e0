import type { Doubler, Model, Rib } from '../../schema.ts';
import { type Faults, someOf } from './fault.ts';

/** The ends of a rib that a doubler may lie at. */
const ENDS: Readonly<Record<Rib['kind'], readonly Doubler['end'][]>> = {
  main: ['front', 'rear'],
  nose: ['tail'],
  tip: ['rear'],
};

function* channelFaults(d: Doubler, path: string): Faults {
  if (d.form !== 'channel') return;
  if (d.radius === undefined)
    yield {
      path: `${path}.radius`,
      sentence: `${d.id} is a channel without a bend radius; expected its inside radius in mm; add it`,
    };
  if (d.on !== 'web')
    yield {
      path: `${path}.on`,
      sentence: `${d.id} is a channel on "${d.on}"; expected "web", for a channel covers web and caps; correct it`,
    };
}

/** A doubler belongs to a rib, at an end the rib has. */
export function* doublerFaults(model: Model): Faults {
  const ribs = new Map(model.ribs.map((r) => [r.id, r]));
  for (const [i, d] of model.doublers.entries()) {
    const path = `doublers[${i}]`;
    const rib = ribs.get(d.part);
    if (!rib) {
      yield {
        path: `${path}.part`,
        sentence: `${d.id} belongs to "${d.part}", which is not a rib of this panel; expected a rib's name; correct it`,
      };
      continue;
    }
    const ends = ENDS[rib.kind];
    if (!ends.includes(d.end))
      yield {
        path: `${path}.end`,
        sentence: `${d.id} is at the ${d.end} of ${d.part}, a ${rib.kind} rib; expected ${ends.join(' or ')}; correct it`,
      };
    yield* channelFaults(d, path);
  }
}

/** A bracket stands at a station, on a spar there is. */
export function* bracketFaults(model: Model): Faults {
  const stations = new Set(model.stations.map((s) => s.id));
  for (const [i, b] of model.brackets.entries()) {
    if (!stations.has(b.station))
      yield {
        path: `brackets[${i}].station`,
        sentence: `${b.id} stands at station "${b.station}", which is not in the list; expected one of ${someOf([...stations])}; correct it or add the station`,
      };
    if (!model.spars[b.spar])
      yield {
        path: `brackets[${i}].spar`,
        sentence: `${b.id} sits on the ${b.spar} spar, and the panel has none; expected "front"; change it or add the spar`,
      };
  }
}
