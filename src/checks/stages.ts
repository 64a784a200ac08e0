import type { Joint, Model, Stage } from '../model/schema.ts';

/*
 * The order of assembly: which layer arrives when. Taken apart and put back, a layer remembers that it was in.
 */

/** Place of a stage in the order; the present one when `id` is left out; after the last when the panel has no stages. */
export function stageIndex(model: Model, id: string | undefined = model.now): number {
  const at = model.stages.findIndex((s) => s.id === id);
  return at >= 0 ? at : model.stages.length - 1;
}

/** Parts that are in at a stage: brought by it or an earlier one, or by none, which means they were there from the start. */
export function partsIn(model: Model, at: number): (part: string) => boolean {
  const arrives = new Map<string, number>();
  model.stages.forEach((s, i) => s.brings.forEach((part) => {
    if (!arrives.has(part)) arrives.set(part, i);
  }));
  return (part) => (arrives.get(part) ?? 0) <= at;
}

/** The first stage at which every layer of a joint is in; undefined when the panel has no stages. */
export function earliestStage(model: Model, joint: Joint): Stage | undefined {
  for (let i = 0; i < model.stages.length; i++) {
    const isIn = partsIn(model, i);
    if (joint.layers.every(isIn)) return model.stages[i];
  }
  return model.stages.at(-1);
}

/** The stage whose plan opens a joint to final; undefined when no stage says so. */
export function opensAt(model: Model, joint: Joint): number | undefined {
  const at = model.stages.findIndex((s) => s.opens.includes(joint.id));
  return at < 0 ? undefined : at;
}

/** Layers of a joint that are not in yet at a stage. */
export function missingLayers(model: Model, joint: Joint, at: number): string[] {
  const isIn = partsIn(model, at);
  return joint.layers.filter((part) => !isIn(part));
}
