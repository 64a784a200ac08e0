import { show } from '../checks/describe.ts';
import type { RibPlace, Skeleton } from '../parts/layout/layout.ts';

/*
 * Asks: how far up or down is a rib end to be held, before any shim? What is gained at the top cap is lost at the
 * bottom one, in daylight and in step alike, and both caps have the same limits: the worse of the two is least in the
 * middle. So the one number is how far the end stands off the middle, the other way.
 */

/**
 * How far a rib end is to be moved between its caps, mm, up positive, for daylight and skin step to be best;
 * undefined where nobody read how it is held, and it is simply held in the middle.
 *
 * @example read 0.35 above the middle: -0.35, that is 0.35 mm lower than it stands
 */
export function moveToHold(skeleton: Skeleton, place: RibPlace): number | undefined {
  const bias = skeleton.book.find(`${place.key}.bias`);
  return bias === undefined ? undefined : -bias.best;
}

/** Less than this, mm, is held well enough: picked, no source. */
const WELL = 0.05;

/** The same for a card: `0.35 mm lower than it stands`; undefined where it is held well. */
export function holdWords(skeleton: Skeleton, place: RibPlace): string | undefined {
  const by = moveToHold(skeleton, place);
  if (by === undefined || Math.abs(by) < WELL) return undefined;
  return `${show(skeleton.model, Math.abs(by))} ${by < 0 ? 'lower' : 'higher'} than it stands`;
}
