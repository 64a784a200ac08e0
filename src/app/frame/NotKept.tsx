import { useApp } from '../state/store.ts';
import { savePanel } from './panelFile.ts';
import './notKept.css';

/**
 * What to do where a change is not kept, until it is; and what became of a panel that was not kept or opened as
 * usual.
 */
export function NotKept() {
  const keeping = useApp((s) => s.keeping);
  const set = useApp((s) => s.set);
  if (!keeping.sentence) return null;
  return (
    <div className="not-kept" role="alert">
      <p>{keeping.sentence}</p>
      {keeping.state === 'failed' && (
        <button type="button" onClick={savePanel}>
          Save a file
        </button>
      )}
      <button
        type="button"
        className="icon"
        aria-label="Put this away"
        onClick={() => set({ keeping: { state: keeping.state } })}
      >
        ✕
      </button>
    </div>
  );
}
