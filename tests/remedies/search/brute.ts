import { checkAll } from '../../../src/checks/checkAll.ts';
import type { Model } from '../../../src/model/schema.ts';
import { skeletonOf } from '../../../src/parts/layout/skeleton.ts';
import { rebag } from '../../../src/remedies/offers/bag.ts';
import { type Before, leftBy, levelIn, measureFirst } from '../../../src/remedies/reach.ts';
import type { Remedy } from '../../../src/remedies/remedy.ts';
import { aloneAt } from '../../../src/remedies/search/alone.ts';
import { aimOf, noseAims } from '../../../src/remedies/search/noseAims.ts';
import { offeredAt } from '../../../src/remedies/search/offered.ts';
import { workOf } from '../../../src/remedies/search/plan.ts';
import { wholesOf } from '../../../src/remedies/search/wholes.ts';

/*
 * The slow and obvious twin of the search: every combination of what is offered, each applied to the whole panel, every
 * check asked again, the best taken. No sifting, no dynamic programming, no bound.
 */

export interface Best {
  readonly beyond: number;
  readonly outside: number;
  readonly work: number;
}

const apply = (m: Model, remedies: readonly Remedy[]): Model => remedies.reduce((now, r) => r.edit.apply(now), m);

/** Everything offered at each station in full, and last what is offered for the whole panel. */
export function offered(model: Model, before: Before = measureFirst(model)): Remedy[][][] {
  const aims = noseAims(model, before);
  const stations = skeletonOf(model).bays.map(({ station }) => {
    const { mains, noses, mayJoin } = offeredAt(aloneAt(model, station.id), aimOf(aims, station.id), before);
    return mains.flatMap((m) => noses.filter((n) => mayJoin(m, n)).map((n) => [...m, ...n]));
  });
  return [...stations, wholesOf(model).map((w) => [...w.remedies])];
}

export function countsWithEchoes(
  model: Model,
  after: Model,
  before: Before = measureFirst(model),
): { beyond: number; outside: number } {
  const { beyond, outside } = leftBy(checkAll(after), before);
  return { beyond, outside };
}

export const less = (a: Best, b: Best): boolean =>
  a.beyond - b.beyond < 0 ||
  (a.beyond === b.beyond && (a.outside < b.outside || (a.outside === b.outside && a.work < b.work)));

/** The best of all combinations: fewest beyond act, then fewest outside fits, then least work. */
export function bruteForce(model: Model, lists: readonly Remedy[][][], before: Before = measureFirst(model)): Best {
  let best: Best = { beyond: Number.POSITIVE_INFINITY, outside: 0, work: 0 };
  const at = lists.map(() => 0);
  for (;;) {
    let remedies = at.flatMap((k, i) => lists[i]![k]!);
    let after = apply(model, remedies);
    const thick = checkAll(after).filter((f) => f.check === 'grip' && levelIn(f, before) > 0);
    const bags = thick.flatMap((f) => rebag(skeletonOf(after), f.place).slice(0, 1));
    if (bags.length > 0) {
      remedies = [...remedies, ...bags];
      after = apply(after, bags);
    }
    const now = { ...countsWithEchoes(model, after, before), work: workOf(remedies) };
    if (less(now, best)) best = now;
    let i = 0;
    while (i < at.length && ++at[i]! === lists[i]!.length) at[i++] = 0;
    if (i === at.length) return best;
  }
}
