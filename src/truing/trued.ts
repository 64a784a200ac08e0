import { best } from '../chains/chain.ts';
import { armsOf, offsetsOf, turningParts } from '../checks/holes/offsets.ts';
import { outboardAt } from '../model/hand.ts';
import type { Hole, Joint, Model, Reading } from '../model/schema.ts';
import { sizeBook } from '../model/sizes.ts';
import type { Bay, Skeleton } from '../parts/layout/layout.ts';
import type { RibStance } from './stance.ts';

/** A hole through a trued rib, and how far it went along the span, mm, y positive. */
export interface Carried {
  readonly bay: Bay;
  readonly joint: Joint;
  readonly hole: string;
  readonly by: number;
}

/** A rib turned from one stance to another. */
interface Turn {
  readonly bay: Bay;
  /** Change of lean over 100 mm of height, and of skew, mm, outboard positive. */
  readonly lean: number;
  readonly skew: number;
}

/** The model with every offset, lean, skew and diagonal as after truing, and what was carried how far. */
export function trued(
  skeleton: Skeleton,
  before: readonly RibStance[],
  after: readonly RibStance[],
): { model: Model; carried: Carried[] } {
  const { model } = skeleton;
  const turns = after.flatMap((then): Turn[] => {
    const bay = skeleton.bays.find((b) => b.station.id === then.station);
    const now = before.find((b) => b.station === then.station);
    return bay ? [{ bay, lean: then.lean - (now?.lean ?? 0), skew: then.skew - (now?.skew ?? 0) }] : [];
  });
  const carried: Carried[] = [];
  const fresh = new Map<string, readonly Reading[]>();
  for (const turn of turns) {
    for (const { joint, hole, by } of holesCarried(skeleton, turn)) {
      carried.push({ bay: turn.bay, joint, hole: hole.id, by });
      for (const [key, readings] of offsetsAfter(skeleton, turn.bay, joint, hole, by)) fresh.set(key, readings);
    }
    for (const [key, readings] of stanceAfter(model, turn)) fresh.set(key, readings);
    for (const [key, readings] of diagonalsAfter(skeleton, turn)) fresh.set(key, readings);
  }
  const kept = model.readings.filter((r) => !fresh.has(r.size));
  return { model: { ...model, readings: [...kept, ...[...fresh.values()].flat()] }, carried };
}

/** The holes of a turned rib's joints, and how far each went along the span. */
function holesCarried(skeleton: Skeleton, { bay, lean, skew }: Turn): { joint: Joint; hole: Hole; by: number }[] {
  const out = outboardAt(skeleton.model, bay.station.y);
  return skeleton.jointsAt(bay.station.id).flatMap((joint) =>
    joint.holes.map((hole) => {
      const arm = armsOf(skeleton, joint, hole);
      return { joint, hole, by: out * ((lean / 100) * arm.lean + skew * arm.skew) };
    }),
  );
}

/** Readings of a hole's offsets once it went by so much: in the rib and the pieces fixed to it, not in the spar. */
function offsetsAfter(skeleton: Skeleton, bay: Bay, joint: Joint, hole: Hole, by: number): [string, Reading[]][] {
  if (by === 0) return [];
  const book = sizeBook(skeleton.model);
  const turned = turningParts(skeleton, bay.station.id);
  const offsets = offsetsOf(skeleton, joint, hole);
  return hole.layers
    .filter((layer) => turned.has(layer.part) && layer.state !== 'none')
    .map(({ part }): [string, Reading[]] => {
      const key = `${joint.id}/${hole.id}.${part}.along`;
      const read = book.readingsOf(key);
      const asReckoned: Reading = { size: key, value: best(offsets(part).along) + by, instrument: 'pin' };
      return [key, read.length > 0 ? read.map((r) => ({ ...r, value: r.value + by })) : [asReckoned]];
    });
}

/**
 * Readings of the diagonals that end at a rib's rear end, once that is swung along the span: outboard it comes nearer
 * to the front of the bay outboard of it, and further from that of the bay inboard. In a bay of 300 by 280 a skew of
 * 1 is 0.73.
 */
function diagonalsAfter(skeleton: Skeleton, { bay, skew }: Turn): [string, Reading[]][] {
  const { model, book, bays } = skeleton;
  const { id, y } = bay.station;
  const swung = outboardAt(model, y) * skew;
  const web = book.nominal(`webs@${id}`) ?? 0;
  const beside = [bays[bay.index - 1], bays[bay.index + 1]].filter((b) => b !== undefined);
  return beside.map(({ station: from }): [string, Reading[]] => {
    const key = `diagonal@${from.id}-${id}`;
    const along = y - from.y;
    const by = Math.hypot(along + swung, web) - Math.hypot(along, web);
    return [key, book.readingsOf(key).map((r) => ({ ...r, value: r.value + by }))];
  });
}

/** Readings of a rib's lean and skew once it is turned. */
function stanceAfter(model: Model, { bay, lean, skew }: Turn): [string, Reading[]][] {
  const book = sizeBook(model);
  const { id } = bay.station;
  const height = bay.main?.front.height ?? bay.tip?.rear.height ?? 100;
  const leans = book
    .readingsOf(`lean@${id}`)
    .map((r) => ({ ...r, value: r.value + (lean * (r.over ?? height)) / 100 }));
  const skews = book.readingsOf(`skew@${id}`).map((r) => ({ ...r, value: r.value + skew }));
  const all: [string, Reading[]][] = [
    [`lean@${id}`, leans],
    [`skew@${id}`, skews],
  ];
  return all.filter(([, readings]) => readings.length > 0);
}
