import { ticked, tickOf, unticked } from '../../model/edits/ticks.ts';
import type { Model } from '../../model/schema.ts';
import type { Step } from '../../sheets/steps/step.ts';
import { useApp } from '../state/store.ts';
import { today } from '../state/today.ts';

/** The stages steps belong to, in their order, each with its name. */
export const stagesOf = (steps: readonly Step[]): readonly (readonly [id: string, name: string])[] => [
  ...new Map(steps.map((s) => [s.stage, s.stageName])),
];

/** Done: ticked, or the panel file says so. */
export const isDone = (model: Model, step: Step): boolean => step.done || tickOf(model, step.id) !== undefined;

const stageAt = (model: Model, id: string | undefined): number => model.stages.findIndex((s) => s.id === id);

/**
 * Nobody ticked it, but its stage is behind: the panel has reached a later one. A piece that was added is open until
 * it is ticked.
 */
export const isTaken = (model: Model, step: Step): boolean =>
  !isDone(model, step) && !step.added && stageAt(model, step.stage) < stageAt(model, model.now);

/**
 * A gate that was asked too late: what it asks about is drilled already. In words, or undefined where it is still a
 * question.
 */
export function passedGate(model: Model, steps: readonly Step[], step: Step): string | undefined {
  if (step.kind !== 'ask' || !step.held) return undefined;
  const next = steps[steps.indexOf(step) + 1];
  if (!next || !isDone(model, next)) return undefined;
  if (next.kind === 'pilot') return 'the pilots are in; the gate was not clean';
  return next.kind === 'open' ? 'the holes are open; the gate was not clean' : undefined;
}

/** The first step not done at the present stage or later; before it nothing is asked again. */
export function nextStep(model: Model, steps: readonly Step[]): Step | undefined {
  const now = stageAt(model, model.now);
  const open = (s: Step): boolean => !isDone(model, s) && passedGate(model, steps, s) === undefined;
  return steps.find((s) => (s.added || stageAt(model, s.stage) >= now) && open(s)) ?? steps.find(open);
}

/** Ticks a step, or takes its tick back. */
export function toggleTick(step: Step, by: string): void {
  const { model, edit } = useApp.getState();
  const tick = { by: by.trim().slice(0, 12), date: today() };
  edit(tickOf(model, step.id) ? unticked(step.id, step.title) : ticked(step.id, step.title, tick));
}
