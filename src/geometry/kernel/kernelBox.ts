import type { Manifold } from 'manifold-3d';
import type { Bounds } from '../boxes.ts';

/** The box round a solid that the kernel holds. */
export function heldBox(m: Manifold): Bounds {
  const { min, max } = m.boundingBox();
  return { low: min, high: max };
}
