import { type KeyboardEvent, useEffect, useMemo, useRef } from 'react';
import { onPaper } from '../../drilling/onPaper.ts';
import { runningFrom } from '../../model/chained.ts';
import { writeModel } from '../../model/file/write.ts';
import type { Model } from '../../model/schema.ts';
import {
  type AnswerValue,
  askedBy,
  complete,
  readAnswer,
  type Start,
  type StartAnswers,
  type StartQuestion,
} from '../../model/starts/asked.ts';
import { easesMeant, ribMade } from '../../model/starts/eased.ts';
import { STARTS, startPanel } from '../../model/starts/starts.ts';
import { echo, exactLength, formatBoth, formatLength } from '../../units.ts';
import { useApp } from '../state/store.ts';
import { useDesk } from './desk.ts';
import { StartDrawing } from './StartDrawing.tsx';

/** How an answer stands in its box. */
function written(q: StartQuestion, value: AnswerValue, units: Model['units']): string {
  if (Array.isArray(value))
    return (value as readonly number[]).map((v) => exactLength(v, units).replace(/ (mm|in)$/, '')).join('  ');
  if (q.kind !== 'length' || typeof value !== 'number') return String(value);
  // Sheet is named in thousandths of an inch where it is a whole number of them: 0.032 in, as on the drawing.
  const mils = value / 0.0254;
  if (q.id.endsWith('Sheet') && Math.abs(mils - Math.round(mils)) < 1e-6) return formatLength(value, 'in');
  return exactLength(Math.round(value * 1e4) / 1e4, units);
}

interface Read {
  readonly answers: StartAnswers;
  /** What could not be read, by question. */
  readonly faults: Readonly<Record<string, string>>;
}

const NOTHING_TYPED: Readonly<Record<string, string>> = {};

/** The answers typed so far; what cannot be read keeps its usual answer until it can. */
function answersOf(start: Start, typed: Readonly<Record<string, string>>): Read {
  const units = typed['units'] === 'in' ? 'in' : 'mm';
  const answers: Record<string, AnswerValue> = {};
  const faults: Record<string, string> = {};
  for (const q of start.groups.flatMap((g) => g.questions)) {
    const text = typed[q.id];
    if (text === undefined) continue;
    const read = readAnswer(q, text, units);
    if (read.ok) answers[q.id] = read.value;
    else faults[q.id] = read.sentence;
  }
  return { answers: easesMeant(start, complete(start, answers)), faults };
}

/** What an ease comes to, to be held against the drawing: the first rib's own height or length. */
function comesTo(q: StartQuestion, laid: Model): string | undefined {
  const made = ribMade(laid);
  if (q.id === 'easeHeight' && made.height !== undefined)
    return `${made.end} comes out ${formatBoth(made.height)} high.`;
  if (q.id === 'easeLength' && made.length !== undefined)
    return `${made.rib} comes out ${formatBoth(made.length)} long.`;
  return undefined;
}

