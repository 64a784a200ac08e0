import { useEffect, useState } from 'react';
import type { Question } from '../../checks/questions.ts';
import type { Answer } from '../answer.ts';
import { awaited } from '../state/atRest.ts';
import { loadCutOpen } from '../station/FitStation.tsx';
import { TONIGHT } from '../tonight/TonightAnswer.tsx';

/** Each question's answer, loaded when it is first asked; the first screen's is there from the start. */
const LOAD: Readonly<Record<Question, () => Promise<Answer>>> = {
  tonight: () => Promise.resolve(TONIGHT),
  build: () => import('../build/BuildAnswer.tsx').then((m) => m.BUILD),
  measure: () => import('../measure/MeasureAnswer.tsx').then((m) => m.MEASURE),
  fit: () => import('../fit/FitAnswer.tsx').then((m) => m.FIT),
  remedy: () => import('../remedy/RemedyAnswer.tsx').then((m) => m.REMEDY),
  drill: () => import('../drill/DrillAnswer.tsx').then((m) => m.DRILL),
  true: () => import('../true/TrueAnswer.tsx').then((m) => m.TRUE),
  helper: () => import('../helper/HelperAnswer.tsx').then((m) => m.HELPER),
};

const loaded = new Map<Question, Answer>([['tonight', TONIGHT]]);

async function load(question: Question): Promise<void> {
  if (!loaded.has(question)) loaded.set(question, await LOAD[question]());
}

/** The answer to a question, or null for the moment it takes to load. */
export function useAnswer(question: Question): Answer | null {
  const [, again] = useState(0);
  const answer = loaded.get(question);
  useEffect(() => {
    let here = true;
    if (!answer) void awaited(load(question)).then(() => here && again((n) => n + 1));
    return () => {
      here = false;
    };
  }, [question, answer]);
  return answer ?? null;
}

/** Loads the other answers one after another, once the first screen is there. */
export async function loadAnswers(): Promise<void> {
  await loadCutOpen();
  for (const question of Object.keys(LOAD) as Question[]) await load(question);
}
