import { tickOf } from '../../model/edits/ticks.ts';
import type { Model } from '../../model/schema.ts';
import type { Step } from '../../sheets/steps/step.ts';
import { lastInitials } from '../state/initials.ts';
import { useApp } from '../state/store.ts';
import { isDone, isTaken, passedGate, stagesOf, toggleTick } from './stepState.ts';

/** What a step is known to be, after its title: who ticked it and when, or why it counts as done. */
function StepNote({ step, all }: { step: Step; all: readonly Step[] }) {
  const model = useApp((s) => s.model);
  const tick = tickOf(model, step.id);
  const passed = passedGate(model, all, step);
  if (tick)
    return (
      <small>
        {tick.by} {tick.date}
      </small>
    );
  if (step.done) return <small>done, says the panel file</small>;
  if (passed) return <small>{passed}</small>;
  return isTaken(model, step) && <small>taken as done: its stage is behind</small>;
}

/** One line of the list: its tick, its number and its action; opens it full size. */
function StepRow({ step, all, onOpen }: { step: Step; all: readonly Step[]; onOpen: () => void }) {
  const model = useApp((s) => s.model);
  const done = isDone(model, step);
  const behind = done || isTaken(model, step) || passedGate(model, all, step) !== undefined;
  return (
    <li className="step-row">
      <label className="step-check">
        <input
          type="checkbox"
          checked={done}
          aria-label={`${step.title}: done`}
          disabled={step.done && !tickOf(model, step.id)}
          onChange={() => toggleTick(step, lastInitials())}
        />
      </label>
      <button type="button" className="row-plain" onClick={onOpen}>
        {step.number}. {step.title} {step.held && !behind && <span className="step-mark">not yet</span>}{' '}
        <StepNote step={step} all={all} />
      </button>
    </li>
  );
}

/** `14 of 23 done`, or how many of a stage behind are taken as done. */
function countText(model: Model, steps: readonly Step[]): string {
  const done = steps.filter((s) => isDone(model, s)).length;
  const taken = steps.filter((s) => isTaken(model, s)).length;
  if (taken === 0) return `${done} of ${steps.length} done`;
  return taken === steps.length ? `all ${taken} taken as done` : `${done} done, ${taken} taken as done`;
}

interface Props {
  readonly steps: readonly Step[];
  /** Every step of the panel, which `steps` are some of. */
  readonly all: readonly Step[];
  /** The stage that stands open. */
  readonly open: string;
  onOpen(at: number): void;
}

/** Steps by their stages, each to be ticked and to be opened full size. */
export function StepList({ steps, all, open, onOpen }: Props) {
  const model = useApp((s) => s.model);
  return (
    <>
      {stagesOf(steps).map(([id, name]) => {
        const own = steps.filter((s) => s.stage === id);
        return (
          <details key={id} className="step-stage" open={id === open}>
            <summary>
              <b>{name || 'The whole panel'}</b> <span>{countText(model, own)}</span>
            </summary>
            <ol>
              {own.map((s) => (
                <StepRow key={s.id} step={s} all={all} onOpen={() => onOpen(all.indexOf(s))} />
              ))}
            </ol>
          </details>
        );
      })}
    </>
  );
}
