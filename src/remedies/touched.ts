import type { Model } from '../model/schema.ts';

/** Parts that are not as they were, or were not there: by their ids; "front" and "rear" are the spars. */
export function touchedParts(before: Model, after: Model): ReadonlySet<string> {
  const touched = new Set<string>();
  const differ = (a: readonly { readonly id: string }[], b: readonly { readonly id: string }[]): void => {
    const had = new Map(a.map((x) => [x.id, x]));
    for (const x of b) if (had.get(x.id) !== x) touched.add(x.id);
    const has = new Set(b.map((x) => x.id));
    for (const x of a) if (!has.has(x.id)) touched.add(x.id);
  };
  differ(before.doublers, after.doublers);
  differ(before.ribs, after.ribs);
  const moved = new Set(
    after.stations.filter((s) => before.stations.find((o) => o.id === s.id)?.y !== s.y).map((s) => s.id),
  );
  const gone = new Set(after.ribs.filter((r) => moved.has(r.station)).map((r) => r.id));
  for (const id of gone) touched.add(id);
  for (const d of after.doublers) if (gone.has(d.part)) touched.add(d.id);
  const read = new Set(before.readings);
  const still = new Set(after.readings);
  for (const r of [...after.readings.filter((x) => !read.has(x)), ...before.readings.filter((x) => !still.has(x))]) {
    const name = /^([\w-]+)[.@/]/.exec(r.size)?.[1];
    if (name !== undefined && !r.size.includes('/')) touched.add(name);
  }
  return touched;
}
