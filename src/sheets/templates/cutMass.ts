import { outboardAt } from '../../model/hand.ts';
import type { Model } from '../../model/schema.ts';
import type { Piece } from './piece.ts';

/** What all pieces weigh, what of it was added to the drawing, and where along the span. */
export interface CutMass {
  readonly total: number;
  readonly added: number;
  /** Added in the outboard half of the span. */
  readonly addedOutboard: number;
  /** Of what was added, about the root, g·mm, outboard positive. */
  readonly addedMoment: number;
}

/** Masses of the pieces, g. A rib made again takes an old one's place, so it adds nothing. */
export function cutMass(model: Model, pieces: readonly Piece[]): CutMass {
  const out = (y: number): 1 | -1 => outboardAt(model, y);
  const ys = model.stations.map((s) => s.y);
  const end = out(0) === 1 ? Math.min(...ys) : Math.max(...ys);
  const root = model.hand === 'both' ? 0 : end;
  const off = (y: number): number => (y - root) * out(y);
  const half = Math.max(...ys.map(off)) / 2;
  const each = pieces.flatMap((p) =>
    p.parts.map((part) => ({ mass: p.mass, added: !part.designed, off: off(part.y) })),
  );
  const sum = (list: typeof each, of: (e: (typeof each)[number]) => number = (e) => e.mass): number =>
    list.reduce((s, e) => s + of(e), 0);
  const added = each.filter((e) => e.added);
  return {
    total: sum(each),
    added: sum(added),
    addedOutboard: sum(added.filter((e) => e.off > half)),
    addedMoment: sum(added, (e) => e.mass * e.off),
  };
}
