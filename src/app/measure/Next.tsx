import { useDeferredValue, useMemo } from 'react';
import { type NextReadings, nextReadings } from '../../chance/nextReading.ts';
import { keptWhole } from '../../model/rested.ts';
import type { Model } from '../../model/schema.ts';
import { sizeBook } from '../../model/sizes.ts';
import { useMoreToCome } from '../state/atRest.ts';
import { useApp } from '../state/store.ts';
import './next.css';

const SHOWN = 5;

/** Once nothing to be done hangs on a reading: those that would tell a watch from a fit. */
function Finer({ model }: { model: Model }) {
  const read = useApp((s) => s.read);
  const { list } = useMemo(() => nextReadings(model, undefined, 'watch'), [model]);
  if (list.length === 0) return null;
  return (
    <details>
      <summary>To know what fits from what to watch, read on</summary>
      <ol className="next">
        {list.slice(0, SHOWN).map((n) => (
          <li key={n.size + n.instrument}>
            <button type="button" className="row-plain" onClick={() => read(n.size, n.instrument)}>
              {n.sentence}
            </button>
          </li>
        ))}
      </ol>
    </details>
  );
}

/** The readings that settle most verdicts for the least work, found after the screen is drawn. */
function useNext() {
  const now = useApp((s) => s.model);
  const model = useDeferredValue(now);
  useMoreToCome(model !== now);
  return { model, next: useMemo(() => known(model), [model]) };
}

const known: (model: Model) => NextReadings = keptWhole((model) => nextReadings(model));

/** In large: what to read next and why, with the button for it; or that it is time to stop. */
export function NextHead({ headline }: { headline: string }) {
  const { model, next } = useNext();
  const read = useApp((s) => s.read);
  const first = next.list[0];
  if (next.stop || !first)
    return (
      <>
        <h1>{next.stop ? next.sentence : headline}</h1>
        {next.stop && <Finer model={model} />}
      </>
    );
  return (
    <>
      <h1>{first.sentence}</h1>
      <p className="starts">
        <button type="button" className="take next-first" onClick={() => read(first.size, first.instrument)}>
          Read it: {sizeBook(model).entries.get(first.size)?.name ?? first.size}
        </button>
      </p>
      <p className="lead">{headline}</p>
    </>
  );
}

/** What to measure after that, and why. */
export function Next() {
  const { next } = useNext();
  const read = useApp((s) => s.read);
  const rest = next.stop ? [] : next.list.slice(1, SHOWN);
  if (rest.length === 0) return null;
  return (
    <>
      <h2 className="next-head">After that</h2>
      <ol className="next" start={2} aria-label="What to measure after that">
        {rest.map((n) => (
          <li key={n.size + n.instrument}>
            <button type="button" className="row-plain" onClick={() => read(n.size, n.instrument)}>
              {n.sentence}
            </button>
          </li>
        ))}
      </ol>
    </>
  );
}
