import { useApp } from '../state/store.ts';
import { findPlaces, stopPlacing, usePlacing } from '../workers/planning.ts';
import type { FoundPlaces } from '../workers/plans.worker.ts';
import { PlanRow } from './LeastWork.tsx';

const WHAT = { main: 'Main ribs', nose: 'Nose ribs' } as const;

function Group({ group }: { group: FoundPlaces }) {
  const model = useApp((s) => s.model);
  const plans = [group.swap, group.best]
    .filter((p) => p !== undefined)
    .filter((p, i, all) => all.findIndex((q) => q.id === p.id) === i);
  return (
    <>
      <h3>{WHAT[group.kind]}</h3>
      <p className="small">{group.sentence}</p>
      {plans.length > 0 && (
        <ol className="remedies">
          {plans.map((p) => (
            <PlanRow key={p.id} base={model} plan={p} first={false} />
          ))}
        </ol>
      )}
    </>
  );
}

/**
 * Which rib goes where? The best single exchange and the best of all placements of like ribs, each carrying its own
 * faults along.
 */
export function Places() {
  const model = useApp((s) => s.model);
  const placing = usePlacing((s) => s.placing);
  const mine = placing.state !== 'idle' && placing.base === model ? placing : { state: 'idle' as const };
  const ask = (
    <button type="button" className="toggle" onClick={() => void findPlaces()}>
      Find the best places
    </button>
  );
  return (
    <section className="remedy-part" aria-label="Which rib goes where">
      <h2>Which rib goes where?</h2>
      {mine.state === 'idle' && (
        <>
          <p className="small">Like ribs exchanged, each with its own faults. Nothing is made.</p>
          {ask}
        </>
      )}
      {mine.state === 'going' && (
        <>
          <p role="status">Standing every rib at every station…</p>
          <progress aria-label="The search is going on" />
          <button type="button" className="toggle" onClick={stopPlacing}>
            Call it off
          </button>
        </>
      )}
      {mine.state === 'failed' && (
        <>
          <p className="refused" role="alert">
            {mine.sentence}
          </p>
          {ask}
        </>
      )}
      {mine.state === 'found' &&
        (mine.places.length === 0 ? (
          <p>No two ribs are alike here.</p>
        ) : (
          mine.places.map((g) => <Group key={g.kind + g.sentence} group={g} />)
        ))}
    </section>
  );
}
