import { nacaDigits } from '../../../geometry/airfoil.ts';
import { alongAt } from '../../along.ts';
import type { Model, Rib } from '../../schema.ts';
import { type Faults, inMm, someOf } from './fault.ts';
import { ribEndFaults } from './ribEnds.ts';
import { doubtful } from './slips.ts';

/** A rib, the path to it, and where along the span it stands; no place where its station is not in the list. */
interface Seen {
  readonly model: Model;
  readonly rib: Rib;
  readonly path: string;
  readonly y: number | undefined;
}

/** How far a rib may stand off the spar's end, mm; a tip rib by its flange more. */
const PAST_END = 5;

function* placeFaults({ model, rib, path, y }: Seen): Faults {
  if (y === undefined) {
    yield {
      path: `${path}.station`,
      sentence: `${rib.id} stands at station "${rib.station}", which is not in the list; expected one of ${someOf([...new Set(model.stations.map((s) => s.id))])}; correct it or add the station`,
    };
    return;
  }
  const spar = model.spars.front;
  const past = (rib.kind === 'tip' ? rib.flange : 0) + PAST_END;
  if (y < spar.from - past || y > spar.to + past)
    yield {
      path: `${path}.station`,
      sentence: `${rib.id} at ${rib.station} stands at ${inMm(y)}, off the end of the front spar, which runs from ${inMm(spar.from)} to ${inMm(spar.to)}; expected a place on the spar; move the rib or lengthen the spar`,
    };
}

/** One rib of a kind at a station. */
function* twinFaults({ rib, path }: Seen, taken: Map<string, string>): Faults {
  const spot = `${rib.station}/${rib.kind}`;
  const other = taken.get(spot);
  if (other)
    yield {
      path: `${path}.station`,
      sentence: `${rib.id} and ${other} are both ${rib.kind} ribs at ${rib.station}; expected one; move one of them`,
    };
  taken.set(spot, rib.id);
}

function* endFaults({ model, rib, path, y }: Seen): Faults {
  if (rib.kind === 'main') yield* ribEndFaults({ model, rib, y, name: 'front', end: rib.front, path: `${path}.front` });
  if (rib.kind === 'nose') yield* ribEndFaults({ model, rib, y, name: 'tail', end: rib.tail, path: `${path}.tail` });
  else yield* ribEndFaults({ model, rib, y, name: 'rear', end: rib.rear, path: `${path}.rear` });
}

/** What holds a tip rib must be there. */
function* registeredFaults({ model, rib, path }: Seen): Faults {
  if (rib.kind !== 'tip') return;
  if (rib.registered === 'front' && !rib.clip)
    yield {
      path: `${path}.clip`,
      sentence: `${rib.id} is registered on the front spar but no clip is given; expected "clip" with the hole's place; add it or say "rear"`,
    };
  if (rib.registered === 'rear' && !model.spars.rear)
    yield {
      path: `${path}.registered`,
      sentence: `${rib.id} is registered on the rear spar, and the panel has none; expected "front" with a clip; change it`,
    };
}

/** A main rib is about as long as the webs are apart. */
function* lengthFaults({ model, rib, path, y }: Seen): Faults {
  if (rib.kind !== 'main' || y === undefined || !model.spars.rear) return;
  const expected = alongAt(model.webToWeb, y);
  const doubt = doubtful(rib.length, expected);
  if (doubt)
    yield {
      path: `${path}.length`,
      sentence: `the length of ${rib.id} is ${inMm(rib.length)} where about ${inMm(expected)} is expected: ${doubt}; correct the number or its unit`,
    };
}

function* fluteFaults({ rib, path }: Seen): Faults {
  if (!rib.flutes) return;
  const { each, width, depth } = rib.flutes;
  if (each * width > 0.8 * rib.length)
    yield {
      path: `${path}.flutes`,
      sentence: `${each} flutes of ${inMm(width)} do not fit along ${rib.id}, which is ${inMm(rib.length)} long; expected four fifths of its length at most; take fewer or narrower ones`,
    };
  if (depth > rib.flange / 2)
    yield {
      path: `${path}.flutes.depth`,
      sentence: `flutes ${inMm(depth)} deep in the ${inMm(rib.flange)} flange of ${rib.id}; expected half the flange at most; press them less deep`,
    };
}

/** A section known by its digits is one there is. */
function* sectionFaults({ rib, path }: Seen): Faults {
  const shapes = {
    profile: rib.kind === 'main' ? undefined : rib.profile,
    contour: rib.kind === 'nose' ? undefined : rib.contour,
  };
  for (const [key, shape] of Object.entries(shapes))
    if (shape?.kind === 'naca4' && nacaDigits(shape.name) === undefined)
      yield {
        path: `${path}.${key}`,
        sentence: `${shape.name} names no section for ${rib.id}; expected four digits, the last two its thickness; write one such as 0012`,
      };
}

/** A section must reach from ahead of the front spar past the rib's rear end. */
function* contourFaults({ model, rib, path, y }: Seen): Faults {
  if (rib.kind === 'nose' || !rib.contour || y === undefined) return;
  const ahead = model.stations.find((s) => s.id === rib.station)?.nose ?? 0;
  const back = ahead + (rib.kind === 'main' ? rib.length : alongAt(model.webToWeb, y));
  if (rib.contour.chord < back)
    yield {
      path: `${path}.contour.chord`,
      sentence: `the section of ${rib.id} is ${inMm(rib.contour.chord)} long, and the rib ends ${inMm(back)} behind its nose; expected a chord that reaches past the rear spar; give the whole chord, or leave the contour out for a straight rib`,
    };
}

/** Lightening and sight holes lie inside the rib. */
function* lighteningFaults({ rib, path }: Seen): Faults {
  for (const [k, h] of rib.holes.entries())
    if (h.fromFront - h.diameter / 2 < 0 || h.fromFront + h.diameter / 2 > rib.length)
      yield {
        path: `${path}.holes[${k}]`,
        sentence: `the ${h.kind} hole at ${inMm(h.fromFront)} with ${inMm(h.diameter)} runs off ${rib.id}, which is ${inMm(rib.length)} long; expected it inside; move it`,
      };
}

/** Ribs stand on the spars, one of a kind at a station, with ends, sections and holes that can be. */
export function* ribFaults(model: Model): Faults {
  const places = new Map(model.stations.map((s) => [s.id, s.y]));
  const taken = new Map<string, string>();
  for (const [i, rib] of model.ribs.entries()) {
    const seen: Seen = { model, rib, path: `ribs[${i}]`, y: places.get(rib.station) };
    yield* placeFaults(seen);
    yield* twinFaults(seen, taken);
    yield* endFaults(seen);
    yield* registeredFaults(seen);
    yield* lengthFaults(seen);
    yield* fluteFaults(seen);
    yield* sectionFaults(seen);
    yield* contourFaults(seen);
    yield* lighteningFaults(seen);
  }
}
