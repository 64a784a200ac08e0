import { cylinder, type Solid, union } from '../../geometry/solids.ts';
import { add, scale, type Vec3 } from '../../geometry/vector.ts';

/*
 * A rivet in its hole, drawn plainly: a shank, a head on the drill side and, where it is set, a head on the far side.
 *
 * Wing frame, mm. `from` is the outside of the first layer, `axis` (length one) points through the stack, `grip` is
 * the stack's thickness. Heads follow common proportions: the made head 2 D wide and 0.5 D high, the upset one 1.5 D
 * and 0.5 D.
 */

export interface RivetShape {
  readonly from: Vec3;
  readonly axis: Vec3;
  readonly diameter: number;
  readonly grip: number;
  readonly set: boolean;
}

/** Faces: 'head', 'shank', 'upset head'. */
export function rivetSolid({ from, axis, diameter: d, grip, set }: RivetShape): Solid {
  const at = (s: number): Vec3 => add(from, scale(axis, s));
  const high = d / 2;
  const head = cylinder(at(-high), at(0), 0.7 * d, { radiusTo: d, facets: 16, name: 'head' });
  const tail = set ? cylinder(at(grip), at(grip + high), 0.75 * d, { facets: 16, name: 'upset head' }) : undefined;
  const shank = cylinder(at(-high / 2), at(grip + (set ? high / 2 : 1.5 * d)), d / 2, { facets: 16, name: 'shank' });
  return union(tail ? [head, shank, tail] : [head, shank]);
}
