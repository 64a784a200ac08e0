import type { Size } from '../chains/size.ts';
import type { Joint } from '../model/schema.ts';
import { type Skeleton, thickness } from '../parts/skeleton.ts';

/** What a layer of a joint is cut from. */
export interface Layer {
  readonly part: string;
  readonly thickness: Size;
}

const sheets = new WeakMap<Skeleton, Map<string, string>>();

/** Sheet of every part by its name; "front" and "rear" are the spars. */
function sheetByPart(skeleton: Skeleton): Map<string, string> {
  let map = sheets.get(skeleton);
  if (!map) {
    const { model } = skeleton;
    map = new Map<string, string>();
    for (const name of ['front', 'rear'] as const) {
      const spar = model.spars[name];
      if (spar) map.set(name, spar.sheet);
    }
    for (const part of [...model.ribs, ...model.doublers, ...model.brackets]) map.set(part.id, part.sheet);
    sheets.set(skeleton, map);
  }
  return map;
}

/** The layers of a joint from the drill side; a part the panel does not have is left out (the file check names it). */
export function layersOf(skeleton: Skeleton, joint: Joint): Layer[] {
  const map = sheetByPart(skeleton);
  return joint.layers.flatMap((part) => {
    const sheet = map.get(part);
    return sheet === undefined ? [] : [{ part, thickness: thickness(skeleton, sheet) }];
  });
}
