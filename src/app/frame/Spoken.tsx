import { useEffect, useRef, useState } from 'react';
import { worstFirst } from '../../checks/checkAll.ts';
import type { Finding } from '../../checks/finding.ts';
import { checksOf, type Question } from '../../checks/questions.ts';
import type { Model } from '../../model/schema.ts';
import { sizeBook } from '../../model/sizes.ts';
import { turnedSentence } from '../../remedies/turned.ts';
import { useApp, useFindings } from '../state/store.ts';
import { verdictWord } from '../widgets/Mark.tsx';
import { longQuestion } from './Questions.tsx';
import { useAnswer } from './useAnswer.ts';

/** Changes that follow on each other this soon are said as one, ms. */
const BREATH = 120;

/** What is on the page, as far as a change of it is said. */
interface Shown {
  readonly model: Model;
  readonly question: Question;
  readonly station: string | null;
  readonly size: string | null;
}

/** What can be said of it now. */
interface Sayable {
  readonly headline: string;
  /** Findings of what is asked. */
  readonly asked: readonly Finding[];
}

/** What was just done to the panel: a step by its name, or one taken back. */
function stepWords(before: Model, after: Model): string {
  const { past, future } = useApp.getState();
  if (future[0]?.before === after && future[0].after === before) return `Took back: ${future[0].name}.`;
  const last = past.at(-1);
  return last?.after === after ? `${last.name.charAt(0).toUpperCase()}${last.name.slice(1)}.` : '';
}

/** The size that came on the measuring card; empty where none did. */
function sizeWords(was: Shown, { model, size }: Shown): string {
  if (size === null || size === was.size) return '';
  return `On the measuring card: ${sizeBook(model).entries.get(size)?.name ?? size}.`;
}

function stationWords(station: string | null, { headline, asked }: Sayable): string {
  if (station === null) return `The whole panel. ${headline}`;
  const worst = worstFirst(asked.filter((f) => f.station === station))[0];
  return `Station ${station}. ${worst ? `${verdictWord(worst.verdict)}: ${worst.said.fact}.` : ''}`;
}

/** What to say of the change from one to the other; undefined where there is nothing to say. */
function changeWords(was: Shown, now: Shown, sayable: Sayable): string | undefined {
  const size = sizeWords(was, now);
  if (was.model !== now.model) {
    const said = [stepWords(was.model, now.model), turnedSentence(was.model, now.model), sayable.headline, size];
    return said.filter(Boolean).join(' ');
  }
  if (size) return size;
  if (was.question !== now.question) return `${longQuestion(now.question)} ${sayable.headline}`;
  return was.station === now.station ? undefined : stationWords(now.station, sayable);
}

/**
 * What changed, for the ear: the step just done and the verdicts it turned; the answer of a question just asked; the
 * worst of a station just chosen; the size now on the measuring card. Never the whole card, which is read at leisure.
 */
export function Spoken() {
  const model = useApp((s) => s.model);
  const question = useApp((s) => s.question);
  const station = useApp((s) => s.station);
  const size = useApp((s) => s.size);
  const findings = useFindings();
  const answer = useAnswer(question);
  const [words, say] = useState('');
  const had = useRef<Shown>({ model, question, station, size });
  useEffect(() => {
    const timer = setTimeout(() => {
      if (!answer) return;
      const was = had.current;
      const now = { model, question, station, size };
      had.current = now;
      const asked = findings.filter((f) => checksOf(question).includes(f.check));
      const headline = answer.headline(model, asked, findings, useApp.getState().ahead);
      const change = changeWords(was, now, { headline, asked });
      if (change !== undefined) say(change);
    }, BREATH);
    return () => clearTimeout(timer);
  }, [model, question, station, size, answer, findings]);
  return (
    <p className="unseen" role="status" aria-label="What changed">
      {words}
    </p>
  );
}
