import { best } from '../chains/chain.ts';
import type { Finding } from '../checks/finding.ts';
import type { Rib } from '../model/schema.ts';
import type { Skeleton } from '../parts/layout/layout.ts';

/*
 * Is it this rib that is off? A part that fits is not made again because of one that does not: a rib as drawn between
 * the caps of a spar that came out deep is good metal, and the next one made like it would be no better.
 */

/** How much of a misfit must be a rib's own departure from its drawing before it is made again: picked, no source. */
const SHARE = 0.5;

/** How far a finding lies beyond where it fits, in its own unit and sign; 0 inside. */
function beyondFits({ value, limits }: Finding): number {
  const [low, high] = limits.fits;
  if (high !== null && value > high) return value - high;
  return low !== null && value < low ? value - low : 0;
}

/** What a rib's own sizes add to a finding by lying off their drawing. */
function ownPart({ book }: Skeleton, rib: Rib, { restsOn }: Finding): number {
  return best(
    restsOn.flatMap(({ size, c }) => {
      const entry = book.entryOf(size.key);
      const isOwn = entry?.of.part === rib.id && entry.kind !== 'bias' && entry.kind !== 'gap';
      return isOwn ? [{ c, size: { ...size, best: size.best - (entry.nominal ?? 0) } }] : [];
    }),
  );
}

/**
 * Whether making a rib again, to its drawing, can be the answer to a finding: at least half of what is beyond fits
 * comes of the rib's own departure from its drawing, as all readings together know it. A rib that nobody read is as
 * drawn.
 *
 * @example 0.36 tight where the rib was read 0.30 high and the spar 0.06 shallow: at fault. The other way about: not.
 */
export function isAtFault(skeleton: Skeleton, rib: Rib, finding: Finding): boolean {
  const beyond = beyondFits(finding);
  const own = ownPart(skeleton, rib, finding);
  return beyond !== 0 && Math.sign(own) === Math.sign(beyond) && Math.abs(own) >= SHARE * Math.abs(beyond);
}
