import { best, type Chain, combine } from '../../chains/chain.ts';
import { leastSquaresLine, valueAt } from '../../geometry/line.ts';
import { touchingLine } from '../../geometry/zone.ts';
import { limitFor } from '../../model/limits.ts';
import type { MainRib, Model } from '../../model/schema.ts';
import type { Bay, Skeleton } from '../../parts/layout/layout.ts';
import { chordGapChain, type Hold } from '../../parts/layout/meeting.ts';
import { NEAR } from '../../units/near.ts';
import { sentence, show } from '../describe.ts';
import { type Finding, type Judged, judge, type Said } from '../finding.ts';
import { seatSpreads } from './seatDoubt.ts';

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

/**
 * The three ways the front spar can lie on the main ribs of a two-spar panel; undefined with fewer than two main
 * ribs.
 */
export function seatingOf(skeleton: Skeleton): Seating | undefined {
  const seats = skeleton.model.spars.rear ? seatsOf(skeleton, 'straight') : [];
  if (seats.length < 2) return undefined;
  const ys = seats.map((s) => s.bay.station.y);
  const ends = seats.map((s) => -best(s.k));
  const fitted = leastSquaresLine(ys, ends);
  const rest = touchingLine(ys, ends);
  const resting = ys.map((y, i) => Math.max(0, valueAt(rest, y) - (ends[i] ?? 0)));
  const reach = Math.max(NEAR, ...ends.map(Math.abs)) * NEAR;
  return {
    stations: seats.map((s) => s.bay.station.id),
    asBowed: seatsOf(skeleton, 'bowed').map((s) => best(s.k)),
    heldStraight: ys.map((y, i) => valueAt(fitted, y) - (ends[i] ?? 0)),
    resting,
    touching: resting.flatMap((g, i) => (g <= reach ? [i] : [])),
  };
}

/**
 * What a rib's daylight rests on: its own end against the line through the two others that the spar rests on, or
 * would without it.
 */
function restsOnOf(seats: readonly Seat[], at: number): Chain {
  const own = seats[at];
  const others = seats.filter((_, i) => i !== at);
  if (!own || others.length < 2) return [];
  const rest = touchingLine(
    others.map((s) => s.bay.station.y),
    others.map((s) => -best(s.k)),
  );
  const [a, b] = rest.rests.map((i) => others[i]);
  if (!a || !b) return own.k;
  const share = (own.bay.station.y - a.bay.station.y) / (b.bay.station.y - a.bay.station.y);
  return combine([1, own.k], [share - 1, a.k], [-share, b.k]);
}

/** `between 0.00 mm and 0.93 mm`: how far from the spar a rib may really stand. */
const between = (model: Model, j: Judged): string => `between ${show(model, j.low)} and ${show(model, j.high)}`;

const FEEL_ALL = 'Or feel the end gap of every rib between the webs: which of them the spar rests on decides it.';

/** What the seat rests on, in words. */
interface Rest {
  readonly touches: boolean;
  /** The ribs that hold the spar off. */
  readonly props: string;
  /** What settles it that is not done yet. */
  readonly settle: string | undefined;
}

function seatSaid(model: Model, j: Judged, id: string, { touches, props, settle }: Rest): Said {
  const range = j.u > 0 ? between(model, j) : undefined;
  if (touches) {
    const phrase = `${id} touches: the straight front spar rests on ${props}`;
    return sentence(model, j, phrase, { range: range && `really ${range} off`, settle });
  }
  const phrase = `${id} stands ${show(model, j.value)} clear of the straight front spar resting on ${props}`;
  return sentence(model, j, phrase, {
    range,
    settle,
    todo: 'Clamping here bends the spar by that much, and its nose follows.',
  });
}

export function* seating(skeleton: Skeleton): Generator<Finding> {
  const lie = seatingOf(skeleton);
  if (!lie) return;
  const { model } = skeleton;
  const seats = seatsOf(skeleton, 'straight');
  const limit = limitFor(model, 'seating');
  const ends = {
    ys: seats.map((s) => s.bay.station.y),
    names: seats.map((s) => s.main.id),
    ends: seats.map((s) => s.k),
  };
  const spreads = seatSpreads(ends, lie.resting, limit.act);
  const touching = new Set(lie.touching);
  const touched = seats.filter((_, i) => touching.has(i)).map((s) => s.main.id);
  const felt = seats.every((s) => skeleton.book.readingsOf(`chord.${s.main.id}`).length > 0);
  const settle = felt ? undefined : FEEL_ALL;
  const props = touched.length === seats.length ? 'all ribs alike' : touched.join(' and ');
  for (const [i, { bay, main }] of seats.entries()) {
    const touches = touching.has(i);
    yield judge({
      check: 'seating',
      at: { station: bay.station.id, part: main.id, end: 'front', spar: 'front' },
      place: main.id,
      restsOn: restsOnOf(seats, i),
      value: lie.resting[i] ?? 0,
      spread: spreads[i],
      limit,
      floor: 0,
      sense: (v) => (touches ? 'holds the spar off' : daylightWord(v)),
      say: (j) => seatSaid(model, j, main.id, { touches, props, settle }),
    });
  }
}

const daylightWord = (v: number): string => (v > 0 ? 'daylight' : 'touches');
