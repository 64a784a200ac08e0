import { withoutPart } from '../../model/edits/without.ts';
import type { Doubler, Model } from '../../model/schema.ts';
import { type Maker, ribEndAt } from '../asked.ts';
import { carrying } from '../carried.ts';
import { FREE, type Remedy } from '../remedy.ts';

/** Leaves a doubler, packer or shim out, with its holes and its readings: the cure of a cure. */
export function leaveOut(model: Model, piece: Doubler): Remedy {
  return {
    id: `without:${piece.id}`,
    kind: 'without',
    name: `leave ${piece.id} out`,
    station: model.ribs.find((r) => r.id === piece.part)?.station ?? '',
    part: piece.id,
    cost: FREE,
    askDesigner: true,
    layers: true,
    edit: { name: `left ${piece.id} out`, apply: carrying((m) => withoutPart(m, new Set([piece.id]))) },
  };
}

const added = (model: Model, pieces: readonly Doubler[]): Remedy[] =>
  pieces.filter((d) => !d.designed).map((d) => leaveOut(model, d));

/** Pieces not on the drawing between a binding rib end and its caps, left out. */
export const withoutAtCaps: Maker = (asked) => added(asked.model, ribEndAt(asked)?.place.doublers ?? []);

/** Pieces not on the drawing before either end of a main rib that is too long, left out. */
export const withoutAtWebs: Maker = ({ model, skeleton, rib }) =>
  rib?.kind === 'main'
    ? added(model, [...skeleton.doublersAt(rib.id, 'rear'), ...skeleton.doublersAt(rib.id, 'front')])
    : [];
