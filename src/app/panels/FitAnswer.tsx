import { headline } from '../../checks/answer.ts';
import { skeletonOf } from '../../parts/skeleton.ts';
import { useApp } from '../store.ts';
import type { Answer } from './answers.ts';
import { Counts, Groups, StationFindings } from './Findings.tsx';
import { Section } from './Section.tsx';
import { Settings } from './Settings.tsx';

/** Will it fit? Every finding, worst first; at a station the section cut open. */
export const FIT: Answer = {
  headline: (_, asked) => headline('fit', asked),
  Whole: ({ asked }) => <><Counts findings={asked} /><Settings /><Groups findings={asked} /></>,
  Station: ({ bay }) => {
    const model = useApp((s) => s.model);
    const choose = useApp((s) => s.choose);
    return <StationFindings bay={bay}>{(_, here) => <Section skeleton={skeletonOf(model)} bay={bay} findings={here} choose={(f) => choose(bay.station.id, f)} />}</StationFindings>;
  },
};
