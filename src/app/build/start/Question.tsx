import { runningFrom } from '../../../model/chained.ts';
import type { Model } from '../../../model/schema.ts';
import type { AnswerValue, StartQuestion } from '../../../model/starts/asked.ts';
import { useDesk } from '../desk.ts';
import { type Answered, comesTo, putText, useTyped, written } from './answers.ts';

/** Up to so many choices lie open side by side; more are a list. */
const FEW = 3;

const take = (q: StartQuestion): void => useDesk.getState().set({ question: q.id });

interface BoxProps {
  readonly id: string;
  readonly q: StartQuestion;
  readonly value: AnswerValue;
  readonly wrong: boolean;
  readonly put: (text: string) => void;
}

function OpenChoices({ id, q, value, put }: BoxProps) {
  return (
    <div className="ask-choices" role="radiogroup" aria-labelledby={`${id}-name`} onFocus={() => take(q)}>
      {q.choices?.map(([choice, words]) => (
        <label key={choice} className="ask-choice">
          <input type="radio" name={id} checked={value === choice} onChange={() => put(choice)} /> {words}
        </label>
      ))}
    </div>
  );
}

function ListOfChoices({ id, q, value, put }: BoxProps) {
  return (
    <select id={id} value={String(value)} onFocus={() => take(q)} onChange={(e) => put(e.target.value)}>
      {q.choices?.map(([choice, words]) => (
        <option key={choice} value={choice}>
          {words}
        </option>
      ))}
    </select>
  );
}

function TextBox({ id, q, text, own, wrong, put }: Omit<BoxProps, 'value'> & { text: string; own: boolean }) {
  return (
    <input
      id={id}
      value={text}
      className={own ? 'own' : ''}
      inputMode={q.kind === 'count' ? 'numeric' : 'text'}
      autoComplete="off"
      spellCheck={false}
      aria-invalid={wrong}
      aria-describedby={`${id}-note`}
      placeholder={q.kind === 'places' ? 'evenly spaced' : ''}
      onFocus={(e) => {
        take(q);
        e.target.select();
      }}
      onChange={(e) => put(e.target.value)}
    />
  );
}

/** What is wrong with an answer, else what it comes to; and a way out where places look chained. */
function Note({ id, q, value, wrong, laid, put, units }: NoteProps) {
  const running = q.kind === 'places' && typeof value === 'object' ? runningFrom(value) : undefined;
  return (
    <p id={`${id}-note`} className={wrong ? 'refused' : 'small'} role={wrong ? 'alert' : undefined}>
      {wrong ?? comesTo(q, laid) ?? ''}
      {running && (
        <button type="button" className="quiet" onClick={() => put(written(q, running, units))}>
          These look like distances from rib to rib: add them up to running ones
        </button>
      )}
    </p>
  );
}

interface NoteProps extends Omit<BoxProps, 'wrong'> {
  readonly wrong: string | undefined;
  readonly laid: Model;
  readonly units: Model['units'];
}

/** One question with its answer: open choices, a list of them, or a box. */
export function Question({ q, answered }: { q: StartQuestion; answered: Answered }) {
  const { start, answers, units, laid } = answered;
  const typed = useTyped(start)[q.id];
  const inHand = useDesk((s) => s.question === q.id);
  const id = `ask-${start.id}-${q.id}`;
  const wrong = answered.wrong.get(q.id);
  const value = answers[q.id] ?? q.usual;
  const open = q.kind === 'choice' && (q.choices?.length ?? 0) <= FEW;
  const wide = q.kind === 'places' || (q.kind === 'choice' && !open);
  const box = { id, q, value, wrong: wrong !== undefined, put: (text: string) => putText(start, q.id, text) };
  return (
    <div className={`ask${inHand ? ' in-hand' : ''}${wide ? ' wide' : ''}`}>
      {open ? (
        <span id={`${id}-name`}>{q.ask}</span>
      ) : (
        <label htmlFor={id} id={`${id}-name`}>
          {q.ask}
        </label>
      )}
      {q.kind !== 'choice' && <TextBox {...box} text={typed ?? written(q, value, units)} own={typed !== undefined} />}
      {q.kind === 'choice' && open && <OpenChoices {...box} />}
      {q.kind === 'choice' && !open && <ListOfChoices {...box} />}
      <Note {...box} wrong={wrong} laid={laid} units={units} />
    </div>
  );
}
