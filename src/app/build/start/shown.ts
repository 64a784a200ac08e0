import type { Model } from '../../../model/schema.ts';
import type { Pointed } from '../../../model/starts/asked.ts';

/** What the drawings of a start show. */
export interface Shown {
  readonly model: Model;
  /** What the question in hand points at. */
  readonly points: Pointed | null;
  /** A size at the tip is asked for, not at the root. */
  readonly atTip: boolean;
}

/** How wide a drawing is, in its own units. */
export const WIDE = 860;

/** What a line's class gains where the question in hand points at one of the things it is. */
export const litAt =
  (points: Pointed | null) =>
  (...things: readonly Pointed[]): string =>
    points !== null && things.includes(points) ? ' lit' : '';
