import type { HoleAnswer } from '../../drilling/hole.ts';

const DASHES = ['', '6 3', '2 2', '8 2 2 2', '1 3', '10 4'];

/** The dashes of a layer's line: the same in the picture, its key and the edges. */
export function layerStyle({ joint }: HoleAnswer, part: string): string {
  const at = Math.max(0, joint.layers.indexOf(part));
  return DASHES[at % DASHES.length] ?? '';
}
