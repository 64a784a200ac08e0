import { show } from '../../checks/describe.ts';
import type { Model, Rib } from '../../model/schema.ts';
import { sizeBook } from '../../model/sizes.ts';
import type { EndName } from '../../parts/layout/layout.ts';
import { carrying } from '../carried.ts';
import { BENT_COLD, FREE, type Remedy } from '../remedy.ts';

/*
 * End flanges pressed open or closed: metal at the free edge moves, the bend line stays. An open flange stands proud of the
 * height read at the bend, so it takes from the cap gap on both sides; closing it square gives that back.
 */

/**
 * Presses both flanges of a rib end open by s mm at their free edges; negative closes them. The cap gap there changes by
 * −2s, nothing at the bend line. Cold, once, then looked at with a magnifier.
 */
export function pressFlanges(model: Model, rib: Rib, end: EndName, s: number): Remedy {
  const size = `${rib.id}.${end}.open`;
  const word = s < 0 ? 'close' : 'open';
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
      name: `${s < 0 ? 'closed' : 'opened'} the flanges of ${rib.id} ${end}`,
      apply: carrying((m) => {
        const read = m.readings.some((r) => r.size === size);
        if (read)
          return { ...m, readings: m.readings.map((r) => (r.size === size ? { ...r, value: r.value + s } : r)) };
        return {
          ...m,
          readings: [...m.readings, { size, value: s, instrument: 'feeler', note: 'as pressed; not read yet' }],
        };
      }),
    },
  };
}

/** Pressing back square what was read out of square at a rib end; none where nothing was read, or it is square. */
export function squareFlanges(model: Model, rib: Rib, end: EndName): Remedy[] {
  const off = sizeBook(model).find(`${rib.id}.${end}.open`)?.best ?? 0;
  return Math.abs(off) < 0.05 ? [] : [pressFlanges(model, rib, end, -off)];
}
