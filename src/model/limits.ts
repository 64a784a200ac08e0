import { once } from '../once.ts';
import type { StartingLimit } from './checkRow.ts';
import { checkRow, checksWhere } from './checkTable.ts';
import type { Model } from './schema.ts';

/** The limit in force for a check. */
export interface Limit extends StartingLimit {
  readonly check: string;
}

/** Starting values chosen by a careful builder. Drawings, local rules and the inspector come first. */
export const STARTING_LIMITS: readonly Limit[] = checksWhere((row) => row.limit !== undefined).flatMap((check) => {
  const { limit } = checkRow(check);
  return limit ? [{ check, ...limit }] : [];
});

/** Limits in force by check, once for each list of the file's own. */
const inForce = once((own: Model['limits']): ReadonlyMap<string, Limit> => {
  const map = new Map(STARTING_LIMITS.map((s) => [s.check, s]));
  for (const o of own) {
    const start = map.get(o.check);
    if (start) map.set(o.check, { ...start, fits: o.fits, act: o.act, origin: `${o.origin}: ${o.reason}` });
  }
  return map;
});

/** The limit in force for a check: the panel file's own where it has one, with its reason, else the starting value. */
export function limitFor(model: Pick<Model, 'limits'>, check: string): Limit {
  const found = inForce(model.limits).get(check);
  if (!found) throw new RangeError(`no limit is known for the check "${check}"`);
  return found;
}
