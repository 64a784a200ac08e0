import { type OrthographicCamera, Vector3 } from 'three';
import type { Vec3 } from '../../geometry/vector.ts';
import type { CanvasSize } from './camera.ts';

/** A camera and the canvas it fills: how the bench is seen in one frame. */
export interface Eye {
  readonly camera: OrthographicCamera;
  readonly size: CanvasSize;
}

/** A place on the canvas, CSS px to the right and down from its upper left corner. */
export type Spot = readonly [right: number, down: number];

const spot = new Vector3();

/** Where a place of the wing is on the canvas. */
export function onScreen({ camera, size }: Eye, place: Vec3): Spot {
  spot.set(...place).project(camera);
  return [(spot.x + 1) * 0.5 * size.width, (1 - spot.y) * 0.5 * size.height];
}
