import { useDeferredValue, useMemo } from 'react';
import { nextReadings } from '../../checks/nextReading.ts';
import type { Model } from '../../model/schema.ts';
import { useApp } from '../store.ts';
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
      <ol className="next">{list.slice(0, SHOWN).map((n) => <li key={n.size + n.instrument}><button type="button" className="row-plain" onClick={() => read(n.size, n.instrument)}>{n.sentence}</button></li>)}</ol>
    </details>
  );
}

/** What to measure next, and why: the readings that settle most verdicts for the least work, or that it is time to stop. */
export function Next() {
  const model = useDeferredValue(useApp((s) => s.model));
  const read = useApp((s) => s.read);
  const next = useMemo(() => nextReadings(model), [model]);
  if (next.stop) return <><p className="lead">{next.sentence}</p><Finer model={model} /></>;
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
