import { drawnClear } from '../model/rooms.ts';
import type { Doubler, Joint, Model, Rib } from '../model/schema.ts';
import { sparAt } from '../parts/placed/build.ts';

/*
 * A piece put between a part and a spar. Which way the part moves follows from where the piece lies; it is never
 * assumed.
 */

export type End = Doubler['end'];

/** A rib end that a piece goes to, and the sheet it is cut from. */
export interface Where {
  readonly rib: Rib;
  readonly end: End;
  readonly sheet: string;
}

/** A piece is named for its rib: `4` of M4. */
export const lettered = (rib: string): string => rib.replace(/^[A-Za-z]+/, '');

/** Whether a joint's row goes through a piece at a rib end. */
const isThrough = (j: Joint, rib: Rib, { end, form, on }: Doubler): boolean =>
  j.station === rib.station &&
  j.end === sparAt(end) &&
  j.layers.includes(rib.id) &&
  (form === 'channel' || on === (j.on ?? 'web'));

/** Where in a joint's layers a piece goes: between its rib and the spar. */
function layerFor({ layers }: Joint, rib: Rib, piece: Doubler): number {
  const at = layers.indexOf(rib.id);
  return piece.end !== 'tail' && at > 0 ? at : at + 1;
}

/** Puts a piece into the joints of its rib end, beside the rib, so that grip and holes count it. */
function joined(joints: readonly Joint[], rib: Rib, piece: Doubler): Joint[] {
  return joints.map((j) => {
    if (!isThrough(j, rib, piece)) return j;
    return { ...j, layers: j.layers.toSpliced(layerFor(j, rib, piece), 0, piece.id) };
  });
}

/**
 * The panel with a piece more at a rib end. It comes in with its rib; where no stage brings the rib, with the first.
 */
export function withPiece(model: Model, rib: Rib, piece: Doubler): Model {
  const at = Math.max(
    0,
    model.stages.findIndex((s) => s.brings.includes(rib.id)),
  );
  const stages = model.stages.map((s, i) => (i === at ? { ...s, brings: [...s.brings, piece.id] } : s));
  return { ...model, stages, doublers: [...model.doublers, piece], joints: joined(model.joints, rib, piece) };
}

/** Clear height and inside radius, mm, of the spar a rib end meets, from the drawing: what a piece must stay inside. */
export function room(model: Model, rib: Rib, end: End): { clear: number; radius: number } {
  const name = model.spars[sparAt(end)] ? sparAt(end) : 'front';
  const y = model.stations.find((s) => s.id === rib.station)?.y ?? 0;
  return { clear: drawnClear(model, name, y), radius: (model.spars[name] ?? model.spars.front).radius };
}
