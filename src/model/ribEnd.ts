import type { Doubler, Rib, RibEnd } from './schema.ts';

/** What an end of a rib is called; a nose rib's one end is its tail. */
export type RibEndName = Doubler['end'];

/** A rib's end at a spar: the tail of a nose rib, the rear of a tip rib, either end of a main rib. */
export function ribEndAt(rib: Rib, end: RibEndName): RibEnd {
  if (rib.kind === 'nose') return rib.tail;
  return rib.kind === 'main' && end === 'front' ? rib.front : rib.rear;
}

/** The rib with that end changed. */
export function withRibEnd(rib: Rib, end: RibEndName, change: (e: RibEnd) => RibEnd): Rib {
  if (rib.kind === 'nose') return { ...rib, tail: change(rib.tail) };
  if (rib.kind === 'main' && end === 'front') return { ...rib, front: change(rib.front) };
  return { ...rib, rear: change(rib.rear) };
}
