import { useEffect } from 'react';
import { putBack, useTried, useTrying } from '../state/trying.ts';
import './tryBar.css';

/** Keys b: before and after, while something is tried and nothing is being typed. */
function useFlip(on: boolean): void {
  useEffect(() => {
    if (!on) return;
    const onKey = (e: KeyboardEvent): void => {
      const typing =
        (e.target instanceof HTMLInputElement && e.target.type !== 'range') ||
        e.target instanceof HTMLTextAreaElement ||
        e.target instanceof HTMLSelectElement;
      if (typing || e.key !== 'b' || e.ctrlKey || e.metaKey || e.altKey) return;
      const { side, put } = useTrying.getState();
      put({ side: side === 'after' ? 'before' : 'after' });
      e.preventDefault();
    };
    window.addEventListener('keydown', onKey);
    return () => window.removeEventListener('keydown', onKey);
  }, [on]);
}

/**
 * What is tried, over the bench: seen before and after, taken or put back. The panel is not changed until it is
 * taken.
 */
export function TryBar() {
  const tried = useTried();
  const side = useTrying((s) => s.side);
  const put = useTrying((s) => s.put);
  useFlip(tried !== null);
  if (!tried) return null;
  return (
    <section className="try-bar" aria-label="Tried, not taken">
      <p>
        <b>Tried, not taken:</b> {tried.name}
      </p>
      <fieldset className="pair" aria-label="Show the panel">
        <button
          type="button"
          aria-pressed={side === 'before'}
          title="before (key b)"
          onClick={() => put({ side: 'before' })}
        >
          before
        </button>
        <button
          type="button"
          aria-pressed={side === 'after'}
          title="after (key b)"
          onClick={() => put({ side: 'after' })}
        >
          after
        </button>
      </fieldset>
      <button type="button" className="toggle" onClick={putBack}>
        Put it back
      </button>
    </section>
  );
}
