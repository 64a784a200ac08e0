import { alongAt } from '../../along.ts';
import type { Model, Spar, SparName } from '../../schema.ts';
import { type Faults, inMm } from './fault.ts';
import { alongFaults } from './places.ts';

/** Whether a piece reaches past the spar it lies on, by more than a millimetre. */
const past = (spar: Spar, piece: { readonly from: number; readonly to: number }): boolean =>
  piece.from < spar.from - 1 || piece.to > spar.to + 1;

function* lengthFaults(name: SparName, spar: Spar): Faults {
  if (spar.to <= spar.from)
    yield {
      path: `spars.${name}.to`,
      sentence: `the ${name} spar ends at ${inMm(spar.to)} and starts at ${inMm(spar.from)}; expected it to end further out; correct one of them`,
    };
}

function* stripFaults(name: SparName, spar: Spar): Faults {
  for (const [i, s] of spar.strips.entries())
    if (past(spar, s))
      yield {
        path: `spars.${name}.strips[${i}]`,
        sentence: `the strip runs from ${inMm(s.from)} to ${inMm(s.to)}, past the ${name} spar, which runs from ${inMm(spar.from)} to ${inMm(spar.to)}; expected it inside; shorten it`,
      };
}

function* webDoublerFaults(name: SparName, spar: Spar): Faults {
  for (const [i, d] of spar.webDoublers.entries())
    if (past(spar, d))
      yield {
        path: `spars.${name}.webDoublers[${i}]`,
        sentence: `the web doubler runs from ${inMm(d.from)} to ${inMm(d.to)}, longer than the ${name} spar from ${inMm(spar.from)} to ${inMm(spar.to)}; expected it inside; shorten it`,
      };
}

/**
 * A cap is less than half as wide as the webs are apart, whichever way it opens. Said of the first station where it
 * is not.
 */
function* capFaults(model: Model, name: SparName, spar: Spar): Faults {
  if (!model.spars.rear) return;
  for (const { id, y } of model.stations) {
    const width = alongAt(spar.capWidth, y);
    const room = alongAt(model.webToWeb, y);
    if (width < room / 2) continue;
    yield {
      path: `spars.${name}.capWidth`,
      sentence: `the ${name} cap is ${inMm(width)} wide at ${id}, where the webs are ${inMm(room)} apart; expected less than half of that; check the unit`,
    };
    return;
  }
}

/** A spar ends further out than it starts, and what lies on it lies on it. */
export function* sparFaults(model: Model): Faults {
  for (const name of ['front', 'rear'] as const) {
    const spar = model.spars[name];
    if (!spar) continue;
    yield* lengthFaults(name, spar);
    yield* stripFaults(name, spar);
    yield* webDoublerFaults(name, spar);
    yield* alongFaults(`spars.${name}.depth`, spar.depth);
    yield* alongFaults(`spars.${name}.capWidth`, spar.capWidth);
    yield* capFaults(model, name, spar);
  }
}
