import type { Model } from './schema.ts';
import type { SizeEntry } from './sizeEntries.ts';
import { sizeEntries } from './sizes.ts';

/** Where a size is read from as one walks round the bench. */
type Leg = 'sheets' | 'front' | 'rear' | 'holes';

function legOf(e: SizeEntry): Leg {
  if (e.of.sheet !== undefined) return 'sheets';
  if (e.of.joint !== undefined) return 'holes';
  return e.of.spar === 'rear' || e.of.end === 'rear' ? 'rear' : 'front';
}

/**
 * Every size of a panel in walking order round the bench: the sheets first, then along the front spar from the first
 * station to the last, back along the rear spar, and the holes last. Within a stop the order is that of the size list.
 */
export function walkingOrder(model: Model): SizeEntry[] {
  const stations = [...model.stations].sort((a, b) => a.y - b.y).map((s) => s.id);
  const stop = new Map(stations.map((id, i) => [id, i]));
  const last = stations.length;
  const legs: readonly Leg[] = ['sheets', 'front', 'rear', 'holes'];
  const place = (e: SizeEntry): number => {
    const at = stop.get(e.of.station ?? e.of.from ?? '') ?? -1;
    return legOf(e) === 'rear' ? last - at : at;
  };
  return [...sizeEntries(model).values()]
    .map((e, i) => ({ e, i, leg: legs.indexOf(legOf(e)), at: place(e) }))
    .sort((a, b) => a.leg - b.leg || a.at - b.at || a.i - b.i)
    .map((x) => x.e);
}
