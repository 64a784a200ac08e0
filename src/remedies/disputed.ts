import { checkAll } from '../checks/checkAll.ts';
import type { Finding } from '../checks/finding.ts';
import { keptWhole } from '../model/rested.ts';
import type { Model } from '../model/schema.ts';
import { sizeBook } from '../model/sizes.ts';

/*
 * Where readings disagree, one of them is wrong: it is measured again before any metal is cut for it.
 */

/**
 * Keys of the sizes that some readings disagree about, beyond the limit. Of a felt gap that its parts contradict, all
 * its parts but the sheets: one of them may be the wrong one.
 */
const disputedSizes = keptWhole((model): ReadonlySet<string> => {
  const { entries } = sizeBook(model);
  const ofAStation = (key: string): boolean => entries.get(key)?.station !== undefined;
  const keys = checkAll(model)
    .filter((f) => f.check === 'disagreement' && f.verdict === 'act')
    .flatMap(({ at, restsOn }) => [at.size, ...restsOn.map((t) => t.size.key).filter(ofAStation)]);
  return new Set(keys.filter((key) => key !== undefined));
});

/** Whether a finding rests on a size that readings disagree about. */
export function isDisputed(model: Model, f: Finding): boolean {
  const sizes = disputedSizes(model);
  return sizes.size > 0 && f.restsOn.some((t) => sizes.has(t.size.key));
}
