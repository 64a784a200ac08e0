import type { Answer } from '../answer.ts';
import { Counts, StationFindings } from '../station/Findings.tsx';
import { Decisions } from './Decisions.tsx';
import { LeastWork } from './LeastWork.tsx';
import { MoveRib } from './MoveRib.tsx';
import { MyPlans } from './MyPlans.tsx';
import { Places } from './Places.tsx';
import { Remedies, remedyHeadline, ToPutRight } from './Remedies.tsx';
import './remedy.css';

/**
 * What puts it right? The least work for the whole panel; each finding with its causes and its remedies, tried on the
 * whole skeleton.
 */
export const REMEDY: Answer = {
  headline: (_, __, findings) => remedyHeadline(findings),
  lead: () => null,
  Whole: ({ asked }) => (
    <>
      <Counts findings={asked} />
      <LeastWork />
      <MyPlans />
      <ToPutRight />
      <Places />
      <Decisions />
    </>
  ),
  Station: ({ bay }) => (
    <>
      <StationFindings bay={bay} stacks={false}>
        {(open) => <Remedies finding={open} />}
      </StationFindings>
      <MoveRib bay={bay} />
      <Decisions station={bay.station.id} />
    </>
  ),
  Finding: ({ finding }) => <Remedies finding={finding} />,
};
