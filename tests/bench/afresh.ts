import { forget } from '../../src/model/rested/memory.ts';
import type { Model } from '../../src/model/schema.ts';

/** The same panel with nothing remembered of it: every kept answer is forgotten, and what stays with its parts is left behind. */
export function afresh(model: Model): Model {
  forget();
  return { ...model, ribs: [...model.ribs], joints: model.joints.map((j) => ({ ...j })) };
}
