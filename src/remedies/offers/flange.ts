import { show } from '../../checks/describe.ts';
import type { Model, Rib } from '../../model/schema.ts';
import type { EndName } from '../../parts/layout/layout.ts';
import { type Maker, ribEndAt } from '../asked.ts';
import { carrying } from '../carried.ts';
import { BENT_COLD, FREE, type Remedy } from '../remedy.ts';

/*
 * End flanges pressed open or closed: metal at the free edge moves, the bend line stays. An open flange stands proud
 * of the height read at the bend, so it takes from the cap gap on both sides; closing it square gives that back.
 */

/** The panel with the reading of an end's opening moved by s mm; where it was never read, it is s as pressed. */
function pressed(m: Model, size: string, s: number): Model {
  const read = m.readings.some((r) => r.size === size);
  if (read) return { ...m, readings: m.readings.map((r) => (r.size === size ? { ...r, value: r.value + s } : r)) };
  return {
    ...m,
    readings: [...m.readings, { size, value: s, instrument: 'feeler', note: 'as pressed; not read yet' }],
  };
}

/**
 * Presses both flanges of a rib end open by s mm at their free edges; negative closes them. The cap gap there changes
 * by −2s, nothing at the bend line. Cold, once, then looked at with a magnifier.
 */
export function pressFlanges(model: Model, rib: Rib, end: EndName, s: number): Remedy {
  const [word, past] = s < 0 ? ['close', 'closed'] : ['open', 'opened'];
  return {
    id: `flange:${rib.id}.${end}:${s}`,
    kind: 'flange',
    name: `${word} the flanges of ${rib.id} ${end} by ${show(model, Math.abs(s))} each, at the edge`,
    station: rib.station,
    part: rib.id,
    cost: { ...FREE, reformed: 1 },
    askDesigner: false,
    layers: false,
    note: BENT_COLD,
    edit: {
      name: `${past} the flanges of ${rib.id} ${end}`,
      apply: carrying((m) => pressed(m, `${rib.id}.${end}.open`, s)),
    },
  };
}

/**
 * Flanges pressed back square that were read out of square at a rib end; none where nothing was read, or they are
 * square.
 */
export const squareFlanges: Maker = (asked) => {
  const at = ribEndAt(asked);
  const off = at ? (asked.skeleton.book.find(`${at.place.key}.open`)?.best ?? 0) : 0;
  return at && Math.abs(off) >= 0.05 ? [pressFlanges(asked.model, at.rib, at.end, -off)] : [];
};
