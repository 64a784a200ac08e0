import { cylinder, difference, type Solid } from '../../geometry/solids.ts';
import { add, scale, unit, type Vec3 } from '../../geometry/vector.ts';

/**
 * A round hole: its centre, its axis (any length but nothing), its diameter, and how far each side of the centre it
 * runs.
 */
export interface HoleShape {
  readonly at: Vec3;
  readonly axis: Vec3;
  readonly diameter: number;
  readonly reach: number;
  /** Corners on the true circle, so n facets leave (n/2π) sin(2π/n) of its area; 12 unless told. */
  readonly facets?: number;
}

/**
 * A part with its holes cut, all in one cut; faces inside the holes are named 'hole'. A hole of no diameter is none.
 * Example: a 3.2 hole through a web at x = 0, 100 out: `{ at: [0, 100, 0], axis: [1, 0, 0], diameter: 3.2, reach: 3 }`.
 */
export function drilled(part: Solid, holes: readonly HoleShape[], alsoLess: readonly Solid[] = []): Solid {
  return difference(part, [...alsoLess, ...holes.filter((h) => h.diameter > 0).map(holeSolid)]);
}

function holeSolid({ at, axis, diameter, reach, facets = 12 }: HoleShape): Solid {
  const along = scale(unit(axis), reach);
  return cylinder(add(at, scale(along, -1)), add(at, along), diameter / 2, { facets, name: 'hole' });
}
