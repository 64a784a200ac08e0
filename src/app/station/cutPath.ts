import type { Vec2 } from '../../geometry/vector.ts';

export type Loops = readonly (readonly Vec2[])[];
/** From a cut's own millimetres to the drawing. */
export type Place = (p: Vec2) => Vec2;

function loopPath(loop: readonly Vec2[], at: Place): string {
  const points = loop.map((p) => {
    const [x, y] = at(p);
    return `${x.toFixed(2)} ${y.toFixed(2)}`;
  });
  return `M${points.join('L')}Z`;
}

/** Closed outlines as one path. */
export const pathOf = (loops: Loops, at: Place): string => loops.map((l) => loopPath(l, at)).join('');
