import { best } from '../chains/chain.ts';
import { computedNose } from '../checks/fit/noseLine.ts';
import type { Model, Reading } from '../model/schema.ts';
import { isFeeler } from '../model/sizeEntries.ts';
import { sizeBook } from '../model/sizes.ts';
import { byParts, feelableAt } from '../parts/layout/feelers.ts';
import { skeletonOf } from '../parts/layout/skeleton.ts';
import { NEAR } from '../units/near.ts';

/*
 * What would a feeler or the string read now? A gap that was felt, or a nose read from the string, is known better than
 * the sum of its parts. A remedy that moves those parts by a known amount moves such a reading by the same amount: a
 * packer of 0.81 behind a nose brings its string reading out by 0.81. Where the part itself is another one (made again,
 * exchanged) the reading goes with the old one.
 */

/** Readings of rooms, not of parts: felt, or read from the string. */
function directReadings(model: Model): Reading[] {
  const { entries } = sizeBook(model);
  return model.readings.filter(({ size }) => {
    const entry = entries.get(size);
    return isFeeler(entry) || entry?.kind === 'protrusion';
  });
}

/** Every directly readable room of a panel from its parts, mm, by the key of its reading; those named only. */
function computed(model: Model, wanted: ReadonlySet<string>): Map<string, number> {
  const skeleton = byParts(skeletonOf(model));
  const all = new Map<string, number>();
  for (const bay of skeleton.bays) {
    const key = `nose@${bay.station.id}`;
    const nose = wanted.has(key) && computedNose(skeleton, bay, 'straight');
    if (nose) all.set(key, best(nose));
    for (const f of feelableAt(skeleton, bay)) if (wanted.has(f.key)) all.set(f.key, best(f.computed));
  }
  return all;
}

/** Rooms that a change moves and that a feeler or the string could read: by their keys, and by how much. */
export function roomsMoved(before: Model, after: Model): { readonly size: string; readonly by: number }[] {
  const is = byParts(skeletonOf(after));
  const keys = new Set(is.bays.flatMap((bay) => [`nose@${bay.station.id}`, ...feelableAt(is, bay).map((f) => f.key)]));
  const [from, to] = [computed(before, keys), computed(after, keys)];
  return [...to].flatMap(([size, value]) => {
    const by = value - (from.get(size) ?? Number.NaN);
    return Math.abs(by) > NEAR ? [{ size, by }] : [];
  });
}

/** `after`, with every direct reading that both models still have moved by what its parts moved. */
function carried(before: Model, after: Model): Model {
  const kept = new Set(after.readings);
  const direct = directReadings(before).filter((r) => kept.has(r));
  if (direct.length === 0) return after;
  const wanted = new Set(direct.map((r) => r.size));
  const [was, is] = [computed(before, wanted), computed(after, wanted)];
  const by = (r: Reading): number => (is.get(r.size) ?? 0) - (was.get(r.size) ?? 0);
  const moved = new Map(
    direct
      .filter((r) => was.has(r.size) && is.has(r.size) && Math.abs(by(r)) > 1e-12)
      .map((r): [Reading, Reading] => [r, { ...r, value: r.value + by(r) }]),
  );
  return moved.size === 0 ? after : { ...after, readings: after.readings.map((r) => moved.get(r) ?? r) };
}

/** An Edit's step with the direct readings carried along. */
export const carrying =
  (step: (m: Model) => Model) =>
  (m: Model): Model =>
    carried(m, step(m));
