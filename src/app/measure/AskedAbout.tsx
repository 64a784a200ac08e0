import { confirmSize } from '../../model/edits/edits.ts';
import { askedOf } from '../../model/sizes.ts';
import { useApp } from '../state/store.ts';

/**
 * Readings far off what their neighbours say: each a question, with a yes and a way to read it again. Nothing where
 * none is.
 */
export function AskedAbout() {
  const model = useApp((s) => s.model);
  const edit = useApp((s) => s.edit);
  const read = useApp((s) => s.read);
  const asked = [...askedOf(model).values()];
  if (asked.length === 0) return null;
  return (
    <ul className="asked-about" aria-label="Readings in doubt">
      {asked.map(({ reading, question }) => (
        <li key={reading.size}>
          {question}{' '}
          <button type="button" className="quiet" onClick={() => read(reading.size, reading.instrument)}>
            Read it again
          </button>
          <button type="button" className="quiet" onClick={() => void edit(confirmSize(model, reading.size))}>
            Yes, that is what it reads
          </button>
        </li>
      ))}
    </ul>
  );
}
