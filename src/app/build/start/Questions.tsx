import { type ToggleEvent, useMemo, useState } from 'react';
import { onPaper } from '../../../drilling/onPaper.ts';
import type { Start, StartGroup, StartQuestion } from '../../../model/starts/asked.ts';
import { echo } from '../../../units.ts';
import { useDesk } from '../desk.ts';
import { type Answered, layOnBench, useAnswered } from './answers.ts';
import { Question } from './Question.tsx';
import { StartDrawing } from './StartDrawing.tsx';
import { Title } from './Title.tsx';

/** The answers most builders leave as they are, folded away; they come out by themselves where one is wrong. */
function Folded({ questions, answered }: { questions: readonly StartQuestion[]; answered: Answered }) {
  const [open, setOpen] = useState(false);
  // Once out they stay out until they are folded by hand: what is half typed must not go from under the fingers.
  const wrong = questions.some((q) => answered.wrong.has(q.id));
  const one = questions.length === 1;
  const toggled = ({ currentTarget: fold }: ToggleEvent<HTMLDetailsElement>): void => {
    setOpen(fold.open);
    const byHand = document.activeElement?.matches('summary') && fold.contains(document.activeElement);
    if (fold.open && byHand) fold.querySelector<HTMLElement>('input, select')?.focus({ preventScroll: true });
  };
  return (
    <details open={open || wrong} onToggle={toggled}>
      <summary>
        More: {questions.length} {one ? 'answer' : 'answers'} most leave as {one ? 'it is' : 'they are'}
      </summary>
      {questions.map((q) => (
        <Question key={q.id} q={q} answered={answered} />
      ))}
    </details>
  );
}

function Group({ group, answered }: { group: StartGroup; answered: Answered }) {
  const asked = group.questions.filter((q) => answered.asked.has(q.id));
  const folded = asked.filter((q) => q.more);
  if (asked.length === 0) return null;
  return (
    <fieldset>
      <legend>{group.name}</legend>
      {asked
        .filter((q) => !q.more)
        .map((q) => (
          <Question key={q.id} q={q} answered={answered} />
        ))}
      {folded.length > 0 && <Folded questions={folded} answered={answered} />}
    </fieldset>
  );
}

/** Where the answer to the question in hand is to be found, and what it is in both units. */
function Where({ answered, inHand }: { answered: Answered; inHand: StartQuestion | undefined }) {
  const value = inHand && answered.answers[inHand.id];
  return (
    <p className="start-where" role="status">
      {inHand ? (
        <>
          <b>{inHand.where}</b>
          {inHand.kind === 'length' && typeof value === 'number' ? ` You have ${echo(value)}.` : ''}
        </>
      ) : (
        'Tap a question: the drawing points at what it asks for, and here it says where to find it.'
      )}
    </p>
  );
}

/** What stands at the foot: what is to be looked at again, what does not fit on paper, or how large the panel is. */
function footWords({ wrong, laid }: Answered): string {
  if (wrong.size === 1) return 'One answer needs another look.';
  if (wrong.size > 1) return `${wrong.size} answers need another look.`;
  const off = onPaper(laid).find((f) => f.verdict !== 'fits');
  if (off) return `On paper: ${off.sentence}`;
  const holes = laid.joints.reduce((n, j) => n + j.holes.length, 0);
  return `${laid.ribs.length} ribs, ${holes} holes. On paper everything fits.`;
}

function Foot({ answered }: { answered: Answered }) {
  const wrong = answered.wrong.size > 0;
  const words = useMemo(() => footWords(answered), [answered]);
  return (
    <div className="start-foot">
      <p className={wrong ? 'refused' : 'small'} role="status">
        {words}
      </p>
      <button type="submit" className="take" disabled={wrong}>
        Lay it on the bench
      </button>
      <p className="small">The panel there now is kept: undo brings it back.</p>
    </div>
  );
}

/**
 * The questions of the start in hand, with a drawing that changes as they are answered; the panel is laid when all
 * can be.
 */
export function Questions({ start }: { start: Start }) {
  const answered = useAnswered(start);
  const question = useDesk((s) => s.question);
  const inHand = start.groups.flatMap((g) => g.questions).find((q) => q.id === question);
  const atTip = inHand?.id.endsWith('Tip') ?? false;
  return (
    <>
      <div className="start-bench">
        <StartDrawing model={answered.laid} points={inHand?.points ?? null} atTip={atTip} />
        <Where answered={answered} inHand={inHand} />
      </div>
      <form
        className="start-questions"
        aria-label={start.name}
        onSubmit={(e) => {
          e.preventDefault();
          layOnBench(answered);
        }}
      >
        <div className="card-head">
          <Title>{start.name}</Title>
          <button
            type="button"
            className="icon"
            aria-label="Choose another start"
            onClick={() => useDesk.getState().set({ start: null })}
          >
            ✕
          </button>
        </div>
        {start.groups.map((g) => (
          <Group key={g.name} group={g} answered={answered} />
        ))}
        <Foot answered={answered} />
      </form>
    </>
  );
}
