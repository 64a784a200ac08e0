import type { Model } from '../../model/schema.ts';
import type { Maker } from '../asked.ts';
import { carrying } from '../carried.ts';
import { sheetOnHand, sheets, sheetText } from '../onHand.ts';
import { lettered, room, type Where, withPiece } from '../pieceIn.ts';
import { FREE, freeName, type Remedy } from '../remedy.ts';
import { mayAdd } from '../stacks.ts';

/** A flat packer on the web at a rib end, or behind a nose rib: kept short enough to clear both bends. */
export function packer(model: Model, { rib, end, sheet }: Where): Remedy {
  const behind = end === 'tail';
  const thick = sheetText(model, sheet);
  return {
    id: `${behind ? 'packer' : 'flat'}:${rib.id}.${end}:${sheet}`,
    kind: behind ? 'packer' : 'flat',
    name: behind ? `packer of ${thick} behind ${rib.id}` : `flat packer of ${thick} on the web at ${rib.id} ${end}`,
    station: rib.station,
    part: rib.id,
    cost: { ...FREE, pieces: 1 },
    askDesigner: true,
    layers: true,
    edit: {
      name: behind ? `packed ${rib.id}` : `put a flat packer on ${rib.id} ${end}`,
      apply: carrying((m) => {
        const { clear, radius } = room(m, rib, end);
        return withPiece(m, rib, {
          id: freeName(m, `P${lettered(rib.id)}`),
          form: 'flat',
          on: 'web',
          sheet,
          part: rib.id,
          end,
          height: Math.floor(clear - 2 * radius - 1),
          width: 2 * rib.flange,
          designed: false,
        });
      }),
    },
  };
}

/** Packers behind a nose rib that stands short. */
export const packersBehindNose: Maker = ({ model, rib }) => {
  if (rib?.kind !== 'nose' || !mayAdd(model, rib, 'tail', ['web'])) return [];
  return sheets(model).map((sheet) => packer(model, { rib, end: 'tail', sheet }));
};

/** Packers on either web that the end gap of a short main rib takes. */
export const packersAtWebs: Maker = ({ model, rib, finding }) => {
  if (rib?.kind !== 'main') return [];
  const fills = sheets(model).filter((s) => sheetOnHand(model, s) <= finding.value + 0.2);
  return (['rear', 'front'] as const)
    .filter((end) => mayAdd(model, rib, end, ['web']))
    .flatMap((end) => fills.map((sheet) => packer(model, { rib, end, sheet })));
};
