import { checkAll } from '../../checks/checkAll.ts';
import { cheapestBatten } from '../../mechanics/batten.ts';
import type { Model } from '../../model/schema.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import type { Before } from '../reach.ts';
import { coreOf } from './core.ts';
import type { Objective, Weights } from './objectives.ts';
import type { Variant } from './variants.ts';

/*
 * How straight can the nose line be made with no more findings left than the best of all leaves? Asked before an
 * objective that wants it straight is searched for.
 */

/** Findings beyond act and outside fits that a cost of a findings-first objective stands for, as one number. */
const findings = (cost: number, w: Weights): number => Math.floor(cost / w.outside + 1e-6);

/** Every place the nose of a station may stand at for an objective, mm off its drawing. */
interface Standing {
  readonly y: number;
  readonly places: readonly number[];
}

function standings(v: Variant, objective: Objective): Standing[] {
  const { bays } = skeletonOf(v.model);
  return v.choices.flatMap((list, i) => {
    const bay = bays[i];
    if (!bay || list.every((c) => c.nose === undefined)) return [];
    const places = list.filter(objective.allows).map((c) => c.nose ?? 0);
    return [{ y: bay.station.y, places: [...new Set(places)] }];
  });
}

/**
 * Every departure from the line through the ends that some inner nose of an arrangement can have, mm, rising; nothing
 * first.
 */
function departures(v: Variant, objective: Objective): number[] {
  const noses = standings(v, objective);
  const [first, last] = [noses[0], noses[noses.length - 1]];
  const values = new Set<number>([0]);
  if (!first || !last) return [0];
  for (const { y, places } of noses.slice(1, -1)) {
    const t = (y - first.y) / (last.y - first.y);
    for (const a of first.places)
      for (const b of last.places) for (const p of places) values.add(Math.abs(p - (1 - t) * a - t * b));
  }
  return [...values].sort((p, q) => p - q);
}

/** The least that the worst nose can be off the line through the ends, mm, with no more than so many findings left. */
function straightest(v: Variant, objective: Objective, before: Before, fewest: number): number {
  const values = departures(v, objective);
  const within = (most: number): boolean => {
    const { cost } = cheapestBatten(coreOf(v, objective, before, most));
    return cost < Number.POSITIVE_INFINITY && findings(cost, objective.weights) <= fewest;
  };
  let [low, high] = [0, values.length - 1];
  while (low < high) {
    const mid = (low + high) >> 1;
    if (within(values[mid] ?? 0)) high = mid;
    else low = mid + 1;
  }
  return values[low] ?? 0;
}

/** Below this nothing is gained by straightening: what the readings of the nose line can tell, mm. */
function tellable(model: Model): number {
  const us = checkAll(model)
    .filter((f) => f.check === 'nose-line')
    .map((f) => f.u);
  return us.length === 0 ? 0 : Math.min(...us);
}

/**
 * How straight the nose line must be for an objective that asks for it: as straight as any arrangement allows that
 * leaves no more findings than the best of all.
 */
export function* wantedLine(
  variants: readonly Variant[],
  objective: Objective,
  before: Before,
): Generator<void, number> {
  const free: { readonly v: Variant; readonly left: number }[] = [];
  for (const v of variants) {
    free.push({ v, left: findings(cheapestBatten(coreOf(v, objective, before)).cost, objective.weights) });
    yield;
  }
  const fewest = Math.min(...free.map((f) => f.left));
  let least = Number.POSITIVE_INFINITY;
  for (const { v, left } of free) {
    if (left === fewest) least = Math.min(least, straightest(v, objective, before, fewest));
    yield;
  }
  const [asTheyStand] = variants;
  return Math.max(least, asTheyStand ? tellable(asTheyStand.model) : 0);
}
