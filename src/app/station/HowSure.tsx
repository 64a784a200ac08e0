import { useCallback, useEffect, useRef, useState } from 'react';
import { type Chance, inHundred, type SampledFinding } from '../../chance/jointSample.ts';
import { show } from '../../checks/describe.ts';
import type { Finding } from '../../checks/finding.ts';
import { checkName } from '../../checks/questions.ts';
import type { Model } from '../../model/schema.ts';
import { awaited } from '../state/atRest.ts';
import { useApp, useFindings } from '../state/store.ts';
import { Mark } from '../widgets/Mark.tsx';
import { type Drawn, drawTogether, stopDrawing } from '../workers/sampler.ts';
import './howSure.css';

/** Points in each of the eight sets of a first run; each further run takes four times as many. */
const POINTS = 2048;
const MOST_POINTS = 1 << 19;

/** The last answer for a panel: kept while the panel is on screen or in the undo list. */
const answers = new WeakMap<Model, Drawn>();

interface Drawing {
  readonly drawn: Drawn | undefined;
  /** How far the run is, 0 to 1; undefined while none is under way. */
  readonly share: number | undefined;
  readonly problem: string;
  draw(points: number): void;
}

function useDrawing(): Drawing {
  const model = useApp((s) => s.model);
  const [drawn, setDrawn] = useState(() => answers.get(model));
  const [share, setShare] = useState<number>();
  const [problem, setProblem] = useState('');
  const shown = useRef(model);
  shown.current = model;
  useEffect(() => {
    setDrawn(answers.get(model));
    setShare(undefined);
    setProblem('');
    return stopDrawing;
  }, [model]);
  const draw = useCallback((points: number) => {
    const mine = shown.current;
    const here = (): boolean => shown.current === mine;
    setShare(0);
    setProblem('');
    awaited(drawTogether(mine, points, (s) => here() && setShare(s)))
      .then((answer) => {
        if (!here()) return;
        if (answer) answers.set(mine, answer);
        setDrawn(answer);
        setShare(undefined);
      })
      .catch((e: unknown) => {
        if (!here()) return;
        setShare(undefined);
        setProblem(
          `The sizes could not be tried (${e instanceof Error ? e.message : String(e)}); try again, or reload the page.`,
        );
      });
  }, []);
  return { drawn, share, problem, draw };
}

/** Findings shown before the rest is asked for. */
const SHOWN = 8;

/** A chance as a bar out of a hundred, read in black and white by its length. */
function Bar({ chance }: Chance) {
  return (
    <svg className="odds" viewBox="0 0 104 10" preserveAspectRatio="none" aria-hidden="true">
      <rect x="2" y="1" width="100" height="8" className="odds-all" />
      <rect x="2" y="1" width={100 * chance} height="8" className="odds-part" />
    </svg>
  );
}

function Row({ finding, sampled }: { finding: Finding; sampled: SampledFinding }) {
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
        <Mark verdict={finding.verdict} drawing={finding.basis === 'drawing'} />
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

/** The chance of each finding being beyond its limit, the closest calls first; those that are all but sure are counted. */
function Odds({ drawn }: { drawn: Drawn }) {
  const findings = new Map(useFindings().map((f) => [f.id, f]));
  const [all, setAll] = useState(false);
  const known = drawn.answer.findings.flatMap((s) => {
    const finding = findings.get(s.id);
    return finding ? [{ finding, sampled: s }] : [];
  });
  const open = known
    .filter(({ finding, sampled }) => finding.verdict !== 'act' && sampled.beyond.chance >= 0.001)
    .sort((a, b) => b.sampled.beyond.chance - a.sampled.beyond.chance);
  const never = known.filter(
    ({ finding, sampled }) => finding.verdict !== 'act' && sampled.beyond.chance < 0.001,
  ).length;
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
        {never} of {known.length} findings are inside it in at least 999 of 1000
        {drawn.answer.acts > 0 ? `; ${drawn.answer.acts} must be acted on anyway` : ''}.
      </p>
    </>
  );
}

const times = (n: number): string => String(n).replace(/\B(?=(\d{3})+$)/g, '\u202f');

function Answer({ drawn }: { drawn: Drawn }) {
  const { answer } = drawn;
  const all = [answer.goesTogether, ...(answer.acts > 0 ? [answer.rest] : []), answer.allFit].map(inHundred);
  const alike = all.every((text) => text === all[0]);
  return (
    <>
      {alike ? (
        <p className="odds-whole">
          <b>{inHundred(answer.goesTogether)}</b> that the whole skeleton goes together as it is, and as much that
          everything fits, with nothing even to watch.
        </p>
      ) : (
        <p className="odds-whole">
          <b>{inHundred(answer.goesTogether)}</b> that the whole skeleton goes together as it is.
        </p>
      )}
      {!alike && answer.acts > 0 && (
        <p>
          <b>{inHundred(answer.rest)}</b> once {answer.acts === 1 ? 'the one place' : `the ${answer.acts} places`} that
          must be put right {answer.acts === 1 ? 'is' : 'are'}, if that moves nothing else.
        </p>
      )}
      {!alike && (
        <p>
          <b>{inHundred(answer.allFit)}</b> that everything fits, with nothing even to watch.
        </p>
      )}
      <p className="small">
        All sizes tried together {times(answer.samples)} times{drawn.stopped ? ', then stopped' : ''}: one sheet or one
        tape moves everything it was used for. ± is what trying them that often leaves open.
      </p>
    </>
  );
}

/** How sure is this? All sizes drawn together in the background, with progress and a stop: the chance of the whole, and of each finding. */
export function HowSure() {
  const { drawn, share, problem, draw } = useDrawing();
  const more = Math.min(MOST_POINTS, (drawn?.points ?? POINTS / 4) * 4);
  return (
    <section className="how-sure" aria-label="How sure is this?">
      <h2>How sure is this?</h2>
      {drawn && <Answer drawn={drawn} />}
      {problem && (
        <p className="refused" role="alert">
          {problem}
        </p>
      )}
      {share === undefined ? (
        <button type="button" className="take" onClick={() => draw(drawn?.stopped ? drawn.points : more)}>
          {!drawn ? 'Try all sizes together' : drawn.stopped ? 'Try them again' : 'Try four times as often'}
        </button>
      ) : (
        <div className="drawing">
          <progress max={1} value={share} aria-label="Sizes tried" />
          <span role="status">{Math.round(100 * share)} % tried</span>
          <button type="button" className="take" onClick={stopDrawing}>
            Stop
          </button>
        </div>
      )}
      {drawn && <Odds drawn={drawn} />}
    </section>
  );
}
