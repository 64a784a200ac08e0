import type { Doubler, Model } from '../../model/schema.ts';
import { type Maker, ribEndAt } from '../asked.ts';
import { carrying } from '../carried.ts';
import { sheetOnHand, sheets, sheetText } from '../onHand.ts';
import { FREE, type Remedy } from '../remedy.ts';

/** A doubler, packer or shim made new of another sheet. */
export function resheet(model: Model, piece: Doubler, sheet: string): Remedy {
  const thick = sheetText(model, sheet);
  return {
    id: `resheet:${piece.id}:${sheet}`,
    kind: 'resheet',
    name: `${piece.id} of ${thick} instead`,
    station: model.ribs.find((r) => r.id === piece.part)?.station ?? '',
    part: piece.id,
    cost: { ...FREE, pieces: 1 },
    askDesigner: true,
    layers: true,
    edit: {
      name: `made ${piece.id} of ${thick}`,
      apply: carrying((m) => ({
        ...m,
        doublers: m.doublers.map((d) => (d.id === piece.id ? { ...d, sheet } : d)),
      })),
    },
  };
}

/** Pieces made of every sheet on hand that `keep` allows beside the one they are of. */
function resheets(
  model: Model,
  pieces: readonly Doubler[],
  keep: (thickness: number, now: number) => boolean,
): Remedy[] {
  return pieces.flatMap((d) =>
    sheets(model)
      .filter((s) => s !== d.sheet && keep(sheetOnHand(model, s), sheetOnHand(model, d.sheet)))
      .map((s) => resheet(model, d, s)),
  );
}

const thinner = (thickness: number, now: number): boolean => thickness < now;
const thicker = (thickness: number, now: number): boolean => thickness > now;

/** What lies between a binding rib end and its caps, of thinner sheet. */
export const thinnerAtCaps: Maker = (asked) => resheets(asked.model, ribEndAt(asked)?.place.doublers ?? [], thinner);

/** What lies between a loose rib end and its caps, of thicker sheet. */
export const thickerAtCaps: Maker = (asked) => resheets(asked.model, ribEndAt(asked)?.place.doublers ?? [], thicker);

/** What lies before the front end of a main rib that is too long, of thinner sheet. */
export const thinnerAtFrontWeb: Maker = ({ model, skeleton, rib }) =>
  rib?.kind === 'main' ? resheets(model, skeleton.doublersAt(rib.id, 'front'), thinner) : [];
