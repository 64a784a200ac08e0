import { nextBlock } from '../../checks/fit/bendRide.ts';
import type { Model } from '../../model/schema.ts';
import { type Maker, ribEndAt } from '../asked.ts';
import { carrying } from '../carried.ts';
import { sheetOnHand, sheets, sheetText } from '../onHand.ts';
import { lettered, room, type Where, withPiece } from '../pieceIn.ts';
import { FREE, freeName, type Remedy } from '../remedy.ts';
import { mayAdd } from '../stacks.ts';

/**
 * A channel doubler at a rib end, bent easily enough to clear the spar's bend: two legs from the cap gap, its web
 * from the chord.
 */
export function channelDoubler(model: Model, { rib, end, sheet }: Where): Remedy {
  return {
    id: `channel:${rib.id}.${end}:${sheet}`,
    kind: 'channel',
    name: `channel doubler of ${sheetText(model, sheet)} at ${rib.id} ${end}`,
    station: rib.station,
    part: rib.id,
    cost: { ...FREE, pieces: 1 },
    askDesigner: true,
    layers: true,
    edit: {
      name: `put a channel doubler on ${rib.id} ${end}`,
      apply: carrying((m) =>
        withPiece(m, rib, {
          id: freeName(m, `D${lettered(rib.id)}`),
          form: 'channel',
          on: 'web',
          sheet,
          part: rib.id,
          end,
          radius: nextBlock(Math.max(0, room(m, rib, end).radius - sheetOnHand(m, sheet))),
          leg: rib.flange,
          width: 2 * rib.flange,
          designed: false,
        }),
      ),
    },
  };
}

const ALL_ROUND = ['web', 'top', 'bottom'] as const;

/** Channel doublers whose two legs a cap gap takes. */
export const channels: Maker = (asked) => {
  const { model, finding } = asked;
  const at = ribEndAt(asked);
  if (!at || !mayAdd(model, at.rib, at.end, ALL_ROUND)) return [];
  return sheets(model)
    .filter((sheet) => 2 * sheetOnHand(model, sheet) <= finding.value + 0.1)
    .map((sheet) => channelDoubler(model, { rib: at.rib, end: at.end, sheet }));
};

/** Channel doublers behind a short tip rib's rear end: each brings its nose out by one sheet. */
export const channelsBehindTip: Maker = ({ model, rib }) => {
  if (rib?.kind !== 'tip' || !mayAdd(model, rib, 'rear', ALL_ROUND)) return [];
  return sheets(model).map((sheet) => channelDoubler(model, { rib, end: 'rear', sheet }));
};
