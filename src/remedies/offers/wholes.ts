import { checkAll } from '../../checks/checkAll.ts';
import { applyEdit } from '../../model/edits/edits.ts';
import type { Model } from '../../model/schema.ts';
import { counts, drawnOnly, levelOf, reachOf } from '../reach.ts';
import type { Remedy } from '../remedy.ts';
import { packRemedy } from './offers.ts';
import { pullStraight } from './placing.ts';

/*
 * What may be done to the whole panel that joins with nothing else: the jig packed, a bowed spar pulled straight. Twist and
 * bow are all they move, and nothing done to a rib moves those.
 */

/** One of them, with what it leaves of twist and bow. */
export interface Whole {
  readonly remedies: readonly Remedy[];
  readonly beyond: number;
  readonly outside: number;
  readonly off: number;
}

export const WHOLE_CHECKS: ReadonlySet<string> = new Set(['twist', 'twist-step', 'bow']);

function wholeOf(model: Model, after: Model, remedies: readonly Remedy[]): Whole {
  const before = drawnOnly(model);
  let [beyond, outside, off] = [0, 0, 0];
  for (const f of checkAll(after)) {
    if (!WHOLE_CHECKS.has(f.check)) continue;
    const reach = reachOf(f.value, f.limits);
    if (!counts(f.id, reach, before)) continue;
    const l = levelOf(reach);
    if (l === 2) beyond++;
    else if (l === 1) outside++;
    off += Math.min(reach, 3) ** 2;
  }
  return { remedies, beyond, outside, off };
}

/** Packing the jig and pulling the spars straight, each alone and together, and none of them. */
export function wholesOf(model: Model): Whole[] {
  const none = wholeOf(model, model, []);
  const sets: Remedy[][] = [[]];
  const join = (more: readonly Remedy[]): void => {
    if (more.length > 0) sets.push(...sets.map((s) => [...s, ...more]));
  };
  const wrong = (check: string): boolean =>
    checkAll(model).some((f) => f.check.startsWith(check) && levelOf(reachOf(f.value, f.limits)) > 0);
  if (wrong('twist')) join(packRemedy(model));
  if (wrong('bow')) {
    for (const spar of ['front', 'rear'] as const)
      if (model.readings.some((r) => r.size.startsWith(`${spar}.bow@`) && r.value !== 0))
        join([pullStraight(spar, model.stations[0]!.id)]);
  }
  return [
    none,
    ...sets.slice(1).flatMap((remedies) => {
      let now = model;
      for (const r of remedies) {
        const done = applyEdit(now, r.edit);
        if (!done.ok) return [];
        now = done.model;
      }
      return [wholeOf(model, now, remedies)];
    }),
  ];
}
