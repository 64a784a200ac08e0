import { type Limit, limitFor, STARTING_LIMITS } from '../limits.ts';
import type { LimitEntry, Model } from '../schema.ts';
import type { Edit } from './edits.ts';

/*
 * Limits: starting values of a careful builder, each with where it comes from; changed only with who says so and why.
 */

/** A limit as it stands, and whether it is the panel's own. */
export interface ShownLimit {
  readonly limit: Limit;
  readonly start: Limit;
  readonly own: LimitEntry | undefined;
}

export function shownLimits(model: Model): ShownLimit[] {
  return STARTING_LIMITS.map((start) => ({
    start,
    limit: limitFor(model, start.check),
    own: model.limits.find((l) => l.check === start.check),
  }));
}

/**
 * Puts a limit of the panel's own in place of the starting one. A reason is asked for; the words stand on every sheet
 * that uses it.
 */
export function setLimit(entry: LimitEntry): Edit {
  return {
    name: `changed the limit of ${entry.check}`,
    apply: (m) => ({ ...m, limits: [...m.limits.filter((l) => l.check !== entry.check), entry] }),
  };
}

/** Lets the starting value hold again. */
export function dropLimit(check: string): Edit {
  return {
    name: `took the starting limit of ${check} back`,
    apply: (m) => ({ ...m, limits: m.limits.filter((l) => l.check !== check) }),
  };
}

export const BOUNDS = ['act under', 'fits above', 'fits up to', 'act beyond'] as const;

/** The four thresholds of a limit in the order they lie: act, fits, fits, act; null where a side has none. */
export const thresholds = (l: Pick<Limit, 'fits' | 'act'>): readonly (number | null)[] => [
  l.act[0],
  l.fits[0],
  l.fits[1],
  l.act[1],
];

/** Reads four thresholds back; a sentence where they do not lie in order. */
export function bandsFrom(
  values: readonly (number | null)[],
):
  | { readonly ok: true; readonly fits: [number | null, number | null]; readonly act: [number | null, number | null] }
  | { readonly ok: false; readonly sentence: string } {
  const [a0 = null, f0 = null, f1 = null, a1 = null] = values;
  const given = [a0, f0, f1, a1].filter((v) => v !== null);
  if (given.some((v, i) => v < (given[i - 1] ?? -Infinity)))
    return {
      ok: false,
      sentence: 'The four must rise from left to right: act under, fits above, fits up to, act beyond.',
    };
  if ((a0 !== null && f0 === null) || (a1 !== null && f1 === null))
    return { ok: false, sentence: 'A side that has an act threshold needs a fits threshold too.' };
  return { ok: true, fits: [f0, f1], act: [a0, a1] };
}
