import { lazy, Suspense } from 'react';
import { headline } from '../../checks/answer.ts';
import type { Answer } from './answers.ts';
import { Counts, Groups } from './Findings.tsx';
import { Settings } from './Settings.tsx';

const loadStation = () => import('./FitStation.tsx');
const FitStation = lazy(() => loadStation().then((m) => ({ default: m.FitStation })));

/** Fetches what a station's answer is drawn with, before it is asked for. */
export const loadFitStation = async (): Promise<void> => void (await loadStation());

/** Will it fit? Every finding, worst first; at a station the section cut open. */
export const FIT: Answer = {
  headline: (_, asked) => headline('fit', asked),
  Whole: ({ asked }) => <><Counts findings={asked} /><Settings /><Groups findings={asked} /></>,
  Station: ({ bay }) => <Suspense fallback={null}><FitStation bay={bay} /></Suspense>,
};
