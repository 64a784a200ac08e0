import { useState } from 'react';
import type { Model } from '../../model/schema.ts';
import type { Bay } from '../../parts/layout/layout.ts';
import { stepsOf } from '../../sheets/steps/steps.ts';
import type { Answer } from '../answer.ts';
import { Paper } from '../paper/Paper.tsx';
import { useApp } from '../state/store.ts';
import { CardsPrint } from './CardsPrint.tsx';
import { Log } from './Log.tsx';
import { StepList } from './StepList.tsx';
import { StepScreen } from './StepScreen.tsx';
import { StepPictures, StepWords } from './StepView.tsx';
import { isDone, isTaken, nextStep } from './stepState.ts';
import { useStepPicture } from './useStepPicture.ts';
import './helper.css';

function HelperWhole() {
  const model = useApp((s) => s.model);
  const steps = stepsOf(model);
  const next = nextStep(model, steps);
  const [at, setAt] = useState<number | null>(null);
  const picture = useStepPicture(model, next);
  return (
    <>
      {next && (
        <section className="step-next" aria-label="The next step">
          <StepPictures step={next} picture={picture} />
          <StepWords step={next} units={model.units} />
          <button type="button" className="take step-full" onClick={() => setAt(steps.indexOf(next))}>
            Show full size
          </button>
        </section>
      )}
      <StepList steps={steps} all={steps} onOpen={setAt} open={next?.stage ?? ''} />
      <CardsPrint steps={steps} />
      <Paper />
      <Log />
      {at !== null && <StepScreen steps={steps} at={at} onAt={setAt} onClose={() => setAt(null)} />}
    </>
  );
}

function HelperStation({ bay }: { bay: Bay }) {
  const model = useApp((s) => s.model);
  const steps = stepsOf(model);
  const own = steps.filter((s) => s.station === bay.station.id);
  const [at, setAt] = useState<number | null>(null);
  const next = own.find((s) => !isDone(model, s)) ?? own[0];
  return (
    <>
      {next ? (
        <StepList steps={own} all={steps} onOpen={setAt} open={next.stage} />
      ) : (
        <p>No step belongs to this station alone.</p>
      )}
      <Log station={bay.station.id} />
      {at !== null && <StepScreen steps={steps} at={at} onAt={setAt} onClose={() => setAt(null)} />}
    </>
  );
}

const doneCount = (model: Model): number => stepsOf(model).filter((s) => isDone(model, s)).length;

function headline(model: Model): string {
  const next = nextStep(model, stepsOf(model));
  if (!next) return `All ${doneCount(model)} steps are done.`;
  const stop = next.title.endsWith('?') ? '' : '.';
  return `Next: ${next.number}. ${next.title}${stop}`;
}

function lead(model: Model): string {
  const steps = stepsOf(model);
  const done = doneCount(model);
  const taken = steps.filter((s) => isTaken(model, s)).length;
  if (taken === 0) return `${done} of ${steps.length} steps are done.`;
  return `${done + taken} of ${steps.length} steps are done, ${taken} of them taken as done: their stages are behind.`;
}

/** Who does what? Step cards in the order of assembly, full size for a helper; the log. */
export const HELPER: Answer = { headline, lead, Whole: HelperWhole, Station: HelperStation };
