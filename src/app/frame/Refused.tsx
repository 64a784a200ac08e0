import { faultText } from '../../model/file/parse.ts';
import { useApp } from '../state/store.ts';

/** A file that could not be taken, as its sentences; the panel on screen stays as it is. */
export function Refused() {
  const refusal = useApp((s) => s.refusal);
  const set = useApp((s) => s.set);
  if (!refusal) return null;
  const n = refusal.faults.length;
  return (
    <div
      className="refused-sheet"
      role="alertdialog"
      aria-label={`${refusal.file} was not opened`}
      onKeyDown={(e) => {
        if (e.key !== 'Escape') return;
        e.stopPropagation();
        set({ refusal: null });
      }}
    >
      <h2>
        {refusal.file} was not opened: {n === 1 ? 'one fault' : `${n} faults`}
      </h2>
      <p>The panel on screen is untouched.</p>
      <ul>
        {refusal.faults.map((f) => (
          <li key={f.path + f.sentence}>
            {f.path === '' ? faultText(f).replace(/^[a-z]/, (c) => c.toUpperCase()) : faultText(f)}
          </li>
        ))}
      </ul>
      <button type="button" autoFocus onClick={() => set({ refusal: null })}>
        Back to the panel
      </button>
    </div>
  );
}
