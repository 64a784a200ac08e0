import { askHoles } from '../../drilling/drill.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import type { Answer } from '../answer.ts';
import { Bags } from './Bags.tsx';
import './drill.css';
import { SheetButton } from '../paper/SheetView.tsx';
import { Counts, Groups, StationFindings } from '../station/Findings.tsx';
import { Gates } from './Gates.tsx';
import { LeaveAlone } from './Hold.tsx';
import { HoleStrip } from './HoleStrip.tsx';
import { holesHeadline } from './holesHeadline.ts';
import { Looking } from './Looking.tsx';
import { Stages } from './Stages.tsx';
import { StationHoles } from './StationHoles.tsx';

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
