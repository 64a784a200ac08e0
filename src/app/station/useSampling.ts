import { useCallback, useEffect, useRef, useState } from 'react';
import type { Model } from '../../model/schema.ts';
import { awaited } from '../state/atRest.ts';
import { useApp } from '../state/store.ts';
import { type Drawn, drawTogether, stopDrawing } from '../workers/sampler.ts';

/** The last answer for a panel: kept while the panel is on screen or in the undo list. */
const answers = new WeakMap<Model, Drawn>();

export interface Sampling {
  readonly drawn: Drawn | undefined;
  /** How far the run is, 0 to 1; undefined while none is under way. */
  readonly share: number | undefined;
  readonly problem: string;
  draw(points: number): void;
}

const whyNot = (e: unknown): string => {
  const why = e instanceof Error ? e.message : String(e);
  return `The sizes could not be tried (${why}); try again, or reload the page.`;
};

/** All sizes of the panel on screen drawn together, in the background; a run ends when another panel comes. */
export function useSampling(): Sampling {
  const model = useApp((s) => s.model);
  const [drawn, setDrawn] = useState(() => answers.get(model));
  const [share, setShare] = useState<number>();
  const [problem, setProblem] = useState('');
  const shown = useRef(model);
  shown.current = model;
  useEffect(() => {
    setDrawn(answers.get(model));
    setShare(undefined);
    setProblem('');
    return stopDrawing;
  }, [model]);
  const draw = useCallback((points: number) => {
    const mine = shown.current;
    const here = (): boolean => shown.current === mine;
    setShare(0);
    setProblem('');
    const done = (answer: Drawn | undefined): void => {
      if (!here()) return;
      if (answer) answers.set(mine, answer);
      setDrawn(answer);
      setShare(undefined);
    };
    const failed = (e: unknown): void => {
      if (!here()) return;
      setShare(undefined);
      setProblem(whyNot(e));
    };
    awaited(drawTogether(mine, points, (s) => here() && setShare(s)))
      .then(done)
      .catch(failed);
  }, []);
  return { drawn, share, problem, draw };
}
