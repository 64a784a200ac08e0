import type { Answer } from '../frame/answers.ts';
import { Counts, StationFindings } from '../widgets/Findings.tsx';
import { CureList, Cures, cureHeadline } from './Cure.tsx';
import { Decisions } from './CureDecisions.tsx';
import { LeastWork } from './CureLeast.tsx';
import { MoveRib } from './CureMove.tsx';
import { Places } from './CurePlaces.tsx';
import { MyPlans } from './CurePlan.tsx';

/** What cures it? The least work for the whole panel; each finding with its causes and its remedies, tried on the whole skeleton. */
export const CURE: Answer = {
  headline: (_, __, findings) => cureHeadline(findings),
  lead: () => null,
  Whole: ({ asked }) => (
    <>
      <Counts findings={asked} />
      <LeastWork />
      <MyPlans />
      <CureList />
      <Places />
      <Decisions />
    </>
  ),
  Station: ({ bay }) => (
    <>
      <StationFindings bay={bay} stacks={false}>
        {(open) => <Cures finding={open} />}
      </StationFindings>
      <MoveRib bay={bay} />
      <Decisions station={bay.station.id} />
    </>
  ),
  Finding: ({ finding }) => <Cures finding={finding} />,
};
