import type { Finding } from '../../checks/finding.ts';
import { headline } from '../../checks/questions.ts';
import type { Answer } from '../answer.ts';
import { Counts, Groups } from '../station/Findings.tsx';
import { FitStation } from '../station/FitStation.tsx';
import { HowSure } from '../station/HowSure.tsx';
import { KinkPicture } from './KinkPicture.tsx';
import { Packing, Truing, usePacking } from './Packing.tsx';
import { SkinPull } from './SkinPull.tsx';
import { TwistPicture } from './TwistPicture.tsx';

/**
 * What Is it true? shows besides its findings: twist and nose pictures, the packing plan, what the skin would do,
 * what squaring moved.
 */
function TrueExtras({ findings }: { findings: readonly Finding[] }) {
  const pack = usePacking();
  const after = pack.plan ? new Map(pack.plan.after.twist.map((t) => [t.station, t.value])) : undefined;
  return (
    <>
      <TwistPicture findings={findings} {...(after ? { after } : {})} />
      <Packing {...pack} />
      <KinkPicture findings={findings} />
      <SkinPull findings={findings} />
      <Truing />
    </>
  );
}

/** Is it true? Twist, nose line, square; the packs that take the twist out. */
export const TRUE: Answer = {
  headline: (_, asked) => headline('true', asked),
  Whole: ({ asked }) => (
    <>
      <Counts findings={asked} />
      <TrueExtras findings={asked} />
      <Groups findings={asked} />
      <HowSure />
    </>
  ),
  Station: FitStation,
};
