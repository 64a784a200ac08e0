import { formatLength } from '../../units.ts';
import { rowRoom, thicknessOf } from '../edits/jointsLaid.ts';
import { flangesPoint } from '../hand.ts';
import { ribEndAt } from '../ribEnd.ts';
import type { Joint, Model, Rib } from '../schema.ts';
import type { Doubt } from './doubts.ts';

/*
 * What a laid panel's rows have round them: two rivet diameters to every real edge (TM 10-5410-229-13&P 5-6(3)(b)),
 * and a head of two diameters (common practice) clear of the bends. Where a row cannot have it, its question says so.
 */

/** Room that is less than the row wants, as a doubt; none where it has it. */
function* less(model: Model, id: string, has: number, wants: number, where: string): Generator<Doubt> {
  const text = (mm: number): string => formatLength(Math.max(0, mm), model.units);
  if (has < wants - 1e-9)
    yield {
      id,
      sentence: `${where} has ${text(has)}, and this rivet wants ${text(wants)}; take a smaller rivet or make room.`,
    };
}

/** How far the row on a rib end lies from the end of the spar it is on. */
function toSparEnd(model: Model, joint: Joint, rib: Rib, row: number): number {
  const spar = model.spars[joint.end];
  const station = model.stations.find((s) => s.id === joint.station);
  if (!spar || !station) return Number.POSITIVE_INFINITY;
  const y = station.y + flangesPoint(model, rib, station.y) * row;
  return Math.min(y - spar.from, spar.to - y);
}

function* ribDoubts(model: Model, joint: Joint, rib: Rib): Generator<Doubt> {
  const d = joint.rivet.diameter;
  const { row } = ribEndAt(rib, joint.end);
  const flat = row - thicknessOf(model, rib.id) - rib.radius;
  yield* less(model, 'row', flat, d, `Between the row and the bend of ${rib.id} the rivet's head`);
  yield* less(model, 'row', toSparEnd(model, joint, rib, row), 2 * d, `From the row on ${rib.id} to the spar's end it`);
}

function* jointDoubts(model: Model, joint: Joint): Generator<Doubt> {
  const highest = Math.max(0, ...joint.holes.map((h) => Math.abs(h.up)));
  const above = rowRoom(model, joint.layers, joint.end) / 2 - highest;
  yield* less(model, 'rivet', above, 2 * joint.rivet.diameter, `Above the row ${joint.id} the flat of its parts`);
  for (const rib of model.ribs) if (joint.layers.includes(rib.id)) yield* ribDoubts(model, joint, rib);
}

/** What keeps the rows of a laid panel from having room, one doubt a question. */
export function rowRoomDoubts(model: Model): Doubt[] {
  const all = model.joints.flatMap((j) => [...jointDoubts(model, j)]);
  return all.filter((doubt, i) => all.findIndex((other) => other.id === doubt.id) === i);
}
