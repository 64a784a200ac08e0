import type { Joint, Model, Reading, Rib } from '../../model/schema.ts';
import { sizeBook } from '../../model/sizes.ts';
import type { Maker } from '../asked.ts';
import { isAtFault } from '../atFault.ts';
import { FREE, type Remedy } from '../remedy.ts';

/**
 * Whether a reading goes with a rib that is made again: of its own sizes, felt or read by the string where it stood,
 * or of its holes.
 */
function goesWith(model: Model, rib: Rib): (r: Reading) => boolean {
  const { entries } = sizeBook(model);
  return ({ size }) => {
    const entry = entries.get(size);
    if (!entry) return false;
    const { part, layer, station } = entry.of;
    const itsNose = rib.kind !== 'main' && entry.kind === 'protrusion' && station === rib.station;
    return part === rib.id || layer === rib.id || itsNose;
  };
}

/** A joint as a new part comes to it: nothing drilled in it yet. */
function undrilled(j: Joint, part: string): Joint {
  if (!j.layers.includes(part)) return j;
  const holes = j.holes.map((h) => ({
    ...h,
    layers: h.layers.map((l) => (l.part === part ? { ...l, state: 'none' as const, size: 0 } : l)),
  }));
  return { ...j, holes };
}

/**
 * The panel with a part made again: its readings go, the drawing holds within its tolerance; holes are picked up from
 * the spar, never from the old part.
 */
export function madeAgain(m: Model, rib: Rib): Model {
  const goes = goesWith(m, rib);
  return {
    ...m,
    readings: m.readings.filter((r) => !goes(r)),
    joints: m.joints.map((j) => undrilled(j, rib.id)),
  };
}

/** Makes a part again, to its drawing. */
export function remake(rib: Rib): Remedy {
  return {
    id: `remake:${rib.id}`,
    kind: 'remake',
    name: `make ${rib.id} again`,
    station: rib.station,
    part: rib.id,
    cost: { ...FREE, remade: 1 },
    askDesigner: false,
    layers: true,
    edit: { name: `made ${rib.id} again`, apply: (m) => madeAgain(m, rib) },
  };
}

/** The rib of a finding made again, where the rib is what is off. */
export const ribAgain: Maker = ({ skeleton, rib, finding }) =>
  rib && isAtFault(skeleton, rib, finding) ? [remake(rib)] : [];

/** The main rib that a joint goes through made again. */
export const ribOfJointAgain: Maker = ({ model, joint }) => {
  const main = model.ribs.find((r) => r.kind === 'main' && joint?.layers.includes(r.id));
  return main ? [remake(main)] : [];
};
