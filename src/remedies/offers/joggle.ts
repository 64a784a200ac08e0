import { show } from '../../checks/describe.ts';
import type { Model, Rib } from '../../model/schema.ts';
import type { EndName } from '../../parts/layout/layout.ts';
import { NEAR } from '../../units/near.ts';
import { type Maker, ribEndAt } from '../asked.ts';
import { carrying } from '../carried.ts';
import { BENT_COLD, FREE, LEAST_BEND, type Remedy, shifted } from '../remedy.ts';

/** Joggles a rib end deeper by s mm each side: the end is 2s lower, the contour stays. */
export function joggleDeeper(model: Model, rib: Rib, end: EndName, s: number): Remedy {
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

/**
 * What each side is pressed deeper by for an end that binds by so many mm: half of it, up to the next twentieth;
 * never less than a hand can press.
 */
export const deeperBy = (binds: number): number => Math.max(LEAST_BEND, Math.ceil((binds / 2) * 20 - NEAR) / 20);

/** The joggle of a binding rib end pressed deeper. */
export const joggledDeeper: Maker = (asked) => {
  const at = ribEndAt(asked);
  if (!at || at.place.spec.joggle === 0) return [];
  return [joggleDeeper(asked.model, at.rib, at.end, deeperBy(-asked.finding.value))];
};
