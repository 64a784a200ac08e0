import { askHoles } from '../../checks/drill.ts';
import { skeletonOf } from '../../parts/skeleton.ts';
import type { Answer } from './answers.ts';
import { Bags } from './Bags.tsx';
import './drill.css';
import { holesHeadline, StationHoles } from './Drill.tsx';
import { Counts, Groups, StationFindings } from './Findings.tsx';
import { SheetButton } from './Paper.tsx';
import { Gates } from './Gates.tsx';
import { HoleStrip } from './HoleStrip.tsx';
import { LeaveAlone } from './LeaveAlone.tsx';
import { Looking } from './Looking.tsx';
import { Stages } from './Stages.tsx';

/** May I drill? Which holes to leave alone, the stages, the strip, the gates, the bags. */
export const DRILL: Answer = {
  headline: (model, _, __, ahead) => holesHeadline(model, ahead),
  lead: (model) =>
    askHoles(skeletonOf(model)).length === 0 ? 'Lay rows out at a station, or open a panel that has them.' : null,
  Whole: ({ asked }) => (
    <>
      <Looking>
        <LeaveAlone />
        <Stages />
        <HoleStrip />
      </Looking>
      <Gates />
      <Bags />
      <SheetButton sheet="hole-ledger">Print the hole ledger</SheetButton>
      <Counts findings={asked} />
      <Groups findings={asked} />
    </>
  ),
  Station: ({ bay }) => (
    <>
      <Looking>
        <StationHoles bay={bay} />
        <Stages />
      </Looking>
      <StationFindings bay={bay} />
    </>
  ),
};
