import { useState } from 'react';
import { tickOf } from '../../model/edits/ticks.ts';
import type { Model } from '../../model/schema.ts';
import type { Bay } from '../../parts/layout/layout.ts';
import { logOf, logSheet, logTable } from '../../sheets/bench/log.ts';
import type { Step } from '../../sheets/steps/step.ts';
import { stepsOf } from '../../sheets/steps/steps.ts';
import type { Answer } from '../answer.ts';
import { fileStem, saveAs } from '../files/saveAs.ts';
import { useApp } from '../state/store.ts';
import { today } from '../state/today.ts';
import { CardsPrint, savePdf } from './CardsPrint.tsx';
import './helper.css';
import { Paper } from '../paper/Paper.tsx';
import { lastInitials, StepScreen, toggleTick } from './StepScreen.tsx';
import { StepPictures, StepWords } from './StepView.tsx';
import { isDone, isTaken, nextStep, passedGate } from './stepState.ts';
import { useStepPicture } from './useStepPicture.ts';

/** One line of the list: its tick, its number and its action; opens it full size. */
function StepRow({ step, all, onOpen }: { step: Step; all: readonly Step[]; onOpen: () => void }) {
  const model = useApp((s) => s.model);
  const tick = tickOf(model, step.id);
  const done = isDone(model, step);
  const taken = isTaken(model, step);
  const passed = passedGate(model, all, step);
  return (
    <li className="step-row">
      <button
        type="button"
        role="checkbox"
        aria-checked={done}
        aria-label={`${step.title}: done`}
        disabled={step.done && !tick}
        className="step-check"
        onClick={() => toggleTick(step, lastInitials())}
      >
        <span className="step-box" aria-hidden="true">
          {done ? '✓' : ''}
        </span>
      </button>
      <button type="button" className="row-plain" onClick={onOpen}>
        {step.number}. {step.title}{' '}
        {step.held && !done && !taken && !passed && <span className="step-mark">not yet</span>}{' '}
        {tick ? (
          <small>
            {tick.by} {tick.date}
          </small>
        ) : step.done ? (
          <small>done, says the panel file</small>
        ) : passed ? (
          <small>{passed}</small>
        ) : (
          taken && <small>taken as done: its stage is behind</small>
        )}
      </button>
    </li>
  );
}

function StepList({
  steps,
  all,
  onOpen,
  open,
}: {
  steps: readonly Step[];
  all: readonly Step[];
  onOpen: (at: number) => void;
  open: string;
}) {
  const model = useApp((s) => s.model);
  const stages = [...new Map(steps.map((s) => [s.stage, s.stageName])).entries()];
  return (
    <>
      {stages.map(([id, name]) => {
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

/** `14 of 23 done`, or how many of a stage behind are taken as done. */
function countText(model: Model, steps: readonly Step[]): string {
  const done = steps.filter((s) => isDone(model, s)).length;
  const taken = steps.filter((s) => isTaken(model, s)).length;
  if (taken === 0) return `${done} of ${steps.length} done`;
  return taken === steps.length ? `all ${taken} taken as done` : `${done} done, ${taken} taken as done`;
}

/** Whether a line already names its station. */
const names = (what: string, station: string): boolean =>
  new RegExp(`(^|[^A-Za-z0-9-])${station}($|[^A-Za-z0-9])`).test(what);

/** The log: how many lines, the last of them, and how to take it out of the program. */
function Log({ station }: { station?: string }) {
  const model = useApp((s) => s.model);
  const lines = logOf(model).filter((l) => station === undefined || l.station === station);
  const name = fileStem(model.name);
  return (
    <section className="log" aria-label="Builder's log">
      <h2>Builder's log</h2>
      <p className="small">
        {lines.length} {lines.length === 1 ? 'line' : 'lines'}: every reading, change and step, with its day.
      </p>
      {lines.length > 0 && (
        <details open={station !== undefined && lines.length <= 12}>
          <summary>Read it here</summary>
          <table>
            <thead>
              <tr>
                <th>day</th>
                <th>what</th>
              </tr>
            </thead>
            <tbody>
              {[...lines]
                .reverse()
                .slice(0, 400)
                .map((l, i) => (
                  <tr key={i}>
                    <td>{l.date || 'no day'}</td>
                    <td>
                      {l.kind === 'step done' ? '✓ ' : ''}
                      {l.what}
                      {l.by && ` (${l.by})`}
                      {station === undefined && l.station && !names(l.what, l.station) && <small> {l.station}</small>}
                    </td>
                  </tr>
                ))}
            </tbody>
          </table>
        </details>
      )}
      {station === undefined && (
        <p className="log-out">
          <button
            type="button"
            className="take"
            onClick={() =>
              void savePdf(
                [logSheet({ model, date: today(), paper: model.units === 'in' ? 'letter' : 'a4' })],
                `${model.name} log`,
              )
            }
          >
            Print the log
          </button>
          <button
            type="button"
            className="quiet"
            onClick={() => saveAs(logTable(model), `${name}-log.csv`, 'text/csv')}
          >
            Save it as a table
          </button>
        </p>
      )}
    </section>
  );
}

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
  const next = own.find((s) => !isDone(model, s));
  return (
    <>
      {own.length === 0 ? (
        <p>No step belongs to this station alone.</p>
      ) : (
        <StepList steps={own} all={steps} onOpen={setAt} open={next?.stage ?? own[0]!.stage} />
      )}
      <Log station={bay.station.id} />
      {at !== null && <StepScreen steps={steps} at={at} onAt={setAt} onClose={() => setAt(null)} />}
    </>
  );
}

/** Who does what? Step cards in the order of assembly, full size for a helper; the log. */
export const HELPER: Answer = {
  headline: (model) => {
    const steps = stepsOf(model);
    const done = steps.filter((s) => isDone(model, s)).length;
    const next = nextStep(model, steps);
    return next ? `Next: ${next.number}. ${next.title}.`.replace('?.', '?') : `All ${done} steps are done.`;
  },
  lead: (model) => {
    const steps = stepsOf(model);
    const done = steps.filter((s) => isDone(model, s)).length;
    const taken = steps.filter((s) => isTaken(model, s)).length;
    return taken > 0
      ? `${done + taken} of ${steps.length} steps are done, ${taken} of them taken as done: their stages are behind.`
      : `${done} of ${steps.length} steps are done.`;
  },
  Whole: HelperWhole,
  Station: HelperStation,
};
