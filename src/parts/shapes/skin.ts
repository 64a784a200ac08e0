import { resample } from '../../geometry/outline.ts';
import { loft, type Solid } from '../../geometry/solids.ts';
import type { Vec2, Vec3 } from '../../geometry/vector.ts';

/*
 * The nose-to-rear skin: one sheet wrapped once round the noses, over both surfaces, back to the rear spar.
 *
 * Wing frame, mm. Given where its inside lies at each station, from the top rear edge round the nose to the bottom
 * rear edge, in (x, z). The sheet is that line and the line one thickness outside it, straight between stations.
 * Outlines are divided afresh at equal shares of their girth, so that generators join like points whatever points
 * each station has.
 */

export interface SkinShape {
  readonly thickness: number;
  /** Two or more, by rising y. */
  readonly stations: readonly { readonly y: number; readonly outline: readonly Vec2[] }[];
  /** Pieces round the girth; 96 unless told. */
  readonly pieces?: number;
}

/** Faces: 'inside', 'outside', 'edge'. */
export function skinSolid({ thickness, stations, pieces = 96 }: SkinShape): Solid {
  const rings = stations.map(({ y, outline }) => {
    const inside = resample(outline, pieces + 1);
    const outside = movedOut(inside, thickness).reverse();
    return [...inside, ...outside].map(([x, z]): Vec3 => [x, y, z]);
  });
  const sides = [
    ...Array.from({ length: pieces }, () => 'inside'),
    'edge',
    ...Array.from({ length: pieces }, () => 'outside'),
    'edge',
  ];
  return loft(rings, { sides, start: 'edge', end: 'edge' });
}

/**
 * Each point moved square to the line, away from its middle: the line runs from the top edge forward round the nose.
 */
function movedOut(line: readonly Vec2[], by: number): Vec2[] {
  return line.map((p, i): Vec2 => {
    const a = line[Math.max(i - 1, 0)] ?? p;
    const b = line[Math.min(i + 1, line.length - 1)] ?? p;
    const len = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1;
    // Going forward along the top (dx < 0), outside is up: to the right hand of the line's own way.
    return [p[0] + ((b[1] - a[1]) / len) * by, p[1] - ((b[0] - a[0]) / len) * by];
  });
}
