import { type Solid, shapeKey } from '../../geometry/solids.ts';

/** Recipes written at most, the longest unasked dropped first. */
const MOST = 600;
const written = new Map<string, Solid>();

/**
 * The recipe of a part from its shape, written once for equal numbers: after a reading changed one rib, all other
 * ribs are the same objects as before, and a kernel finds them at once. `what` tells makers apart.
 */
export function remembered<S extends object>(what: string, make: (shape: S) => Solid, shape: S): Solid {
  const key = `${what} ${shapeKey(shape)}`;
  const known = written.get(key);
  const solid = known ?? make(shape);
  if (known) written.delete(key);
  else if (written.size >= MOST) written.delete(written.keys().next().value ?? '');
  written.set(key, solid);
  return solid;
}
