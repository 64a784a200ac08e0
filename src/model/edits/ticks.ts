import type { Model, Tick } from '../schema.ts';
import type { Edit } from './edits.ts';

/** The tick of a step, or nothing while it is not done. */
export function tickOf(model: Model, step: string): Tick | undefined {
  return model.ticks?.find((t) => t.step === step);
}

/** Ticks a step as done: by whom, and on which day. A second tick takes the place of the first. */
export function ticked(step: string, title: string, { by, date }: Pick<Tick, 'by' | 'date'>): Edit {
  return {
    name: `ticked: ${title}`,
    quiet: true,
    apply: (m) => ({ ...m, ticks: [...(m.ticks ?? []).filter((t) => t.step !== step), { step, by, date }] }),
  };
}

/** Takes a step's tick back. */
export function unticked(step: string, title: string): Edit {
  return {
    name: `took back the tick: ${title}`,
    quiet: true,
    apply: (m) => ({ ...m, ticks: (m.ticks ?? []).filter((t) => t.step !== step) }),
  };
}
