import { checkAll } from '../../checks/checkAll.ts';
import type { CheckId } from '../../checks/finding.ts';
import { applyEdit } from '../../model/edits/edits.ts';
import type { Model } from '../../model/schema.ts';
import { packRemedy } from '../offers/packing.ts';
import { bowsOf, pullStraight } from '../offers/straight.ts';
import { type Left, leftBy, levelOf, measureFirst, reachOf } from '../reach.ts';
import type { Remedy } from '../remedy.ts';

/*
 * What may be done to the whole panel that joins with nothing else: the jig packed, a bowed spar pulled straight.
 * Twist and bow are all they move, and nothing done to a rib moves those.
 */

/** One of them, with what it leaves of twist and bow. */
export interface Whole extends Left {
  readonly remedies: readonly Remedy[];
}

export const WHOLE_CHECKS: ReadonlySet<CheckId> = new Set<CheckId>(['twist', 'twist-step', 'bow']);

function wholeOf(model: Model, after: Model, remedies: readonly Remedy[]): Whole {
  const asked = checkAll(after).filter((f) => WHOLE_CHECKS.has(f.check));
  return { remedies, ...leftBy(asked, measureFirst(model)) };
}

/** The panel with all of them done one after the other; undefined where one is refused. */
function allDone(model: Model, remedies: readonly Remedy[]): Model | undefined {
  let now = model;
  for (const r of remedies) {
    const done = applyEdit(now, r.edit);
    if (!done.ok) return undefined;
    now = done.model;
  }
  return now;
}

/** Spars that were read to be bowed, each pulled straight; none where no bow is outside fits. */
function straightenings(model: Model): Remedy[] {
  const [first] = model.stations;
  const bowed = checkAll(model).some((f) => f.check === 'bow' && levelOf(reachOf(f.value, f.limits)) > 0);
  if (!first || !bowed) return [];
  return (['front', 'rear'] as const)
    .filter((spar) => [...bowsOf(model, spar)].some((r) => r.value !== 0))
    .map((spar) => pullStraight(spar, first.id));
}

/** The jig packed, where some twist is outside fits. */
function packings(model: Model): Remedy[] {
  const twisted = checkAll(model).some(
    (f) => (f.check === 'twist' || f.check === 'twist-step') && levelOf(reachOf(f.value, f.limits)) > 0,
  );
  return twisted ? packRemedy(model) : [];
}

/** What is left of twist and bow where nothing is done to the whole. */
export const wholeAsIs = (model: Model): Whole => wholeOf(model, model, []);

/** Nothing done; and packing the jig and pulling the spars straight, each alone and all together. */
export function wholesOf(model: Model): Whole[] {
  let sets: Remedy[][] = [[]];
  for (const remedy of [...packings(model), ...straightenings(model)])
    sets = [...sets, ...sets.map((set) => [...set, remedy])];
  return sets.flatMap((remedies) => {
    const after = allDone(model, remedies);
    return after ? [wholeOf(model, after, remedies)] : [];
  });
}
