import { faultText } from '../../model/file/parse.ts';
import { type Refusal, useApp } from '../state/store.ts';
import { Over } from '../widgets/Over.tsx';
import './refused.css';

type Fault = Refusal['faults'][number];

/** A fault by its place and its sentence; where it has no place, the sentence begins. */
const textOf = (fault: Fault): string =>
  fault.path === '' ? faultText(fault).replace(/^[a-z]/, (c) => c.toUpperCase()) : faultText(fault);

/** A file that could not be taken, as its sentences; the panel on screen stays as it is. */
export function Refused() {
  const refusal = useApp((s) => s.refusal);
  const set = useApp((s) => s.set);
  if (!refusal) return null;
  const { file, faults } = refusal;
  const putAway = (): void => set({ refusal: null });
  return (
    <Over
      label={`${file} was not opened`}
      className="refused-sheet"
      role="alertdialog"
      closedby="closerequest"
      onClose={putAway}
    >
      <h2>
        {file} was not opened: {faults.length === 1 ? 'one fault' : `${faults.length} faults`}
      </h2>
      <p>The panel on screen is untouched.</p>
      <ul>
        {faults.map((f) => (
          <li key={f.path + f.sentence}>{textOf(f)}</li>
        ))}
      </ul>
      <button type="button" onClick={putAway}>
        Back to the panel
      </button>
    </Over>
  );
}
