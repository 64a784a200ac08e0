import { alongAt } from '../../along.ts';
import type { Model, Rib, Station } from '../../schema.ts';
import { endsOf } from './bodies.ts';
import { type Faults, inMm } from './fault.ts';
import { knownSlip } from './slips.ts';

/*
 * Numbers of the drawing that were written in another unit than they were taken in: each is held to another that must
 * be about as large. A number alone in a file is millimetres, whatever unit the panel shows first.
 */

/** A number of the drawing and one that says about how large it must be. */
interface Pair {
  readonly path: string;
  readonly what: string;
  readonly value: number;
  readonly expected: number;
}

function* noseOf(station: Station, i: number, rib: Rib | undefined): Generator<Pair> {
  if (rib?.kind === 'nose' && station.nose > 0)
    yield {
      path: `stations[${i}].nose`,
      what: `nose at ${station.id}`,
      value: station.nose,
      expected: rib.length,
    };
}

function* ofRib(model: Model, rib: Rib, path: string, station: Station): Generator<Pair> {
  const { front, rear } = model.spars;
  for (const [word, end] of Object.entries(endsOf(rib))) {
    const spar = word === 'rear' ? rear : front;
    if (!spar || end.ends !== 'nests') continue;
    const what = `height of the ${word} end of ${rib.id}`;
    yield { path: `${path}.${word}.height`, what, value: end.height, expected: alongAt(spar.depth, station.y) };
  }
  if (rib.kind !== 'tip') return;
  const depth = alongAt(front.depth, station.y);
  yield { path: `${path}.height`, what: `height of ${rib.id} at the front spar`, value: rib.height, expected: depth };
  if (rear)
    yield {
      path: `${path}.length`,
      what: `length of ${rib.id}`,
      value: rib.length,
      expected: alongAt(model.webToWeb, station.y) + station.nose,
    };
}

/**
 * How near the ratio of two lengths along the span must come to that of the units; a tenth of a spar may well have no
 * station.
 */
const NEAR_INCHES = 0.06;
const isExchanged = (ratio: number): boolean => [ratio, 1 / ratio].some((r) => Math.abs(r / 25.4 - 1) < NEAR_INCHES);

/** The stations are laid out over about as much as the front spar is long. */
function* spanOf({ stations, spars }: Model): Generator<Pair> {
  const [first, last] = [stations[0], stations.at(-1)];
  if (!first || !last || first === last) return;
  const [value, expected] = [last.y - first.y, spars.front.to - spars.front.from];
  const path = `stations[${stations.length - 1}].y`;
  if (isExchanged(value / expected)) yield { path, what: `way from ${first.id} to ${last.id}`, value, expected };
}

function* pairsOf(model: Model): Generator<Pair> {
  const noses = new Map(model.ribs.filter((r) => r.kind === 'nose').map((r) => [r.station, r]));
  const stations = new Map(model.stations.map((s) => [s.id, s]));
  for (const [i, s] of model.stations.entries()) yield* noseOf(s, i, noses.get(s.id));
  for (const [i, rib] of model.ribs.entries()) {
    const station = stations.get(rib.station);
    if (station) yield* ofRib(model, rib, `ribs[${i}]`, station);
  }
  yield* spanOf(model);
}

/** A number that is 25.4 times what it must be, or a 25.4th of it; a slipped point too. */
export function* exchangedFaults(model: Model): Faults {
  for (const { path, what, value, expected } of pairsOf(model)) {
    const slip = knownSlip(value, expected);
    if (slip)
      yield {
        path,
        sentence: `the ${what} is ${inMm(value)} where about ${inMm(expected)} is expected: ${slip}; correct the number or its unit`,
      };
  }
}
