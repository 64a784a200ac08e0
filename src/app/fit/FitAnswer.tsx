import { headline } from '../../checks/questions.ts';
import type { Answer } from '../answer.ts';
import { Counts, Groups } from '../station/Findings.tsx';
import { FitStation } from '../station/FitStation.tsx';
import { Settings } from '../widgets/Settings.tsx';

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
  Station: FitStation,
};