function Question({
  q,
  start,
  read,
  doubt,
  laid,
}: {
  q: StartQuestion;
  start: Start;
  read: Read;
  doubt: string | undefined;
  laid: Model;
}) {
  const typed = useDesk((s) => s.typed[start.id] ?? NOTHING_TYPED);
  const chosen = useDesk((s) => s.question);
  const { set } = useDesk.getState();
  const units: Model['units'] = typed['units'] === 'in' ? 'in' : 'mm';
  const value = read.answers[q.id] ?? q.usual;
  const text = typed[q.id] ?? written(q, value, units);
  const put = (t: string) => {
    const all = useDesk.getState().typed;
    set({ typed: { ...all, [start.id]: { ...all[start.id], [q.id]: t } }, question: q.id });
  };
  const id = `ask-${start.id}-${q.id}`;
  const wrong = read.faults[q.id] ?? doubt;
  const running = q.kind === 'places' && Array.isArray(value) ? runningFrom(value as readonly number[]) : undefined;
  const own = typed[q.id] !== undefined;
  return (
    <div
      className={`ask${chosen === q.id ? ' in-hand' : ''}${q.kind === 'places' || (q.kind === 'choice' && (q.choices?.length ?? 0) > 3) ? ' wide' : ''}`}
    >
      <label htmlFor={q.kind === 'choice' && (q.choices?.length ?? 0) <= 3 ? undefined : id} id={`${id}-name`}>
        {q.ask}
      </label>
      {q.kind === 'choice' ? (
        (q.choices?.length ?? 0) <= 3 ? (
          <div
            className="ask-choices"
            role="radiogroup"
            aria-labelledby={`${id}-name`}
            onFocus={() => set({ question: q.id })}
          >
            {q.choices?.map(([v, words]) => (
              <label key={v} className="ask-choice">
                <input type="radio" name={id} checked={value === v} onChange={() => put(v)} /> {words}
              </label>
            ))}
          </div>
        ) : (
          <select
            id={id}
            value={String(value)}
            onFocus={() => set({ question: q.id })}
            onChange={(e) => put(e.target.value)}
          >
            {q.choices?.map(([v, words]) => (
              <option key={v} value={v}>
                {words}
              </option>
            ))}
          </select>
        )
      ) : (
        <input
          id={id}
          value={text}
          className={own ? 'own' : ''}
          inputMode={q.kind === 'count' ? 'numeric' : 'text'}
          autoComplete="off"
          spellCheck={false}
          aria-invalid={wrong !== undefined}
          aria-describedby={`${id}-note`}
          placeholder={q.kind === 'places' ? 'evenly spaced' : ''}
          onFocus={(e) => {
            set({ question: q.id });
            e.target.select();
          }}
          onChange={(e) => put(e.target.value)}
        />
      )}
      <p id={`${id}-note`} className={wrong ? 'refused' : 'small'} role={wrong ? 'alert' : undefined}>
        {wrong ?? comesTo(q, laid) ?? ''}
        {running && (
          <button type="button" className="quiet" onClick={() => put(written(q, running, units))}>
            These look like distances from rib to rib: add them up to running ones
          </button>
        )}
      </p>
    </div>
  );
}

/** Which panel to start from, each with its own small drawing. */
function Choose() {
  const { set, open } = useDesk.getState();
  return (
    <div className="start-choose">
      <h1 tabIndex={-1}>What are you building?</h1>
      <p className="lead">
        Take what is nearest; every size can be changed afterwards. A few questions make the whole skeleton.
      </p>
      <ul className="start-list">
        {STARTS.map((s) => {
          const made = startPanel(s, {});
          return (
            <li key={s.id}>
              <button type="button" onClick={() => set({ start: s.id, question: null })}>
                {made.ok && <StartThumb model={made.model} />}
                <b>{s.name}</b>
                <span className="small">{s.says}</span>
              </button>
            </li>
          );
        })}
      </ul>
      <button type="button" className="quiet" onClick={() => open(null)}>
        Back to the panel on the bench
      </button>
    </div>
  );
}

function StartThumb({ model }: { model: Model }) {
  return (
    <div className="start-thumb" aria-hidden="true">
      <StartDrawing model={model} points={null} atTip={false} />
    </div>
  );
}

