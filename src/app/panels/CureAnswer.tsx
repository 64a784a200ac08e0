import type { Answer } from './answers.ts';
import { CureList, cureHeadline, Cures } from './Cure.tsx';
import { Counts, StationFindings } from './Findings.tsx';

/** What cures it? Each finding with the remedies tried on the whole skeleton. */
export const CURE: Answer = {
  headline: (_, __, findings) => cureHeadline(findings),
  lead: () => null,
  Whole: ({ asked }) => <><Counts findings={asked} /><CureList /></>,
  Station: ({ bay }) => <StationFindings bay={bay} stacks={false}>{(open) => <Cures finding={open} />}</StationFindings>,
  Finding: ({ finding }) => <Cures finding={finding} />,
};
