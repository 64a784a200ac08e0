import type { Model } from '../../model/schema.ts';
import type { Remedy } from '../remedy.ts';

/** Remedies in the order of their stations along the span, those of one station as they are done. */
export function inSpanOrder(model: Model, remedies: readonly Remedy[]): Remedy[] {
  const y = new Map(model.stations.map((s) => [s.id, s.y]));
  return [...remedies].sort((a, b) => (y.get(a.station) ?? 0) - (y.get(b.station) ?? 0));
}
