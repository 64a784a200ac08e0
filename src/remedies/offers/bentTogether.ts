import { FREE, type Remedy } from '../remedy.ts';

/** Doublers bent again in one go, as one remedy in the list; those that are made of another sheet anyway stay beside that. */
export function bentTogether(remedies: readonly Remedy[]): Remedy[] {
  const other = new Set(remedies.filter((r) => r.kind === 'resheet').map((r) => r.part));
  const bent = remedies.filter((r) => r.kind === 'easier' && !other.has(r.part));
  const first = bent[0];
  if (!first || bent.length < 2) return [...remedies];
  const names = bent.map((r) => r.part);
  const one: Remedy = {
    id: bent.map((r) => r.id).join(' + '),
    kind: 'easier',
    name: `bend ${names.slice(0, -1).join(', ')} and ${names[names.length - 1]} again at an easier radius`,
    station: first.station,
    part: first.part,
    cost: { ...FREE, pieces: bent.reduce((sum, r) => sum + r.cost.pieces, 0) },
    askDesigner: false,
    layers: false,
    edit: { name: 'bent the doublers again', apply: (m) => bent.reduce((now, r) => r.edit.apply(now), m) },
  };
  return [one, ...remedies.filter((r) => !bent.includes(r))];
}
