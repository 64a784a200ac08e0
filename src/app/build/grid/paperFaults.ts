import { type Finding, severity } from '../../../checks/finding.ts';
import { onPaper } from '../../../drilling/onPaper.ts';
import type { Model } from '../../../model/schema.ts';

/** Findings of the drawing alone that do not fit, the worst by the key of each size they rest on. */
export function paperFaults(model: Model): ReadonlyMap<string, Finding> {
  const worst = new Map<string, Finding>();
  for (const f of onPaper(model)) {
    if (f.verdict === 'fits') continue;
    for (const { size } of f.restsOn) {
      const had = worst.get(size.key);
      if (!had || severity(f.verdict) > severity(had.verdict)) worst.set(size.key, f);
    }
  }
  return worst;
}
