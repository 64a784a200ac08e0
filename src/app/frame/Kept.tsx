import { useEffect, useState } from 'react';
import { fileStem, saveAs } from '../files/saveAs.ts';
import { type KeptPanel, type KeptState, panelsKept, statesOf } from '../keeping/keep.ts';
import { backTo, forgetKept, openKept } from '../keeping/keeping.ts';
import { currentText, useApp } from '../state/store.ts';
import './kept.css';

const MOST_LISTED = 30;

const when = (at: number): string =>
  at === 0 ? '' : new Date(at).toLocaleString(undefined, { dateStyle: 'medium', timeStyle: 'short' });

/** The panels this browser keeps, and the earlier states of the one on screen; in the panel menu. */
export function KeptPanels({ close }: { close: () => void }) {
  const panel = useApp((s) => s.panel);
  const [panels, setPanels] = useState<readonly KeptPanel[]>([]);
  const [states, setStates] = useState<readonly KeptState[]>([]);
  const [removing, setRemoving] = useState<string | null>(null);
  const read = (): void => {
    void panelsKept().then(setPanels);
    void statesOf(panel, MOST_LISTED).then(setStates);
  };
  useEffect(read, [panel]);
  const others = panels.filter((p) => p.id !== panel);
  return (
    <>
      <p className="small">Every change is kept in this browser. Save a file as well: a browser can be cleared.</p>
      {others.length > 0 && (
        <ul className="kept" aria-label="Panels kept in this browser">
          {others.map((p) => (
            <li key={p.id}>
              {removing === p.id ? (
                <>
                  <p>
                    Remove {p.name} and its {p.states.length} states from this browser for good?
                  </p>
                  <span className="kept-ask">
                    <button
                      type="button"
                      onClick={() => {
                        setRemoving(null);
                        void forgetKept(p.id).then(read);
                      }}
                    >
                      Remove it
                    </button>
                    <button type="button" autoFocus onClick={() => setRemoving(null)}>
                      Leave it
                    </button>
                  </span>
                </>
              ) : (
                <>
                  <button
                    type="button"
                    onClick={() => {
                      close();
                      void openKept(p);
                    }}
                  >
                    {p.name}{' '}
                    <small>
                      {when(p.at)}
                      {p.note ? ` · ${p.note}` : ''}
                    </small>
                  </button>
                  <button
                    type="button"
                    className="icon"
                    aria-label={`Remove ${p.name} from this browser`}
                    onClick={() => setRemoving(p.id)}
                  >
                    ✕
                  </button>
                </>
              )}
            </li>
          ))}
        </ul>
      )}
      {states.length > 1 && (
        <details className="kept-states">
          <summary>Earlier states of this panel ({states.length - 1})</summary>
          <ol>
            {states.slice(1).map((s) => (
              <li key={s.seq}>
                <button
                  type="button"
                  onClick={() => {
                    const edit = backTo(s);
                    if (edit) useApp.getState().edit(edit);
                    close();
                  }}
                >
                  {s.step} <small>{when(s.at)}</small>
                </button>
              </li>
            ))}
          </ol>
        </details>
      )}
    </>
  );
}

/** What to do where a change is not kept, until it is; and what became of a panel that was not kept or opened as usual. */
export function NotKept() {
  const keeping = useApp((s) => s.keeping);
  const name = useApp((s) => s.model.name);
  if (!keeping.sentence) return null;
  return (
    <div className="not-kept" role="alert">
      <p>{keeping.sentence}</p>
      {keeping.state === 'failed' && (
        <button type="button" onClick={() => saveAs(currentText(), `${fileStem(name)}.json`, 'application/json')}>
          Save a file
        </button>
      )}
      <button
        type="button"
        className="icon"
        aria-label="Put this away"
        onClick={() => useApp.getState().set({ keeping: { state: keeping.state } })}
      >
        ✕
      </button>
    </div>
  );
}
