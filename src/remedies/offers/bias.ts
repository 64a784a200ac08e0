import { show } from '../../checks/describe.ts';
import type { Model, Rib } from '../../model/schema.ts';
import type { EndName } from '../../parts/layout/layout.ts';
import { type Maker, ribEndAt } from '../asked.ts';
import { FREE, type Remedy } from '../remedy.ts';

function nameOf(model: Model, rib: Rib, end: EndName, s: number): string {
  if (s === 0) return `centre ${rib.id} ${end} between the caps`;
  return `hold ${rib.id} ${end} ${show(model, Math.abs(s))} ${s > 0 ? 'above' : 'below'} the middle`;
}

/**
 * Holds a rib end s mm above the middle between the caps; negative is below. The sum of the gaps stays. Worked out,
 * not read: it says so until it is read again.
 */
export function bias(model: Model, rib: Rib, end: EndName, s: number): Remedy {
  const size = `${rib.id}.${end}.bias`;
  const held = { size, value: s, instrument: 'feeler', note: 'worked out after setting it: read it again' };
  return {
    id: `bias:${rib.id}.${end}:${s}`,
    kind: 'bias',
    name: nameOf(model, rib, end, s),
    station: rib.station,
    part: rib.id,
    cost: { ...FREE, moved: 1 },
    askDesigner: false,
    layers: false,
    edit: {
      name: `set ${rib.id} ${end} between the caps`,
      apply: (m) => ({ ...m, readings: [...m.readings.filter((r) => r.size !== size), held] }),
    },
  };
}

/** The rib end held in the middle. */
export const centred: Maker = (asked) => {
  const at = ribEndAt(asked);
  return at ? [bias(asked.model, at.rib, at.end, 0)] : [];
};
