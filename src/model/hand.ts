import { once } from '../once.ts';
import type { Model, Rib } from './schema.ts';

/** Whether a half panel lies to the right of its datum. */
const liesRight = once((stations: Model['stations']): boolean => stations.reduce((sum, s) => sum + s.y, 0) >= 0);

/**
 * Which way along y is outboard at a place: +1 to the right along the span, −1 to the left. Away from the middle of a
 * panel of both hands; away from the root of a half, whichever side of its datum its stations are given on.
 */
export function outboardAt(model: Pick<Model, 'hand' | 'stations'>, y: number): 1 | -1 {
  return (model.hand === 'both' ? y >= 0 : liesRight(model.stations)) ? 1 : -1;
}

/** +1 where a rib's flanges point to the right along the span from its web, −1 to the left. */
export function flangesPoint(model: Pick<Model, 'hand' | 'stations'>, rib: Pick<Rib, 'turns'>, y: number): 1 | -1 {
  return (rib.turns === 'outboard') === (outboardAt(model, y) === 1) ? 1 : -1;
}

/**
 * A list along the span (y growing) from the root to the tip: turned round for a half that lies to the left. A panel
 * of both hands is taken from its left end.
 */
export function fromRoot<T>(model: Pick<Model, 'hand' | 'stations'>, along: readonly T[]): readonly T[] {
  return outboardAt(model, 0) === 1 ? along : [...along].reverse();
}
