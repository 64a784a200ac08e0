import type { Answer } from './answers.ts';
import { Bags, Gates, holesHeadline, HoleStrip, StationHoles } from './Drill.tsx';
import { Counts, Groups, StationFindings } from './Findings.tsx';
import { Settings } from './Settings.tsx';

/** May I drill? The gates, every hole, the bags. */
export const DRILL: Answer = {
  headline: (model) => holesHeadline(model),
  Whole: ({ asked }) => (
    <>
      <Counts findings={asked} />
      <Settings />
      <Gates />
      <HoleStrip />
      <Bags />
      <button type="button" className="quiet" onClick={() => window.print()}>Print the hole ledger</button>
      <Groups findings={asked} />
    </>
  ),
  Station: ({ bay }) => <><StationHoles bay={bay} /><StationFindings bay={bay} /></>,
};
