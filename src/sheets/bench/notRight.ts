import { placesByBasis, sentenceWithBasis } from '../../checks/basis.ts';
import type { Finding } from '../../checks/finding.ts';
import { groupsOf } from '../../checks/questions.ts';
import type { Skeleton } from '../../parts/layout/layout.ts';
import { type Block, words } from '../paper/flow.ts';

/**
 * What is not right, a paragraph for each kind: its worst in full, then the other places that share it, each with
 * what it rests on.
 */
export function notRight(skeleton: Skeleton, findings: readonly Finding[]): Block[] {
  return groupsOf(findings).map(({ worst, all }) => {
    const others = all.slice(1);
    const said = sentenceWithBasis(skeleton, worst);
    return words(others.length > 0 ? `${said} Also: ${placesByBasis(skeleton, others)}.` : said);
  });
}
