import type { Model } from '../model/schema.ts';
import { skeletonOf } from '../parts/layout/skeleton.ts';

/**
 * How a rib stands: lean in mm over 100 mm of height, top outboard positive; skew in mm at the rear end, outboard
 * positive.
 */
export interface RibStance {
  readonly station: string;
  readonly lean: number;
  readonly skew: number;
}

/** How the ribs stand by what was read; a rib whose lean or skew was not read is left out where neither was. */
export function ribStances(model: Model): RibStance[] {
  const { book, bays } = skeletonOf(model);
  return bays.flatMap((bay) => {
    const [lean, skew] = [book.find(`lean@${bay.station.id}`), book.find(`skew@${bay.station.id}`)];
    if (!lean && !skew) return [];
    const height =
      book.readingsOf(`lean@${bay.station.id}`).at(-1)?.over ?? bay.main?.front.height ?? bay.tip?.rear.height ?? 100;
    return [{ station: bay.station.id, lean: lean ? (100 * lean.best) / height : 0, skew: skew?.best ?? 0 }];
  });
}

/**
 * How far a hole goes along the span, mm, when its rib is trued from one stance to another. Lean -1.1 over 140 trued,
 * z = 40: 0.31 outboard.
 */
export function shiftOf(
  before: RibStance,
  after: RibStance,
  at: { readonly up: number; readonly end: 'front' | 'rear' },
): number {
  return ((after.lean - before.lean) / 100) * at.up + (at.end === 'rear' ? after.skew - before.skew : 0);
}
