import type { Kernel } from '../../geometry/kernel.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { solidsOf } from '../../parts/placed/solids.ts';
import type { Job } from '../paper/frame.ts';
import type { Sheet } from '../paper/page.ts';
import { type CardSize, stepCards } from './stepCards.ts';
import { stepPicture } from './stepPicture.ts';
import { stepsOf } from './steps.ts';

/**
 * Every step card of a panel, each with its picture from the solids; the modeller is given, for it is loaded only
 * where it is asked.
 */
export function drawnStepCards(job: Job, kernel: Kernel, cards?: CardSize): Sheet {
  const parts = solidsOf(skeletonOf(job.model), { magnify: 1 }).map(({ id, solid }) => ({
    id,
    mesh: kernel.build(solid),
  }));
  const steps = stepsOf(job.model);
  return stepCards(job, steps, new Map(steps.map((step) => [step.id, stepPicture(step, parts)])), cards);
}
