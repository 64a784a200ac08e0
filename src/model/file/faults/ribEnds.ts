import { alongAt } from '../../along.ts';
import type { Model, Rib, RibEnd } from '../../schema.ts';
import { type Faults, inMm } from './fault.ts';

/** One end of a rib, the path to it, and where along the span the rib stands. */
export interface EndSeen {
  readonly model: Model;
  readonly rib: Rib;
  readonly y: number | undefined;
  readonly name: 'front' | 'rear' | 'tail';
  readonly end: RibEnd;
  readonly path: string;
}

/** Height over the spar's depth from which a rib end looks like a slip of unit. */
const TOO_TALL = 1.5;

/** A rib end that nests goes into a channel that opens toward it, and is not taller than the channel. */
function* nestingFaults({ model, rib, y, name, end, path }: EndSeen): Faults {
  const at = name === 'rear' ? 'rear' : 'front';
  const spar = model.spars[at];
  if (!spar || end.ends !== 'nests') return;
  const into = name === 'front' ? 'aft' : 'forward';
  if (spar.opens !== into)
    yield {
      path: `${path}.ends`,
      sentence: `${rib.id} is said to nest in the ${at} spar, which opens ${spar.opens}; expected a channel that opens ${into} toward it; say "butts" or turn the channel`,
    };
  if (y === undefined) return;
  const depth = alongAt(spar.depth, y);
  if (end.height > depth * TOO_TALL)
    yield {
      path: `${path}.height`,
      sentence: `${rib.id} is ${inMm(end.height)} high where the spar is ${inMm(depth)} deep; expected less than the spar; check the unit`,
    };
}

/** What cannot be at one end of a rib: how it nests, how tall it is, where its row lies. */
export function* ribEndFaults(seen: EndSeen): Faults {
  yield* nestingFaults(seen);
  const { rib, end, path } = seen;
  if (end.row >= end.tab)
    yield {
      path: `${path}.row`,
      sentence: `the row of ${rib.id} lies ${inMm(end.row)} from its web, outside its ${inMm(end.tab)} flange; expected it inside; move the row or widen the flange`,
    };
}
