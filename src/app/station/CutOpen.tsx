import type { Bay } from '../../parts/layout/layout.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { useApp } from '../state/store.ts';
import { StationFindings } from './Findings.tsx';
import { Section } from './Section.tsx';

/**
 * A station's fit: its findings under the section cut open. Loaded right after the first screen, which shows no
 * station.
 */
export function CutOpen({ bay }: { bay: Bay }) {
  const model = useApp((s) => s.model);
  const choose = useApp((s) => s.choose);
  return (
    <StationFindings bay={bay}>
      {(_, here) => (
        <Section skeleton={skeletonOf(model)} bay={bay} findings={here} choose={(f) => choose(bay.station.id, f)} />
      )}
    </StationFindings>
  );
}
