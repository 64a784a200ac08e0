import type { Model, Reading } from '../model/schema.ts';
import { isFeeler } from '../model/sizeEntries.ts';
import { sizeBook } from '../model/sizes.ts';

type Named = { readonly id: string };

/** Names in two lists whose things are not the same, or that only one of them has. */
function differing(before: readonly Named[], after: readonly Named[]): string[] {
  const had = new Map(before.map((x) => [x.id, x]));
  const has = new Map(after.map((x) => [x.id, x]));
  return [...new Set([...had.keys(), ...has.keys()])].filter((id) => had.get(id) !== has.get(id));
}

/**
 * The part or spar whose own size a reading is of; none for what is felt between parts, for holes, and for what no
 * part has.
 */
function ownerOf(model: Model, { size }: Reading): string[] {
  const entry = sizeBook(model).entries.get(size);
  if (!entry || isFeeler(entry) || entry.of.joint !== undefined) return [];
  const owner = entry.of.part ?? entry.of.spar;
  return owner === undefined ? [] : [owner];
}

/** Ribs at stations that moved, and what lies at their ends. */
function movedAlong(before: Model, after: Model): string[] {
  const was = new Map(before.stations.map((s) => [s.id, s.y]));
  const moved = new Set(after.stations.filter((s) => was.get(s.id) !== s.y).map((s) => s.id));
  const ribs = after.ribs.filter((r) => moved.has(r.station)).map((r) => r.id);
  const pieces = after.doublers.filter((d) => ribs.includes(d.part)).map((d) => d.id);
  return [...ribs, ...pieces];
}

/** Parts that are not as they were, or were not there: by their ids; "front" and "rear" are the spars. */
export function touchedParts(before: Model, after: Model): ReadonlySet<string> {
  const read = new Set(before.readings);
  const still = new Set(after.readings);
  const fresh = after.readings.filter((r) => !read.has(r));
  const gone = before.readings.filter((r) => !still.has(r));
  return new Set([
    ...differing(before.doublers, after.doublers),
    ...differing(before.ribs, after.ribs),
    ...movedAlong(before, after),
    ...fresh.flatMap((r) => ownerOf(after, r)),
    ...gone.flatMap((r) => ownerOf(before, r)),
  ]);
}
