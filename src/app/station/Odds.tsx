import { useState } from 'react';
import { type Chance, inHundred, type SampledFinding } from '../../chance/sampleAnswer.ts';
import { show } from '../../checks/describe.ts';
import type { Finding } from '../../checks/finding.ts';
import { checkName } from '../../checks/questions.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { shownBasis } from '../../scene/marks.ts';
import { useApp, useFindings } from '../state/store.ts';
import { Mark } from '../widgets/Mark.tsx';
import type { Drawn } from '../workers/sampler.ts';
import './howSure.css';

/** Findings shown before the rest is asked for. */
const SHOWN = 8;
/** Below this chance a finding is only counted. */
const RARE = 0.001;

/** A chance as a bar out of a hundred, read in black and white by its length. */
function Bar({ chance }: Chance) {
  return (
    <svg className="odds" viewBox="0 0 104 10" preserveAspectRatio="none" aria-hidden="true">
      <rect x="2" y="1" width="100" height="8" className="odds-all" />
      <rect x="2" y="1" width={100 * chance} height="8" className="odds-part" />
    </svg>
  );
}

interface Known {
  readonly finding: Finding;
  readonly sampled: SampledFinding;
}

function Row({ finding, sampled }: Known) {
  const choose = useApp((s) => s.choose);
  const model = useApp((s) => s.model);
  return (
    <li className={finding.verdict}>
      <button
        type="button"
        className="odds-row"
        title={finding.sentence}
        onClick={() => choose(finding.station, finding.id)}
      >
        <Mark verdict={finding.verdict} basis={shownBasis(skeletonOf(model), finding)} />
        <span>
          {finding.place}, {checkName(finding.check)}{' '}
          <span className="small">{show(model, finding.value, finding.unit)}</span>
        </span>
        <b>{inHundred(sampled.beyond)}</b>
        <Bar {...sampled.beyond} />
      </button>
    </li>
  );
}

/**
 * The chance of each finding being beyond its limit, the closest calls first; those that are all but sure are
 * counted.
 */
export function Odds({ drawn: { answer } }: { drawn: Drawn }) {
  const findings = new Map(useFindings().map((f) => [f.id, f]));
  const [all, setAll] = useState(false);
  const known = answer.findings.flatMap((sampled): Known[] => {
    const finding = findings.get(sampled.id);
    return finding ? [{ finding, sampled }] : [];
  });
  const undecided = known.filter(({ finding }) => finding.verdict !== 'act');
  const chance = ({ sampled }: Known): number => sampled.beyond.chance;
  const open = undecided.filter((k) => chance(k) >= RARE).sort((a, b) => chance(b) - chance(a));
  const listed = all ? open : open.slice(0, SHOWN);
  return (
    <>
      {open.length > 0 && <p className="small">Chance of being beyond the act limit, most likely first:</p>}
      <ul className="odds-list">
        {listed.map((k) => (
          <Row key={k.finding.id} {...k} />
        ))}
      </ul>
      {listed.length < open.length && (
        <button type="button" className="quiet" onClick={() => setAll(true)}>
          Show the other {open.length - listed.length}
        </button>
      )}
      <p className="small">
        {undecided.length - open.length} of {known.length} findings are inside it in at least 999 of 1000
        {answer.acts > 0 ? `; ${answer.acts} must be acted on anyway` : ''}.
      </p>
    </>
  );
}
