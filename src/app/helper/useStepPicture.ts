import { useEffect, useState } from 'react';
import type { Model } from '../../model/schema.ts';
import type { Step } from '../../sheets/steps/step.ts';
import type { StepPicture } from '../../sheets/steps/stepPicture.ts';
import { stepsOf } from '../../sheets/steps/steps.ts';

/** Pictures by step, for as long as the steps they belong to stand. */
const drawn = new WeakMap<readonly Step[], Map<string, Promise<StepPicture>>>();

/** The picture of a step, drawn once away from the screen. */
export function drawStep(model: Model, step: Step): Promise<StepPicture> {
  const steps = stepsOf(model);
  const had = drawn.get(steps) ?? new Map<string, Promise<StepPicture>>();
  drawn.set(steps, had);
  let picture = had.get(step.id);
  if (!picture) {
    picture = import('../workers/cutter.ts').then(({ pictureOf }) => pictureOf(model, step));
    // What could not be drawn is tried anew the next time.
    picture.catch(() => had.delete(step.id));
    had.set(step.id, picture);
  }
  return picture;
}

/**
 * The picture of the step on screen: null while it is drawn, false where it cannot be. The one after it is drawn
 * ahead.
 */
export function useStepPicture(model: Model, step: Step | undefined, ahead?: Step): StepPicture | null | false {
  const [shown, setShown] = useState<{ step: Step; picture: StepPicture | false }>();
  useEffect(() => {
    if (!step) return undefined;
    let wanted = true;
    drawStep(model, step)
      .then((picture) => {
        if (wanted) setShown({ step, picture });
        return ahead && wanted ? drawStep(model, ahead) : undefined;
      })
      .catch(() => {
        if (wanted) setShown((was) => (was?.step === step && was.picture ? was : { step, picture: false }));
      });
    return () => {
      wanted = false;
    };
    // A tick makes a new model and the same steps: nothing is drawn again for it.
  }, [model, step, ahead]);
  return shown && shown.step === step ? shown.picture : null;
}
