import { alongAt } from '../../along.ts';
import { MOST_OF_DEPTH } from '../../rooms.ts';
import type { Along, Doubler, Model, Rib, Spar, SparName } from '../../schema.ts';
import { endsOf } from './bodies.ts';
import { type Faults, inMm } from './fault.ts';

/* Bends that leave nothing flat: a radius as large as the metal that is bent. */

/** What bends are asked against, looked up once for all parts. */
interface Known {
  readonly sheets: ReadonlyMap<string, number>;
  readonly places: ReadonlyMap<string, number>;
  readonly ribs: ReadonlyMap<string, Rib>;
  readonly model: Model;
}

const leastOf = (along: Along): number =>
  typeof along === 'number' ? along : Math.min(...along.map(([, value]) => value));

function* sparBends({ sheets }: Known, name: SparName, spar: Spar): Faults {
  const path = `spars.${name}.radius`;
  const depth = leastOf(spar.depth);
  const width = leastOf(spar.capWidth);
  if (spar.radius > MOST_OF_DEPTH * depth)
    yield {
      path,
      sentence: `the ${name} spar, ${inMm(depth)} deep, is said to be bent at ${inMm(spar.radius)} inside; expected a quarter of its depth at most; check the unit`,
    };
  else if (spar.radius + (sheets.get(spar.sheet) ?? 0) >= width)
    yield {
      path,
      sentence: `the bend of the ${name} spar at ${inMm(spar.radius)} inside takes the whole of its ${inMm(width)} cap; expected some of it flat; correct one of them`,
    };
}

/** The flanges of a rib that are bent at its radius: name and width. */
function flangesOf(rib: Rib): readonly (readonly [string, number])[] {
  const flange = ['flange', rib.flange] as const;
  return [flange, ...Object.entries(endsOf(rib)).map(([word, end]) => [`${word} end flange`, end.tab] as const)];
}

function* ribBends({ sheets }: Known, rib: Rib, path: string): Faults {
  const taken = rib.radius + (sheets.get(rib.sheet) ?? 0);
  const short = flangesOf(rib).find(([, width]) => taken >= width);
  if (short)
    yield {
      path: `${path}.radius`,
      sentence: `the bend of ${rib.id} at ${inMm(rib.radius)} inside takes the whole of its ${inMm(short[1])} ${short[0]}; expected some of it flat; correct one of them`,
    };
}

function* doublerBends({ sheets, places, ribs, model }: Known, d: Doubler, path: string): Faults {
  const rib = ribs.get(d.part);
  const spar = d.end === 'rear' ? model.spars.rear : model.spars.front;
  if (d.form !== 'channel' || d.radius === undefined || !rib || !spar) return;
  const y = places.get(rib.station);
  const depth = y === undefined ? leastOf(spar.depth) : alongAt(spar.depth, y);
  if (d.radius > MOST_OF_DEPTH * depth)
    yield {
      path: `${path}.radius`,
      sentence: `${d.id} is said to be bent at ${inMm(d.radius)} inside, in a spar ${inMm(depth)} deep; expected a quarter of that depth at most; check the unit`,
    };
  else if (d.leg !== undefined && d.radius + (sheets.get(d.sheet) ?? 0) >= d.leg)
    yield {
      path: `${path}.radius`,
      sentence: `the bend of ${d.id} at ${inMm(d.radius)} inside takes the whole of its ${inMm(d.leg)} leg; expected some of it flat; correct one of them`,
    };
}

/** Every bend leaves some of what is bent flat. */
export function* bendFaults(model: Model): Faults {
  const known: Known = {
    model,
    sheets: new Map(model.sheets.map((s) => [s.id, s.thickness])),
    places: new Map(model.stations.map((s) => [s.id, s.y])),
    ribs: new Map(model.ribs.map((r) => [r.id, r])),
  };
  for (const name of ['front', 'rear'] as const) {
    const spar = model.spars[name];
    if (spar) yield* sparBends(known, name, spar);
  }
  for (const [i, rib] of model.ribs.entries()) yield* ribBends(known, rib, `ribs[${i}]`);
  for (const [i, d] of model.doublers.entries()) yield* doublerBends(known, d, `doublers[${i}]`);
}
