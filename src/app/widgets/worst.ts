import { severity, type Verdict } from '../../checks/finding.ts';

/** The worst of a list, the first of those that are as bad; undefined of none. */
export function worst<T extends { readonly verdict: Verdict }>(list: readonly T[]): T | undefined {
  const [first, ...rest] = list;
  if (first === undefined) return undefined;
  return rest.reduce((a, b) => (severity(b.verdict) > severity(a.verdict) ? b : a), first);
}
