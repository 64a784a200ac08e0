import { best, type Chain } from '../../chains/chain.ts';
import { BLOCK, Sampler } from '../../chains/sampling.ts';
import { isFlat } from '../../chains/size.ts';
import { errorCausesOf } from '../../chains/update.ts';
import { type Draws, restingGaps } from '../../geometry/restingGaps.ts';
import type { Band } from '../../model/checkRow.ts';
import { NEAR } from '../../units/near.ts';
import type { Spread } from '../finding.ts';

/*
 * How far may a rib really stand from the spar that rests on all of them? Which ribs it touches hangs on all of their
 * ends at once: a rib that touches as the best values have it may not touch when its neighbour is a little longer. So
 * all ends are drawn together, five hundred times, with what they share; a chance found so is good to about two in a
 * hundred.
 */

/** Where the ribs' ends lie, and what that rests on. */
export interface Seats {
  /** Stations, mm along the span, rising. */
  readonly ys: readonly number[];
  /** The ribs, by name. */
  readonly names: readonly string[];
  /** Daylight under the drawing's web line at each rib, mm. */
  readonly ends: readonly Chain[];
}

/** Causes of doubt by name, each with what it does to every end, mm for one standard deviation. */
interface Cause {
  readonly flat: boolean;
  readonly does: Map<number, number>;
}

function causesIn(ends: readonly Chain[]): ReadonlyMap<string, Cause> {
  const causes = new Map<string, Cause>();
  for (const [seat, chain] of ends.entries()) {
    for (const { c, size } of chain) {
      for (const { source, u } of errorCausesOf(size)) {
        const flat = source === `own ${size.key}` && isFlat(size);
        const cause = causes.get(source) ?? { flat, does: new Map<number, number>() };
        causes.set(source, cause);
        cause.does.set(seat, (cause.does.get(seat) ?? 0) + c * u);
      }
    }
  }
  return causes;
}

/**
 * The causes to draw, in the order of their names so that no list's order matters; normal ones that move one end
 * alone are one.
 */
function drawnCauses({ ends, names }: Seats): readonly Cause[] {
  const causes = new Map<string, Cause>();
  for (const [source, cause] of causesIn(ends)) {
    const [only] = cause.does;
    if (cause.flat || cause.does.size !== 1 || !only) {
      causes.set(source, cause);
      continue;
    }
    const [seat, mm] = only;
    const alone = `alone ${names[seat]}`;
    const had = causes.get(alone)?.does.get(seat) ?? 0;
    causes.set(alone, { flat: false, does: new Map([[seat, Math.hypot(had, mm)]]) });
  }
  return [...causes].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, cause]) => cause);
}

/** Every end, drawn together: where the ribs' ends lie forward of the web line, mm. */
function drawnEnds(seats: Seats): Draws {
  const { ends } = seats;
  const causes = drawnCauses(seats);
  const rectangular = Uint8Array.from(causes, (c) => (c.flat ? 1 : 0));
  const draws = new Float64Array(causes.length * BLOCK);
  new Sampler({ count: causes.length, rectangular }, { seed: 1 }).fill(draws, 0, 0, BLOCK);
  const values = new Float64Array(ends.length * BLOCK);
  for (const [seat, chain] of ends.entries()) values.fill(-best(chain), seat * BLOCK, (seat + 1) * BLOCK);
  for (const [k, { does }] of causes.entries()) {
    for (const [seat, mm] of does) {
      for (let i = 0; i < BLOCK; i++) {
        const at = seat * BLOCK + i;
        values[at] = (values[at] ?? 0) - mm * (draws[k * BLOCK + i] ?? 0);
      }
    }
  }
  return { values, stride: BLOCK };
}

/** Shares of a normal distribution under 2 standard deviations below and above. */
const TAIL = 0.02275;

/**
 * How each rib's daylight is spread, in station order; `found` is the daylight of the best values, mm, `act` what is
 * beyond it.
 */
export function seatSpreads(seats: Seats, found: readonly number[], [least, most]: Band): readonly Spread[] {
  const isBeyond = (g: number): boolean => (least !== null && g < least - NEAR) || (most !== null && g > most + NEAR);
  const gaps: Draws = { values: new Float64Array(seats.ys.length * BLOCK), stride: BLOCK };
  const ends = drawnEnds(seats);
  const corners = new Int32Array(seats.ys.length + 1);
  for (let i = 0; i < BLOCK; i++) restingGaps(gaps, ends, seats.ys, i, corners);
  const tail = Math.floor(TAIL * BLOCK);
  return found.map((at, seat) => {
    const own = gaps.values.subarray(seat * BLOCK, (seat + 1) * BLOCK).sort();
    const beyond = own.reduce((n, g) => n + (isBeyond(g) ? 1 : 0), 0);
    return {
      low: Math.min(at, own[tail] ?? at),
      high: Math.max(at, own[BLOCK - 1 - tail] ?? at),
      chance: beyond / BLOCK,
    };
  });
}
