import { type RefObject, useEffect, useRef, useState } from 'react';
import { tickOf } from '../../model/edits/ticks.ts';
import type { Step } from '../../sheets/steps/step.ts';
import { lastInitials } from '../state/initials.ts';
import { useApp } from '../state/store.ts';
import { Over } from '../widgets/Over.tsx';
import { StepPictures, StepWords } from './StepView.tsx';
import { passedGate, toggleTick } from './stepState.ts';
import { focusWhole, useStepKeys } from './useStepKeys.ts';
import { useStepPicture } from './useStepPicture.ts';
import './stepScreen.css';

interface Props {
  readonly steps: readonly Step[];
  readonly at: number;
  onAt(at: number): void;
  onClose(): void;
}

/**
 * A tablet shows it without its own bars where it may. The whole has the focus: no button is pressed by a foot
 * switch.
 */
function useFullScreen(box: RefObject<HTMLElement | null>): void {
  useEffect(() => {
    focusWhole(box);
    void box.current?.requestFullscreen?.().catch(() => undefined);
    return () => {
      if (document.fullscreenElement) void document.exitFullscreen().catch(() => undefined);
    };
  }, [box]);
}

/** The tick of a step, and whose it is. */
function Tick({ step }: { step: Step }) {
  const model = useApp((s) => s.model);
  const [by, setBy] = useState(lastInitials);
  const tick = tickOf(model, step.id);
  return (
    <div className="step-tick">
      <label className="step-done">
        <input type="checkbox" checked={tick !== undefined} onChange={() => toggleTick(step, by)} />{' '}
        {tick?.by ? `Done, ${tick.by}` : 'Done'}
      </label>
      <label>
        <span>Initials</span>{' '}
        <input
          className="initials"
          value={by}
          maxLength={12}
          autoComplete="off"
          placeholder="by"
          onChange={(e) => setBy(e.target.value)}
        />
      </label>
    </div>
  );
}

/** One step over the whole screen, to be read from 1.5 m: next and back by tap, key or foot switch. */
export function StepScreen({ steps, at, onAt, onClose }: Props) {
  const model = useApp((s) => s.model);
  const step = steps[Math.min(at, steps.length - 1)];
  const picture = useStepPicture(model, step, steps[at + 1]);
  const box = useRef<HTMLDivElement>(null);
  const body = useRef<HTMLElement>(null);
  const go = (by: 1 | -1): void => {
    onAt(Math.min(Math.max(at + by, 0), steps.length - 1));
    body.current?.scrollTo({ top: 0 });
  };
  useStepKeys(go, box);
  useFullScreen(box);
  if (!step) return null;
  return (
    <Over label={`Step ${step.number}: ${step.title}`} className="step-over" closedby="closerequest" onClose={onClose}>
      <div ref={box} className="step-screen">
        <div className="step-head">
          <p>
            Step {step.number} of {steps.length}
            {step.stageName && <span> · {step.stageName}</span>}
          </p>
          <button type="button" className="step-close" onClick={onClose}>
            Close
          </button>
        </div>
        {/* biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls is reached by Tab, or it cannot be read by keyboard */}
        <section ref={body} className="step-body" aria-label="What to do" aria-live="polite" tabIndex={0}>
          <h1>
            {step.number}. {step.title}
          </h1>
          <StepPictures step={step} picture={picture} />
          <StepWords step={step} units={model.units} passed={passedGate(model, steps, step)} />
        </section>
        <div className="step-foot">
          <button type="button" disabled={at === 0} onClick={() => go(-1)}>
            <span aria-hidden="true">◂</span> Back
          </button>
          <Tick step={step} />
          <button type="button" disabled={at === steps.length - 1} onClick={() => go(1)}>
            Next <span aria-hidden="true">▸</span>
          </button>
        </div>
      </div>
    </Over>
  );
}
