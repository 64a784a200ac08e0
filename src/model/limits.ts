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

const byCheck = new WeakMap<Model, Map<string, Limit>>();

/** The limit in force for a check: the panel file's own where it has one, with its reason, else the starting value. */
export function limitFor(model: Model, check: string): Limit {
  let map = byCheck.get(model);
  if (!map) {
    map = new Map(STARTING_LIMITS.map((s) => [s.check, s]));
    for (const own of model.limits) {
      const start = map.get(own.check);
      if (start) map.set(own.check, { ...start, fits: own.fits, act: own.act, origin: `${own.origin}: ${own.reason}` });
    }
    byCheck.set(model, map);
  }
  const found = map.get(check);
  if (!found) throw new RangeError(`no limit is known for the check "${check}"`);
  return found;
}