/** The questions of the start in hand, with a drawing that changes as they are answered; the panel is laid when all can be. */
function Questions({ start }: { start: Start }) {
  const typed = useDesk((s) => s.typed[start.id] ?? NOTHING_TYPED);
  const question = useDesk((s) => s.question);
  const { set, open } = useDesk.getState();
  const read = useMemo(() => answersOf(start, typed), [start, typed]);
  const made = useMemo(() => startPanel(start, read.answers), [start, read]);
  const last = useRef<Model | null>(null);
  if (made.ok) last.current = made.model;
  const shown = last.current ?? (startPanel(start, {}) as { model: Model }).model;
  const doubts = new Map(made.ok ? [] : made.doubts.map((d) => [d.id, d.sentence]));
  const asked = new Set(askedBy(start, read.answers).map((q) => q.id));
  const inHand = start.groups.flatMap((g) => g.questions).find((q) => q.id === question);
  const points = inHand?.points ?? null;
  const wrong = Object.keys(read.faults).filter((id) => asked.has(id)).length + doubts.size;
  const off = made.ok ? onPaper(made.model).filter((f) => f.verdict !== 'fits') : [];
  const build = () => {
    if (!made.ok || wrong > 0) return;
    if (useApp.getState().open(writeModel(made.model), `a new ${start.name.toLowerCase()}`)) {
      set({ start: null, typed: { ...useDesk.getState().typed, [start.id]: NOTHING_TYPED }, question: null });
      open('stations');
      window.scrollTo({ top: 0 });
    }
  };
  const list = (qs: readonly StartQuestion[]) =>
    qs
      .filter((q) => asked.has(q.id))
      .map((q) => <Question key={q.id} q={q} start={start} read={read} doubt={doubts.get(q.id)} laid={shown} />);
  return (
    <>
      <div className="start-bench">
        <StartDrawing model={shown} points={points} atTip={question?.endsWith('Tip') ?? false} />
        <p className="start-where" role="status">
          {inHand ? (
            <>
              <b>{inHand.where}</b>
              {inHand.kind === 'length' && typeof read.answers[inHand.id] === 'number'
                ? ` You have ${echo(read.answers[inHand.id] as number)}.`
                : ''}
            </>
          ) : (
            'Tap a question: the drawing points at what it asks for, and here it says where to find it.'
          )}
        </p>
      </div>
      <form
        className="start-questions"
        aria-label={start.name}
        onSubmit={(e) => {
          e.preventDefault();
          build();
        }}
      >
        <div className="card-head">
          <h1 tabIndex={-1}>{start.name}</h1>
          <button type="button" className="icon" aria-label="Choose another start" onClick={() => set({ start: null })}>
            ✕
          </button>
        </div>
        {start.groups.map((g) => {
          const [few, folded] = [
            g.questions.filter((q) => !q.more),
            g.questions.filter((q) => q.more && asked.has(q.id)),
          ];
          if (!g.questions.some((q) => asked.has(q.id))) return null;
          return (
            <fieldset key={g.name}>
              <legend>{g.name}</legend>
              {list(few)}
              {folded.length > 0 && (
                <details
                  open={folded.some((q) => doubts.has(q.id)) || undefined}
                  onToggle={(e) => {
                    if (e.newState === 'open')
                      e.currentTarget.querySelector<HTMLElement>('input, select')?.focus({ preventScroll: true });
                  }}
                >
                  <summary>
                    More: {folded.length} {folded.length === 1 ? 'answer' : 'answers'} most leave as{' '}
                    {folded.length === 1 ? 'it is' : 'they are'}
                  </summary>
                  {list(folded)}
                </details>
              )}
            </fieldset>
          );
        })}
        <div className="start-foot">
          <p className={wrong > 0 ? 'refused' : 'small'} role="status">
            {wrong > 0
              ? `${wrong === 1 ? 'One answer needs' : `${wrong} answers need`} another look.`
              : off.length > 0
                ? `On paper: ${off[0]!.sentence}`
                : `${shown.ribs.length} ribs, ${shown.joints.reduce((n, j) => n + j.holes.length, 0)} holes. On paper everything fits.`}
          </p>
          <button type="submit" className="take" disabled={wrong > 0}>
            Lay it on the bench
          </button>
          <p className="small">The panel there now is kept: undo brings it back.</p>
        </div>
      </form>
    </>
  );
}

/** A new panel from nothing: what it is, then its questions. */
export function StartSheet() {
  const id = useDesk((s) => s.start);
  const start = STARTS.find((s) => s.id === id);
  const sheet = useRef<HTMLElement>(null);
  useEffect(() => {
    window.scrollTo({ top: 0 });
    // The whole screen is another: the focus begins at its heading.
    sheet.current?.querySelector('h1')?.focus();
  }, [id]);
  // Escape goes a step back; what was typed is there again when one comes back.
  const back = (e: KeyboardEvent): void => {
    if (e.key !== 'Escape') return;
    e.stopPropagation();
    if (start) useDesk.getState().set({ start: null });
    else useDesk.getState().open(null);
  };
  return (
    <section
      ref={sheet}
      className={start ? 'start-sheet asking' : 'start-sheet'}
      aria-label="Start a new panel"
      onKeyDown={back}
    >
      {start ? <Questions key={start.id} start={start} /> : <Choose />}
    </section>
  );
}
