import { skinStrips } from '../../checks/fit/forcedFit.ts';
import { nosesOf } from '../../checks/fit/noseLine.ts';
import { valueAt } from '../../geometry/line.ts';
import { touchingLine } from '../../geometry/zone.ts';
import { limitFor } from '../../model/limits.ts';
import type { Model } from '../../model/schema.ts';
import type { Skeleton } from '../../parts/layout/layout.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { type Before, type Counted, type Left, leftBy } from '../reach.ts';

/*
 * What a choice at one station does far away, outside the core: how the straight spar rests on all rib ends
 * (seating), and the skin strip over up to fifteen noses (forced fit). Both can only add findings. Asked of every
 * combination that the core holds for good, from the chord gaps and noses alone.
 */

/** Chord gap and nose at one station; undefined where there is none. */
export interface Ends {
  readonly chord: number | undefined;
  readonly nose: number | undefined;
}

/** Asked of the ends at every station, in station order. */
export type FarQuestion = (ends: readonly Ends[]) => Pick<Left, 'beyond' | 'outside'>;

/** How far the straight spar stands off each rib end. */
function seatings(skeleton: Skeleton): (ends: readonly Ends[]) => Counted[] {
  const limits = limitFor(skeleton.model, 'seating');
  const seats = skeleton.bays.flatMap(({ main, index, station }) =>
    main && skeleton.model.spars.rear ? [{ id: `seating:${main.id}`, index, y: station.y }] : [],
  );
  if (seats.length < 2) return () => [];
  const ys = seats.map((s) => s.y);
  return (ends) => {
    const reached = seats.map((s) => ({ ...s, end: -(ends[s.index]?.chord ?? 0) }));
    const rest = touchingLine(
      ys,
      reached.map((s) => s.end),
    );
    return reached.map(
      ({ id, y, end }): Counted => ({ id, check: 'seating', value: Math.max(0, valueAt(rest, y) - end), limits }),
    );
  };
}

/** How hard the skin strip at each nose is bent, as a share of what it bears flat. */
function bentStrips(skeleton: Skeleton): (ends: readonly Ends[]) => Counted[] {
  const limits = limitFor(skeleton.model, 'forced-fit');
  const standing = nosesOf(skeleton, 'straight').map((n) => n.bay.index);
  const strips = skinStrips(skeleton);
  return (ends) => {
    const noseOf = (k: number): number => ends[standing[k] ?? -1]?.nose ?? 0;
    return strips.map((s): Counted => {
      const stress = s.perMm.reduce((sum, perMm, j) => sum + perMm * noseOf(s.from + j), 0);
      return { id: `forced-fit:skin-at-${s.nose.mark}`, check: 'forced-fit', value: stress / s.flat, limits };
    });
  };
}

/** Asks both, for a panel whose ribs may change but not what stands where. */
export function farQuestion(model: Model, before: Before): FarQuestion {
  const skeleton = skeletonOf(model);
  const [seats, strips] = [seatings(skeleton), bentStrips(skeleton)];
  return (ends) => leftBy([...seats(ends), ...strips(ends)], before);
}
