import type { Model } from '../schema.ts';
import { complete, type Start, type StartAnswers } from './asked.ts';
import { type Doubt, doubtsOf } from './doubts.ts';
import { FIN } from './fin.ts';
import { layPanel } from './laid.ts';
import { rowRoomDoubts } from './rowRooms.ts';
import { ONE_SPAR_SURFACE } from './surface.ts';
import { CONSTANT_TAIL } from './tail.ts';
import { TAPERED_TAIL } from './taperedTail.ts';
import { WING_PANEL } from './wing.ts';

/** What a panel can be started from; a new one is one file and one line here. */
export const STARTS: readonly Start[] = [CONSTANT_TAIL, TAPERED_TAIL, WING_PANEL, FIN, ONE_SPAR_SURFACE];

/** The panel that answers make, with the usual ones for what was not answered; or every doubt, each at its question. */
export function startPanel(
  start: Start,
  given: StartAnswers,
): { readonly ok: true; readonly model: Model } | { readonly ok: false; readonly doubts: readonly Doubt[] } {
  const answers = complete(start, given);
  const doubts = doubtsOf(start, answers);
  if (doubts.length > 0) return { ok: false, doubts };
  const model = layPanel(start.plan(answers));
  const rooms = rowRoomDoubts(model);
  return rooms.length > 0 ? { ok: false, doubts: rooms } : { ok: true, model };
}
