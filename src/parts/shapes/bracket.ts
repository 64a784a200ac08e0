import { arcPoints } from '../../geometry/outline.ts';
import { extrusion, type Solid } from '../../geometry/solids.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import { drilled, type HoleShape } from './drilled.ts';

/*
 * A hinge or attachment bracket on the flat outside of a spar's web: an angle bent from one sheet.
 *
 * Its own axes, mm: the face towards the web is at x = 0, the metal to +x × side; y along the span, centred on the
 * foot; z up, centred. The foot is `width` along the span and `height` tall; the standing leg rises at its inboard
 * edge (−y) and reaches `edge` from the web face to its free edge. Assumed: inside radius twice the thickness unless
 * told.
 */

export interface BracketShape {
  readonly thickness: number;
  readonly radius?: number;
  readonly width: number;
  readonly height: number;
  readonly edge: number;
  readonly side: 1 | -1;
  readonly holes?: readonly HoleShape[];
  readonly facets?: number;
}

/** Faces: 'to spar', 'foot', 'leg', 'leg inside', 'bend', 'edge'. */
export function bracketSolid({
  thickness: t,
  radius = 2 * t,
  width,
  height,
  edge,
  side,
  holes = [],
  facets = 6,
}: BracketShape): Solid {
  const half = width / 2;
  const outer = t + radius;
  const quarter = Math.PI / 2;
  const centre: Vec2 = [outer, outer - half];
  const bend = arcPoints({ centre, radius: outer, from: 3 * quarter, to: 2 * quarter, count: facets + 1 });
  const inner =
    radius > 0
      ? arcPoints({ centre, radius, from: 2 * quarter, to: 3 * quarter, count: facets + 1 })
      : [[t, t - half] as Vec2];
  const outline: Vec2[] = [[edge, -half], ...bend, [0, half], [t, half], ...inner, [edge, t - half]];
  const sides = [
    'leg',
    ...bend.slice(1).map(() => 'bend'),
    'to spar',
    'edge',
    'foot',
    ...inner.slice(1).map(() => 'bend'),
    'leg inside',
    'edge',
  ];
  return drilled(
    extrusion(
      outline.map(([x, y]): Vec2 => [side * x, y]),
      { axis: 'z', from: -height / 2, to: height / 2 },
      { sides, start: 'edge', end: 'edge' },
    ),
    holes,
  );
}
