import { show } from '../../checks/describe.ts';
import type { MainRib, Model, NoseRib } from '../../model/schema.ts';
import { sizeBook } from '../../model/sizes.ts';
import { NEAR } from '../../units/near.ts';
import type { Maker } from '../asked.ts';
import { FREE, LEAST_BEND, type Remedy } from '../remedy.ts';
import { madeAgain, remake } from './remake.ts';

/*
 * A rib that is too long is made again, shorter: in hard sheet a bend cannot be moved half a millimetre, so a bend
 * line that must move means a new part.
 */

/**
 * What a part that is too long by `over` mm is made shorter by: up to the next tenth; nothing where a hand cannot do
 * it.
 */
export function shorterBy(over: number): number | undefined {
  return over < LEAST_BEND - NEAR ? undefined : Math.ceil(over * 10 - 1e-6) / 10;
}

/** The length a rib is to have, mm: what it has, less s. */
function lengthWanted(model: Model, rib: MainRib | NoseRib, s: number): number {
  const now = sizeBook(model).find(`${rib.id}.length`)?.best ?? rib.length;
  return Math.round((now - s) * 1e6) / 1e6;
}

/**
 * Makes a main or nose rib again, s mm shorter than it is; all else of it to its drawing. A nose comes back by s, an
 * end gap gains s.
 */
export function shorter(model: Model, rib: MainRib | NoseRib, s: number): Remedy {
  return {
    id: `shorter:${rib.id}:${s}`,
    kind: 'shorter',
    name: `make ${rib.id} again, ${show(model, s)} shorter`,
    station: rib.station,
    part: rib.id,
    cost: { ...FREE, remade: 1 },
    askDesigner: false,
    layers: true,
    edit: {
      name: `made ${rib.id} again, ${show(model, s)} shorter`,
      apply: (m) => {
        const length = lengthWanted(m, rib, s);
        const again = madeAgain(m, rib);
        return { ...again, ribs: again.ribs.map((r) => (r.id === rib.id ? { ...r, length } : r)) };
      },
    },
  };
}

/** Nearer than this to its drawing, mm, a rib made shorter is the rib made to its drawing. */
const AS_DRAWN = 0.05;

/**
 * A rib that is too long by `over` mm made again: shorter by that; and to its drawing, where that is another length.
 */
export function againShorter(model: Model, rib: MainRib | NoseRib, over: number): Remedy[] {
  const s = shorterBy(over);
  if (s === undefined) return [remake(rib)];
  const asDrawn = Math.abs(lengthWanted(model, rib, s) - rib.length) < AS_DRAWN;
  return [shorter(model, rib, s), ...(asDrawn ? [] : [remake(rib)])];
}

/** The rib of a finding that is too long, made again: a main or nose rib shorter, a tip rib to its drawing. */
export const ribAgainShorter: Maker = ({ model, rib, finding }) => {
  if (!rib) return [];
  return rib.kind === 'tip' ? [remake(rib)] : againShorter(model, rib, Math.abs(finding.value));
};
