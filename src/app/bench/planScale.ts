import type { Skeleton } from '../../parts/layout/layout.ts';
import type { Stance } from '../../parts/placed/stance.ts';
import { endsOf } from '../widgets/alongSpan.ts';

/** Left free at either side, and under the rear spar for the marks and what the drawing is. */
const SIDE = 40;
export const UNDER = 68;

export type At = readonly [y: number, x: number];

/** The skeleton's lines from above, mm: where the noses and the spars lie, every deviation enlarged. */
export interface Lines {
  readonly noses: readonly At[];
  readonly stances: readonly Stance[];
}

/** From millimetres to the drawing: along the span to the right, aft down, in the middle of its height. */
export interface Scale {
  toX(y: number): number;
  toY(x: number): number;
  /** Where the rear spar's web lies in the drawing, at its furthest aft. */
  readonly rear: number;
}

export function scaleOf({ bays }: Skeleton, { noses, stances }: Lines, width: number, height: number): Scale {
  const [y0, y1] = endsOf(bays);
  const s = (width - 2 * SIDE) / Math.max(1, y1 - y0);
  const nose = Math.max(...bays.map((b) => b.station.nose), ...noses.map(([, x]) => -x));
  const web = Math.max(...stances.map((t) => t.rear));
  const above = Math.max(SIDE, (height - (nose + web) * s - 50) / 2);
  const toY = (x: number): number => above + (x + nose) * s;
  return { toX: (y) => SIDE + (y - y0) * s, toY, rear: toY(web) };
}
