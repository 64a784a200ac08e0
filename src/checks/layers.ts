import type { Size } from '../chains/size.ts';
import type { Joint } from '../model/schema.ts';
import { type Skeleton, thickness } from '../parts/skeleton.ts';

/** What a layer of a joint is cut from. */
export interface Layer {
  readonly part: string;
  readonly thickness: Size;
}

/** Sheet of a part by its name; "front" and "rear" are the spars. */
function sheetOf(skeleton: Skeleton, part: string): string | undefined {
  if (part === 'front' || part === 'rear') return skeleton.model.spars[part]?.sheet;
  return skeleton.part(part)?.sheet;
}

/** The layers of a joint from the drill side; a part the panel does not have is left out (the file check names it). */
export function layersOf(skeleton: Skeleton, joint: Joint): Layer[] {
  return joint.layers.flatMap((part) => {
    const sheet = sheetOf(skeleton, part);
    return sheet === undefined ? [] : [{ part, thickness: thickness(skeleton, sheet) }];
  });
}
