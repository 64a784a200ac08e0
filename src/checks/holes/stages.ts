import type { Joint, Model, Stage } from '../../model/schema.ts';
import { once } from '../../once.ts';

/*
 * The order of assembly: which layer arrives when. Taken apart and put back, a layer remembers that it was in.
 */

/**
 * Place of a stage in the order; the present one when `id` is left out; after the last when the panel has no stages.
 */
export function stageIndex(model: Model, id: string | undefined = model.now): number {
  const at = model.stages.findIndex((s) => s.id === id);
  return at >= 0 ? at : model.stages.length - 1;
}

/** By stage, the parts that some stage brings or takes: how often each was put in by then; negative while it is off. */
const comings = once((stages: readonly Stage[]): readonly ReadonlyMap<string, number>[] => {
  const now = new Map<string, number>();
  const takenFirst = new Set<string>();
  const seen = new Set<string>();
  for (const s of stages) {
    for (const part of s.takes ?? []) if (!seen.has(part)) takenFirst.add(part);
    for (const part of [...(s.takes ?? []), ...s.brings]) seen.add(part);
  }
  for (const part of takenFirst) now.set(part, 1);
  return stages.map((s) => {
    for (const part of s.takes ?? []) now.set(part, -Math.abs(now.get(part) ?? 0));
    for (const part of s.brings) if ((now.get(part) ?? 0) <= 0) now.set(part, Math.abs(now.get(part) ?? 0) + 1);
    return new Map(now);
  });
});

const everNamed = once(
  (stages: readonly Stage[]): ReadonlySet<string> => new Set(stages.flatMap((s) => [...s.brings, ...(s.takes ?? [])])),
);

/**
 * Parts that are in at a stage: brought by it or an earlier one and not taken off since, or named by none, which
 * means they were there from the start.
 */
export function partsIn(model: Model, at: number): (part: string) => boolean {
  const now = comings(model.stages)[at];
  const named = everNamed(model.stages);
  return (part) => !now || !named.has(part) || (now.get(part) ?? 0) > 0;
}

/**
 * Parts taken off and put in again by a stage: their holes are as they were drilled, but the parts may not lie where
 * they lay.
 */
export function putBack(model: Model, at: number): (part: string) => boolean {
  const now = comings(model.stages)[at];
  return (part) => (now?.get(part) ?? 0) > 1;
}

/** Parts that were in and are off at a stage. */
export function takenOff(model: Model, at: number): (part: string) => boolean {
  const now = comings(model.stages)[at];
  return (part) => (now?.get(part) ?? 0) < 0;
}

/**
 * The first stage, from the first or from a given one, at which every layer of a joint is in; undefined when there is
 * none.
 */
export function earliestStage(model: Model, joint: Joint, from = 0): Stage | undefined {
  for (let i = from; i < model.stages.length; i++) {
    const isIn = partsIn(model, i);
    if (joint.layers.every(isIn)) return model.stages[i];
  }
  return undefined;
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
