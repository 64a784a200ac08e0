import { useCallback, useEffect, useRef, useState } from 'react';
import { type KeptPanel, type KeptState, panelsKept, statesOf } from '../keeping/keep.ts';
import { backTo, forgetKept, openKept } from '../keeping/keeping.ts';
import { useApp } from '../state/store.ts';
import './kept.css';

const MOST_LISTED = 30;

const when = (at: number): string =>
  at === 0 ? '' : new Date(at).toLocaleString(undefined, { dateStyle: 'medium', timeStyle: 'short' });

/** Whether a panel is to go for good; "Leave it" has the focus, so that a second Enter by mistake removes nothing. */
function Removing({ panel, onDone }: { panel: KeptPanel; onDone: (remove: boolean) => void }) {
  const leave = useRef<HTMLButtonElement>(null);
  useEffect(() => leave.current?.focus(), []);
  return (
    <>
      <p>
        Remove {panel.name} and its {panel.states.length} states from this browser for good?
      </p>
      <span className="kept-ask">
        <button type="button" onClick={() => onDone(true)}>
          Remove it
        </button>
        <button ref={leave} type="button" onClick={() => onDone(false)}>
          Leave it
        </button>
      </span>
    </>
  );
}

/** One kept panel: opened by its name, or removed after a second word. */
function KeptRow({ panel, close, changed }: { panel: KeptPanel; close: () => void; changed: () => void }) {
  const [removing, setRemoving] = useState(false);
  const done = (remove: boolean): void => {
    setRemoving(false);
    if (remove) void forgetKept(panel.id).then(changed);
  };
  if (removing) return <Removing panel={panel} onDone={done} />;
  return (
    <>
      <button
        type="button"
        onClick={() => {
          close();
          void openKept(panel);
        }}
      >
        {panel.name}{' '}
        <small>
          {when(panel.at)}
          {panel.note ? ` · ${panel.note}` : ''}
        </small>
      </button>
      <button
        type="button"
        className="icon"
        aria-label={`Remove ${panel.name} from this browser`}
        onClick={() => setRemoving(true)}
      >
        ✕
      </button>
    </>
  );
}

/** The earlier states of the panel on screen, each to go back to. */
function EarlierStates({ states, close }: { states: readonly KeptState[]; close: () => void }) {
  const goBack = (state: KeptState): void => {
    close();
    const edit = backTo(state);
    if (edit) useApp.getState().edit(edit);
  };
  return (
    <details className="kept-states">
      <summary>Earlier states of this panel ({states.length})</summary>
      <ol>
        {states.map((s) => (
          <li key={s.seq}>
            <button type="button" onClick={() => goBack(s)}>
              {s.step} <small>{when(s.at)}</small>
            </button>
          </li>
        ))}
      </ol>
    </details>
  );
}

/** The panels this browser keeps, and the earlier states of the one on screen; in the panel menu. */
export function KeptPanels({ close }: { close: () => void }) {
  const panel = useApp((s) => s.panel);
  const [panels, setPanels] = useState<readonly KeptPanel[]>([]);
  const [states, setStates] = useState<readonly KeptState[]>([]);
  const read = useCallback((): void => {
    void panelsKept().then(setPanels);
    void statesOf(panel, MOST_LISTED).then(setStates);
  }, [panel]);
  useEffect(read, [read]);
  const others = panels.filter((p) => p.id !== panel);
  const earlier = states.slice(1);
  return (
    <>
      <p className="small">Every change is kept in this browser. Save a file as well: a browser can be cleared.</p>
      {others.length > 0 && (
        <ul className="kept" aria-label="Panels kept in this browser">
          {others.map((p) => (
            <li key={p.id}>
              <KeptRow panel={p} close={close} changed={read} />
            </li>
          ))}
        </ul>
      )}
      {earlier.length > 0 && <EarlierStates states={earlier} close={close} />}
    </>
  );
}
