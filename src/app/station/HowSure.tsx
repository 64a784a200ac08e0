import { inHundred } from '../../chance/sampleAnswer.ts';
import { type Drawn, stopDrawing } from '../workers/sampler.ts';
import { Odds } from './Odds.tsx';
import { type Sampling, useSampling } from './useSampling.ts';
import './howSure.css';

/** Points in each of the eight sets of a first run; each further run takes four times as many. */
const POINTS = 2048;
const MOST_POINTS = 1 << 19;

const times = (n: number): string => String(n).replace(/\B(?=(\d{3})+$)/g, '\u202f');

type Chances = Drawn['answer'];

/**
 * The chance of the whole: that it goes together as it is, once what must be is put right, and that everything fits.
 */
function Whole({ answer: { goesTogether, rest, allFit, acts } }: { answer: Chances }) {
  const all = [goesTogether, ...(acts > 0 ? [rest] : []), allFit].map(inHundred);
  if (all.every((text) => text === all[0]))
    return (
      <p className="odds-whole">
        <b>{inHundred(goesTogether)}</b> that the whole skeleton goes together as it is, and as much that everything
        fits, with nothing even to watch.
      </p>
    );
  return (
    <>
      <p className="odds-whole">
        <b>{inHundred(goesTogether)}</b> that the whole skeleton goes together as it is.
      </p>
      {acts > 0 && (
        <p>
          <b>{inHundred(rest)}</b> once {acts === 1 ? 'the one place' : `the ${acts} places`} that must be put right{' '}
          {acts === 1 ? 'is' : 'are'}, if that moves nothing else.
        </p>
      )}
      <p>
        <b>{inHundred(allFit)}</b> that everything fits, with nothing even to watch.
      </p>
    </>
  );
}

function Answer({ drawn: { answer, stopped } }: { drawn: Drawn }) {
  return (
    <>
      <Whole answer={answer} />
      <p className="small">
        All sizes tried together {times(answer.samples)} times{stopped ? ', then stopped' : ''}: one sheet or one tape
        moves everything it was used for. ± is what trying them that often leaves open.
      </p>
    </>
  );
}

/** Tries the sizes, the first time or more often. */
function Try({ drawn, draw }: Sampling) {
  const more = Math.min(MOST_POINTS, (drawn?.points ?? POINTS / 4) * 4);
  if (!drawn)
    return (
      <button type="button" className="take" onClick={() => draw(more)}>
        Try all sizes together
      </button>
    );
  return (
    <button type="button" className="take" onClick={() => draw(drawn.stopped ? drawn.points : more)}>
      {drawn.stopped ? 'Try them again' : 'Try four times as often'}
    </button>
  );
}

/**
 * How sure is this? All sizes drawn together in the background, with progress and a stop: the chance of the whole,
 * and of each finding.
 */
export function HowSure() {
  const sampling = useSampling();
  const { drawn, share, problem } = sampling;
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
        <Try {...sampling} />
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
