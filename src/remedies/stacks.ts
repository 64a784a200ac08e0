import type { Doubler, Model, Rib } from '../model/schema.ts';
import { sparAt } from '../parts/placed/build.ts';

/*
 * How many packers and shims are in one stack? Two at most; where a third were needed the part is made again (picked,
 * no source). The drawing's own doublers do not count. Through the web of a spar one row of rivets holds what lies
 * before it and behind it, nose rib and main rib alike: that is one stack; each cap at a rib end is another.
 */

/** Packers and shims in one stack at most. */
const MOST_PACKERS = 2;

export type Face = 'web' | 'top' | 'bottom';

const FACES: readonly Face[] = ['web', 'top', 'bottom'];

/** Name of the stack at a face of a rib end. */
const stackName = (rib: Pick<Rib, 'id' | 'station'>, end: Doubler['end'], face: Face): string =>
  face === 'web' ? `${rib.station} ${sparAt(end)} web` : `${rib.id} ${end} ${face}`;

const lies = (piece: Doubler, face: Face): boolean => piece.form === 'channel' || piece.on === face;

/** How many packers and shims each stack holds, by its name. */
function packersByStack(model: Model): Map<string, number> {
  const ribs = new Map(model.ribs.map((r) => [r.id, r]));
  const held = new Map<string, number>();
  for (const piece of model.doublers) {
    const rib = ribs.get(piece.part);
    if (piece.designed || !rib) continue;
    for (const face of FACES) {
      const name = stackName(rib, piece.end, face);
      if (lies(piece, face)) held.set(name, (held.get(name) ?? 0) + 1);
    }
  }
  return held;
}

/** Whether another piece may go on every one of these faces at a rib end. */
export function mayAdd(model: Model, rib: Rib, end: Doubler['end'], faces: readonly Face[]): boolean {
  const held = packersByStack(model);
  return faces.every((face) => (held.get(stackName(rib, end, face)) ?? 0) < MOST_PACKERS);
}

/** Whether some stack holds more packers afterwards than may be, and more than it did. */
export function overStacked(before: Model, after: Model): boolean {
  const had = packersByStack(before);
  return [...packersByStack(after)].some(([name, n]) => n > MOST_PACKERS && n > (had.get(name) ?? 0));
}
