import { useEffect, useRef, useState } from 'react';
import { createPortal } from 'react-dom';
import { ticked, tickOf, unticked } from '../../model/edits/ticks.ts';
import type { Step } from '../../sheets/steps/step.ts';
import { useApp } from '../state/store.ts';
import { today } from '../state/today.ts';
import { StepPictures, StepWords } from './StepView.tsx';
import { passedGate } from './stepState.ts';
import { useStepPicture } from './useStepPicture.ts';

/** Keys of a keyboard, and of the foot switches that act as one. */
const NEXT = ['PageDown', 'ArrowRight', 'ArrowDown', ' ', 'Enter'];
const BACK = ['PageUp', 'ArrowLeft', 'ArrowUp', 'Backspace'];

/** Who ticked last, so that initials are asked once. */
export function lastInitials(): string {
  return useApp.getState().model.ticks?.at(-1)?.by ?? '';
}

/** Ticks a step, or takes its tick back. */
export function toggleTick(step: Step, by: string): void {
  const { model, edit } = useApp.getState();
  edit(
    tickOf(model, step.id)
      ? unticked(step.id, step.title)
      : ticked(step.id, step.title, { by: by.trim().slice(0, 12), date: today() }),
  );
}

/** Next and back by key; everything else on the page holds still meanwhile. */
function useStepKeys(go: (by: 1 | -1) => void, close: () => void, box: React.RefObject<HTMLElement | null>): void {
  useEffect(() => {
    const onKey = (e: KeyboardEvent) => {
      if (e.ctrlKey || e.metaKey || e.altKey) return;
      if (e.target instanceof HTMLInputElement) {
        if (e.key === 'Escape' || e.key === 'Enter') box.current?.focus();
        e.stopPropagation();
        return;
      }
      // A button reached by Tab is pressed by Enter or Space; a foot switch must go on all the same after a tap on one.
      const onButton =
        e.target instanceof HTMLButtonElement &&
        e.target.matches(':focus-visible') &&
        (e.key === 'Enter' || e.key === ' ');
      if (onButton || e.key === 'Tab') return;
      e.stopPropagation();
      if (e.key === 'Escape') close();
      else if (NEXT.includes(e.key)) go(1);
      else if (BACK.includes(e.key)) go(-1);
      else return;
      e.preventDefault();
    };
    document.addEventListener('keydown', onKey, true);
    return () => document.removeEventListener('keydown', onKey, true);
  }, [go, close, box]);
}

/** One step over the whole screen, to be read from 1.5 m: next and back by tap, key or foot switch. */
export function StepScreen({
  steps,
  at,
  onAt,
  onClose,
}: {
  steps: readonly Step[];
  at: number;
  onAt: (at: number) => void;
  onClose: () => void;
}) {
  const model = useApp((s) => s.model);
  const step = steps[Math.min(at, steps.length - 1)];
  const picture = useStepPicture(model, step, steps[at + 1]);
  const [by, setBy] = useState(lastInitials);
  const box = useRef<HTMLDivElement>(null);
  const go = (d: 1 | -1): void => onAt(Math.min(Math.max(at + d, 0), steps.length - 1));
  useStepKeys(go, onClose, box);
  useEffect(() => {
    // What lies behind is out of reach, for Tab and for the ear.
    const behind = document.getElementById('app');
    behind?.setAttribute('inert', '');
    box.current?.focus();
    // A tablet shows it without its own bars where it may.
    void box.current?.requestFullscreen?.().catch(() => undefined);
    return () => {
      behind?.removeAttribute('inert');
      if (document.fullscreenElement) void document.exitFullscreen().catch(() => undefined);
    };
  }, []);
  useEffect(() => {
    box.current?.querySelector('.step-body')?.scrollTo({ top: 0 });
  }, [at]);
  if (!step) return null;
  const tick = tickOf(model, step.id);
  return createPortal(
    <div
      ref={box}
      className="step-screen"
      role="dialog"
      aria-modal="true"
      aria-label={`Step ${step.number}: ${step.title}`}
      tabIndex={-1}
    >
      <div className="step-head">
        <p>
          Step {step.number} of {steps.length}
          {step.stageName && <span> · {step.stageName}</span>}
        </p>
        <button type="button" className="step-close" onClick={onClose}>
          Close
        </button>
      </div>
      <div className="step-body" role="region" aria-label="What to do" aria-live="polite" tabIndex={0}>
        <h1>
          {step.number}. {step.title}
        </h1>
        <StepPictures step={step} picture={picture} />
        <StepWords step={step} units={model.units} passed={passedGate(model, steps, step)} />
      </div>
      <div className="step-foot">
        <button type="button" disabled={at === 0} onClick={() => go(-1)}>
          <span aria-hidden="true">◂</span> Back
        </button>
        <div className="step-tick">
          <button type="button" role="checkbox" aria-checked={tick !== undefined} onClick={() => toggleTick(step, by)}>
            <span className="step-box" aria-hidden="true">
              {tick ? '✓' : ''}
            </span>{' '}
            {tick ? `Done${tick.by ? `, ${tick.by}` : ''}` : 'Done'}
          </button>
          <label>
            <span>Initials</span>{' '}
            <input
              value={by}
              maxLength={12}
              autoComplete="off"
              placeholder="by"
              onChange={(e) => setBy(e.target.value)}
            />
          </label>
        </div>
        <button type="button" disabled={at === steps.length - 1} onClick={() => go(1)}>
          Next <span aria-hidden="true">▸</span>
        </button>
      </div>
    </div>,
    document.body,
  );
}
