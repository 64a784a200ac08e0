import { skinStrips } from '../../checks/fit/forcedFit.ts';
import { nosesOf } from '../../checks/fit/noseLine.ts';
import { valueAt } from '../../geometry/line.ts';
import { touchingLine } from '../../geometry/zone.ts';
import { limitFor } from '../../model/limits.ts';
import type { Model } from '../../model/schema.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { type Before, counts, type Level, levelOf, reachOf } from '../reach.ts';

/*
 * What a choice at one station does far away, outside the core: how the straight spar rests on all rib ends (seating), and
 * the skin strip over up to fifteen noses (forced fit). Both can only add findings. Asked of every combination that the
 * core holds for good, from the chord gaps and noses alone.
 */

export interface Far {
  readonly beyond: number;
  readonly outside: number;
}

/** Chord gap and nose by station, in station order; undefined where there is none. */
export type FarQuestion = (chords: readonly (number | undefined)[], noses: readonly (number | undefined)[]) => Far;

/** Asks both, for a panel whose ribs may change but not what stands where. */
export function farQuestion(model: Model, before: Before): FarQuestion {
  const skeleton = skeletonOf(model);
  const seats = model.spars.rear ? skeleton.bays.filter((b) => b.main) : [];
  const [seatLimit, forcedLimit] = [limitFor(model, 'seating'), limitFor(model, 'forced-fit')];
  const standing = nosesOf(skeleton, 'straight').map((n) => n.bay.index);
  const strips = skinStrips(skeleton);
  const ys = seats.map((b) => b.station.y);
  return (chords, noses) => {
    let [beyond, outside] = [0, 0];
    const take = (id: string, value: number, limit: typeof seatLimit): void => {
      const reach = reachOf(value, limit);
      const l: Level = counts(id, reach, before) ? levelOf(reach) : 0;
      if (l === 2) beyond++;
      else if (l === 1) outside++;
    };
    if (seats.length > 1) {
      const ends = seats.map((b) => -(chords[b.index] ?? 0));
      const rest = touchingLine(ys, ends);
      seats.forEach((b, i) => take(`seating:${b.main!.id}`, Math.max(0, valueAt(rest, ys[i]!) - ends[i]!), seatLimit));
    }
    for (const s of strips) {
      const stress = s.perMm.reduce((sum, m, j) => sum + m * (noses[standing[s.from + j]!] ?? 0), 0);
      take(`forced-fit:skin-at-${s.nose.mark}`, stress / s.flat, forcedLimit);
    }
    return { beyond, outside };
  };
}
