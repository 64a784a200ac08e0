import type { Finding } from '../../checks/finding.ts';
import { groupsOf } from '../../checks/questions.ts';
import { type Block, words } from '../paper/flow.ts';

/** What is not right, a paragraph for each kind: its worst in full, then the other places that share it. */
export function notRight(findings: readonly Finding[]): Block[] {
  return groupsOf(findings).map(({ worst, all }) => {
    const others = all.slice(1).map((f) => f.place);
    return words(others.length > 0 ? `${worst.sentence} Also: ${others.join(', ')}.` : worst.sentence);
  });
}
