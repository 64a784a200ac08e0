import type { Model } from './schema.ts';
import type { SizeEntry } from './sizeEntries.ts';
import { sizeEntries } from './sizes.ts';

/** Where a size is read from as one walks round the bench. */
type Leg = 'sheets' | 'front' | 'rear' | 'holes';

const KIND_LEG: Partial<Record<SizeEntry['kind'], Leg>> = {
  thickness: 'sheets',
  offset: 'holes',
  edge: 'holes',
  hole: 'holes',
};

function legOf(e: SizeEntry): Leg {
  const own = KIND_LEG[e.kind];
  if (own) return own;
  if (e.key.endsWith('.gap')) return 'holes';
  return e.key.startsWith('rear.') || e.key.includes('.rear.') || e.key.includes('.rear@') ? 'rear' : 'front';
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
    const id = e.station ?? stations.find((s) => e.key.includes(`@${s}`)) ?? '';
    const at = stop.get(id) ?? -1;
    return legOf(e) === 'rear' ? last - at : at;
  };
  return [...sizeEntries(model).values()]
    .map((e, i) => ({ e, i, leg: legs.indexOf(legOf(e)), at: place(e) }))
    .sort((a, b) => a.leg - b.leg || a.at - b.at || a.i - b.i)
    .map((x) => x.e);
}
