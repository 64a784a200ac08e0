import { askHoles } from '../../drilling/drill.ts';
import type { HoleAnswer } from '../../drilling/hole.ts';
import type { Model, Stage } from '../../model/schema.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { useApp } from '../state/store.ts';

/** The holes as the screen shows them: at the present stage, or looking ahead (or back) to another. */
export interface ShownHoles {
  readonly answers: readonly HoleAnswer[];
  /** The stage shown; undefined where the panel has none. */
  readonly stage: Stage | undefined;
  /** Its place in the order. */
  readonly at: number;
  readonly present: boolean;
  /** It is a stage before the present one. */
  readonly back: boolean;
}

/** The holes at a stage of a panel: its present one, or one looked ahead (or back) to. */
export function holesShown(model: Model, ahead: string | null): ShownHoles {
  const id = ahead !== null && model.stages.some((s) => s.id === ahead) ? ahead : model.now;
  const present = id === model.now;
  const at = model.stages.findIndex((s) => s.id === id);
  return {
    answers: askHoles(skeletonOf(model), present || id === undefined ? {} : { stage: id, ahead: true }),
    stage: model.stages[at],
    at,
    present,
    back: at < model.stages.findIndex((s) => s.id === model.now),
  };
}

export function useHoles(): ShownHoles {
  return holesShown(
    useApp((s) => s.model),
    useApp((s) => s.ahead),
  );
}
