import type { Model } from '../../model/schema.ts';
import { sizeBook } from '../../model/sizes.ts';
import { layoutOf, type Skeleton } from './layout.ts';
import { feelerBook } from './meeting.ts';

const made = new WeakMap<Model, Skeleton>();

/** The skeleton of a model; made once for each model and remembered with it. A new reading keeps the layout. */
export function skeletonOf(model: Model): Skeleton {
  let skeleton = made.get(model);
  if (!skeleton) {
    const layout = layoutOf(model);
    const byParts: Skeleton = { model, book: sizeBook(model), layout, ...layout };
    skeleton = { ...byParts, book: feelerBook(byParts) };
    made.set(model, skeleton);
  }
  return skeleton;
}
