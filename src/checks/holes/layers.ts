import { type Chain, chain } from '../../chains/chain.ts';
import type { Size } from '../../chains/size.ts';
import { sheetOfMetal } from '../../model/metal.ts';
import type { Joint } from '../../model/schema.ts';
import type { Skeleton } from '../../parts/layout/layout.ts';
import { thickness } from '../../parts/layout/meeting.ts';

/** What a layer of a joint is cut from. */
export interface Layer {
  readonly part: string;
  readonly thickness: Size;
}

/** Sheet of a part by its name; "front" and "rear" are the spars, "skin" the skin where no part has that name. */
function sheetOf(skeleton: Skeleton, part: string): string | undefined {
  return skeleton.part(part)?.sheet ?? sheetOfMetal(skeleton.model, part);
}

/** The layers of a joint from the drill side; a part the panel does not have is left out (the file check names it). */
export function layersOf(skeleton: Skeleton, joint: Joint): Layer[] {
  return joint.layers.flatMap((part) => {
    const sheet = sheetOf(skeleton, part);
    return sheet === undefined ? [] : [{ part, thickness: thickness(skeleton, sheet) }];
  });
}

/**
 * All that a rivet of a joint goes through: its layers, and what gap was read between them once drawn together (C17).
 */
export function stackOf(skeleton: Skeleton, joint: Joint): Chain {
  const left = skeleton.book.find(`${joint.id}.gap`);
  return chain(
    ...layersOf(skeleton, joint).map((l): [number, Size] => [1, l.thickness]),
    ...(left ? [[1, left] as const] : []),
  );
}
