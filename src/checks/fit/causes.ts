import type { Model } from '../../model/schema.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import type { Finding } from '../finding.ts';
import type { Explanation } from './causes/cause.ts';
import { chordCauses } from './causes/chordCauses.ts';
import { kinkCauses, lineCauses } from './causes/noseCauses.ts';

/*
 * Asks: why is it off? A nose that stands short or proud, a rib loose or tight between the webs: each size in its
 * chain less what the drawing gives it is a part of the deviation, and the parts add up to the whole. Gathered by
 * what one could put right: the nose rib, what lies behind it, the spar's bow, the tip rib, the chord, the
 * neighbours. Beside each its share of the doubt; and for the two that matter most, the one reading that tells them
 * apart.
 */

/**
 * What makes a nose or a chord gap what it is, ranked, with the reading that tells the first two apart; undefined for
 * other checks.
 */
export function causesOf(model: Model, f: Finding): Explanation | undefined {
  const skeleton = skeletonOf(model);
  if (f.check === 'nose-kink') return kinkCauses(skeleton, f);
  if (f.check === 'nose-line') return lineCauses(skeleton, f);
  if (f.check === 'chord-gap') return chordCauses(skeleton, f);
  return undefined;
}
