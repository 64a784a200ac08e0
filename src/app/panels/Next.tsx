import { useDeferredValue, useMemo } from 'react';
import { nextReadings } from '../../checks/nextReading.ts';
import { useApp } from '../store.ts';

const SHOWN = 5;

/** What to measure next, and why: the readings that settle most verdicts for the least work, or that it is time to stop. */
export function Next() {
  const model = useDeferredValue(useApp((s) => s.model));
  const read = useApp((s) => s.read);
  const next = useMemo(() => nextReadings(model), [model]);
  if (next.stop) return <p className="lead">{next.sentence}</p>;
  return (
    <ol className="next" aria-label="What to measure next">
      {next.list.slice(0, SHOWN).map((n, i) => (
        <li key={n.size + n.instrument} className={i === 0 ? 'first' : ''}>
          <button type="button" className="row-plain" onClick={() => read(n.size, n.instrument)}>{n.sentence}</button>
        </li>
      ))}
    </ol>
  );
}
