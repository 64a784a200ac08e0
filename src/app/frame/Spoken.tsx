import { useEffect, useRef, useState } from 'react';
import { worstFirst } from '../../checks/checkAll.ts';
import { checksOf } from '../../checks/questions.ts';
import type { Model } from '../../model/schema.ts';
import { sizeBook } from '../../model/sizes.ts';
import { turnedSentence } from '../../remedies/turned.ts';
import { useApp, useFindings } from '../state/store.ts';
import { verdictWord } from '../widgets/Mark.tsx';
import { longQuestion } from './Questions.tsx';
import { useAnswer } from './useAnswer.ts';

/** Changes that follow on each other this soon are said as one, ms. */
const BREATH = 120;

/** What was just done to the panel: a step by its name, or one taken back. */
function stepWords(before: Model, after: Model): string {
  const { past, future } = useApp.getState();
  if (future[0]?.before === after && future[0].after === before) return `Took back: ${future[0].name}.`;
  const last = past.at(-1);
  return last?.after === after ? `${last.name.charAt(0).toUpperCase()}${last.name.slice(1)}.` : '';
}

/**
 * What changed, for the ear: the step just done and the verdicts it turned; the answer of a question just asked; the worst of
 * a station just chosen; the size now on the measuring card. Never the whole card, which is read at leisure.
 */
export function Spoken() {
  const model = useApp((s) => s.model);
  const question = useApp((s) => s.question);
  const station = useApp((s) => s.station);
  const size = useApp((s) => s.size);
  const findings = useFindings();
  const answer = useAnswer(question);
  const [words, say] = useState('');
  const had = useRef({ model, question, station, size });
  useEffect(() => {
    const timer = setTimeout(() => {
      const was = had.current;
      if (!answer) return;
      had.current = { model, question, station, size };
      const asked = findings.filter((f) => checksOf(question).includes(f.check));
      const headline = answer.headline(model, asked, findings, useApp.getState().ahead);
      const next =
        size !== null && size !== was.size
          ? `On the measuring card: ${sizeBook(model).entries.get(size)?.name ?? size}.`
          : '';
      if (was.model !== model)
        say([stepWords(was.model, model), turnedSentence(was.model, model), headline, next].filter(Boolean).join(' '));
      else if (next) say(next);
      else if (was.question !== question) say(`${longQuestion(question)} ${headline}`);
      else if (was.station !== station) {
        const worst = worstFirst(asked.filter((f) => f.station === station))[0];
        say(
          station === null
            ? `The whole panel. ${headline}`
            : `Station ${station}. ${worst ? `${verdictWord(worst.verdict)}: ${worst.said.fact}.` : ''}`,
        );
      }
    }, BREATH);
    return () => clearTimeout(timer);
  }, [model, question, station, size, answer, findings]);
  return (
    <p className="unseen" role="status" aria-label="What changed">
      {words}
    </p>
  );
}
