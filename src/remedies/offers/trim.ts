import { show } from '../../checks/describe.ts';
import type { Model, TipRib } from '../../model/schema.ts';
import type { Maker } from '../asked.ts';
import { carrying } from '../carried.ts';
import { drilledHoles } from '../holesAt.ts';
import { FREE, type Remedy, shifted } from '../remedy.ts';
import { shorterBy } from './shorter.ts';

/** Trims a full tip rib's rear end by s mm: its nose comes back by as much. */
export function trimTip(model: Model, rib: TipRib, s: number): Remedy {
  return {
    id: `trim:${rib.id}:${s}`,
    kind: 'trim',
    name: `shorten the rear end of ${rib.id} by ${show(model, s)}`,
    station: rib.station,
    part: rib.id,
    cost: { ...FREE, reformed: 1, holesLost: drilledHoles(model, rib.id, 'rear') },
    askDesigner: true,
    layers: false,
    edit: { name: `shortened ${rib.id}`, apply: carrying((m) => shifted(m, `${rib.id}.length`, -s)) },
  };
}

/** A tip rib that stands proud, shortened. */
export const tipShortened: Maker = ({ model, rib, finding }) => {
  const s = shorterBy(finding.value);
  return rib?.kind === 'tip' && s !== undefined ? [trimTip(model, rib, s)] : [];
};
