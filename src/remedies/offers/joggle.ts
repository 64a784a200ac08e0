import { show } from '../../checks/describe.ts';
import type { MainRib, Model } from '../../model/schema.ts';
import { NEAR } from '../../units/near.ts';
import { type Maker, mainEnd } from '../asked.ts';
import { carrying } from '../carried.ts';
import { BENT_COLD, FREE, type Remedy, shifted } from '../remedy.ts';

/** Joggles a rib end deeper by s mm each side: the end is 2s lower, the contour stays. */
export function joggleDeeper(model: Model, rib: MainRib, end: 'front' | 'rear', s: number): Remedy {
  return {
    id: `joggle:${rib.id}.${end}:${s}`,
    kind: 'joggle',
    name: `joggle ${rib.id} ${end} ${show(model, s)} deeper each side`,
    station: rib.station,
    part: rib.id,
    cost: { ...FREE, reformed: 1 },
    askDesigner: false,
    layers: false,
    note: BENT_COLD,
    edit: {
      name: `joggled ${rib.id} ${end} deeper`,
      apply: carrying((m) => shifted(shifted(m, `${rib.id}.${end}.height`, -2 * s), `${rib.id}.${end}.joggle`, s)),
    },
  };
}

/** What each side is pressed deeper by for an end that binds by so many mm: half of it, up to the next twentieth. */
export const deeperBy = (binds: number): number => Math.ceil((binds / 2) * 20 - NEAR) / 20;

/** The joggle of a binding rib end pressed deeper. */
export const joggledDeeper: Maker = (asked) => {
  const at = mainEnd(asked);
  return at ? [joggleDeeper(asked.model, at.rib, at.end, deeperBy(-asked.finding.value))] : [];
};
