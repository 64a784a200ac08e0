import { type ComponentType, lazy, Suspense, useState } from 'react';
import { headline } from '../../checks/questions.ts';
import type { Bay } from '../../parts/layout/layout.ts';
import type { Answer } from '../frame/answers.ts';
import { Counts, Groups } from '../widgets/Findings.tsx';
import { Settings } from '../widgets/Settings.tsx';

let loaded: ComponentType<{ bay: Bay }> | undefined;

/** Fetches what a station's answer is drawn with, before it is asked for: from then on it is there at once. */
export async function loadFitStation(): Promise<{ default: ComponentType<{ bay: Bay }> }> {
  loaded = (await import('./FitStation.tsx')).FitStation;
  return { default: loaded };
}

const Fetched = lazy(loadFitStation);

function Station({ bay }: { bay: Bay }) {
  const [Shown] = useState(() => loaded ?? Fetched);
  return (
    <Suspense fallback={null}>
      <Shown bay={bay} />
    </Suspense>
  );
}

/** Will it fit? Every finding, worst first; at a station the section cut open. */
export const FIT: Answer = {
  headline: (_, asked) => headline('fit', asked),
  Whole: ({ asked }) => (
    <>
      <Counts findings={asked} />
      <Settings />
      <Groups findings={asked} />
    </>
  ),
  Station,
};
