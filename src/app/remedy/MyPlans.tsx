import { useMemo, useState } from 'react';
import { applyEdit } from '../../model/edits/edits.ts';
import { changesBetween } from '../../remedies/effect.ts';
import { costOf } from '../../remedies/search/plan.ts';
import { capital } from '../../units/capital.ts';
import { useApp } from '../state/store.ts';
import { type Kept, useTrying } from '../state/trying.ts';
import { Changes, FactLines, turnedWords } from './Changes.tsx';
import { takingOfPicks } from './picks.ts';
import { costText } from './Remedies.tsx';
import { TryOrTake } from './TryIt.tsx';

/** A plan of one's own judged whole: everything that moves when all of it is done. */
function Judged({ plan }: { plan: Kept }) {
  const model = useApp((s) => s.model);
  const { taking, gone } = useMemo(() => takingOfPicks(model, plan.picks, plan.name), [model, plan]);
  const done = useMemo(() => applyEdit(model, { name: plan.name, apply: taking.apply }), [model, plan, taking]);
  const changes = useMemo(() => (done.ok ? changesBetween(model, done.model) : []), [done, model]);
  if (taking.remedies.length === 0)
    return <p className="small">Nothing of it is offered for the panel as it is now.</p>;
  if (!done.ok)
    return (
      <p className="refused" role="alert">
        Together they cannot be done: {done.faults.map((f) => f.sentence).join(' ')}
      </p>
    );
  return (
    <>
      {gone.length > 0 && <p className="small">No longer offered: {gone.map((g) => g.name).join('; ')}.</p>}
      <p>
        {turnedWords(changes)}{' '}
        {capital(
          costText(
            costOf(taking.remedies),
            taking.remedies.some((r) => r.askDesigner),
          ),
        )}
        .
      </p>
      <Changes model={model} changes={changes} said />
      <FactLines before={model} after={done.model} />
      <TryOrTake name={plan.name} taking={taking} />
    </>
  );
}

/** The plan being put together: what was picked, judged whole, kept under a name. */
function Making() {
  const picks = useTrying((s) => s.picks);
  const kept = useTrying((s) => s.kept);
  const put = useTrying((s) => s.put);
  const panel = useApp((s) => s.model.name);
  const [name, setName] = useState('');
  const called = name.trim() || `plan ${kept.length + 1}`;
  const plan = useMemo((): Kept => ({ name: called, panel, picks }), [called, panel, picks]);
  if (picks.length === 0) return null;
  const keep = () => {
    put({ kept: [...kept.filter((k) => k.name !== called || k.panel !== panel), plan], picks: [] });
    setName('');
  };
  return (
    <div className="making">
      <ul className="facts">
        {picks.map((p) => (
          <li key={p.remedy}>
            {capital(p.name)}{' '}
            <button
              type="button"
              className="quiet inline"
              aria-label={`Take out of my plan: ${p.name}`}
              onClick={() => put({ picks: picks.filter((x) => x !== p) })}
            >
              take out
            </button>
          </li>
        ))}
      </ul>
      <form
        className="row-form"
        onSubmit={(e) => {
          e.preventDefault();
          keep();
        }}
      >
        <label>
          call it
          <input
            className="long"
            value={name}
            maxLength={60}
            placeholder={called}
            onChange={(e) => setName(e.target.value)}
          />
        </label>
        <button type="submit" className="toggle">
          Keep the plan
        </button>
      </form>
      <Judged plan={plan} />
    </div>
  );
}

/** Plans of one's own: the one being put together, and those kept, side by side. */
export function MyPlans() {
  const picks = useTrying((s) => s.picks);
  const all = useTrying((s) => s.kept);
  const put = useTrying((s) => s.put);
  const panel = useApp((s) => s.model.name);
  const kept = all.filter((k) => k.panel === panel);
  if (picks.length === 0 && kept.length === 0) return null;
  return (
    <section className="remedy-part" aria-label="My plans">
      <h2>My plan{kept.length > 0 ? 's' : ''}</h2>
      <Making />
      <ol className="remedies">
        {kept.map((k) => (
          <li key={k.name}>
            <details>
              <summary>
                <b>{capital(k.name)}</b>
                <span className="small"> {k.picks.map((p) => p.name).join('; ')}</span>
              </summary>
              <Judged plan={k} />
              <button type="button" className="quiet" onClick={() => put({ kept: all.filter((x) => x !== k) })}>
                Forget this plan
              </button>
            </details>
          </li>
        ))}
      </ol>
    </section>
  );
}
