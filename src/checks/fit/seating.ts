import { best, type Chain, combine } from '../../chains/chain.ts';
import { leastSquaresLine, valueAt } from '../../geometry/line.ts';
import { touchingLine } from '../../geometry/zone.ts';
import { limitFor } from '../../model/limits.ts';
import type { MainRib } from '../../model/schema.ts';
import type { Bay, Skeleton } from '../../parts/layout/layout.ts';
import { chordGapChain, type Hold } from '../../parts/layout/meeting.ts';
import { NEAR } from '../../units/near.ts';
import { sentence, show } from '../describe.ts';
import { type Finding, judge } from '../finding.ts';

/*
 * Asks: laid on the rib ends, which ribs hold the front spar off, and how far would clamping pull it to the others?
 * The rib ends are points u = -k along the span (forward positive, from the drawing's web line). Resting, the straight
 * spar touches the longest ribs with the least total gap: a linear program in two unknowns, solved on the hull.
 */

interface Seat {
  readonly bay: Bay;
  readonly main: MainRib;
  readonly k: Chain;
}

/** How the spar lies on the rib ends: daylight at each main rib, mm, in station order. */
export interface Seating {
  readonly stations: readonly string[];
  /** With the spar at its drawing line, bow included: k as bowed. */
  readonly asBowed: readonly number[];
  /** Held straight along the least-squares line of the rib ends; negative where the rib pushes past it. */
  readonly heldStraight: readonly number[];
  /** Straight and resting on the longest ribs; zero where it touches. */
  readonly resting: readonly number[];
  /** Places in `stations` that the resting spar touches. */
  readonly touching: readonly number[];
}

function seatsOf(skeleton: Skeleton, hold: Hold): Seat[] {
  const seats: Seat[] = [];
  for (const bay of skeleton.bays)
    if (bay.main) seats.push({ bay, main: bay.main, k: chordGapChain(skeleton, bay, bay.main, hold) });
  return seats;
}

/** The three ways the front spar can lie on the main ribs of a two-spar panel; undefined with fewer than two main ribs. */
export function seatingOf(skeleton: Skeleton): Seating | undefined {
  const seats = skeleton.model.spars.rear ? seatsOf(skeleton, 'straight') : [];
  if (seats.length < 2) return undefined;
  const ys = seats.map((s) => s.bay.station.y);
  const ends = seats.map((s) => -best(s.k));
  const fitted = leastSquaresLine(ys, ends);
  const rest = touchingLine(ys, ends);
  const resting = ys.map((y, i) => Math.max(0, valueAt(rest, y) - ends[i]!));
  const reach = Math.max(NEAR, ...ends.map(Math.abs)) * NEAR;
  return {
    stations: seats.map((s) => s.bay.station.id),
    asBowed: seatsOf(skeleton, 'bowed').map((s) => best(s.k)),
    heldStraight: ys.map((y, i) => valueAt(fitted, y) - ends[i]!),
    resting,
    touching: resting.flatMap((g, i) => (g <= reach ? [i] : [])),
  };
}

export function* seating(skeleton: Skeleton): Generator<Finding> {
  const lie = seatingOf(skeleton);
  if (!lie) return;
  const { model } = skeleton;
  const seats = seatsOf(skeleton, 'straight');
  const first = seats[lie.touching[0]!]!;
  const last = seats[lie.touching[lie.touching.length - 1]!]!;
  const [y0, y1] = [first.bay.station.y, last.bay.station.y];
  const props = lie.touching.map((i) => seats[i]!.main.id).join(' and ');
  for (const [i, seat] of seats.entries()) {
    const touches = lie.touching.includes(i);
    const t = y1 === y0 ? 0 : (seat.bay.station.y - y0) / (y1 - y0);
    const restsOn = touches ? [] : combine([1, seat.k], [-(1 - t), first.k], [-t, last.k]);
    yield judge({
      check: 'seating',
      at: { station: seat.bay.station.id, part: seat.main.id, end: 'front', spar: 'front' },
      place: seat.main.id,
      restsOn,
      value: lie.resting[i]!,
      limit: limitFor(model, 'seating'),
      floor: 0,
      sense: (v) => (touches ? 'holds the spar off' : v > 0 ? 'daylight' : 'touches'),
      say: (j) =>
        touches
          ? sentence(model, j, `${seat.main.id} touches: the straight front spar rests on ${props}`)
          : sentence(
              model,
              j,
              `${seat.main.id} stands ${show(model, j.value)} clear of the straight front spar resting on ${props}`,
              {
                todo: 'Clamping here bends the spar by that much, and its nose follows.',
              },
            ),
    });
  }
}
