import { INSTRUMENTS, type Kind } from '../../model/quantities.ts';
import { formatLength } from '../../units.ts';
import { useApp } from '../state/store.ts';
import { instrumentsFor } from '../station/typedSize.ts';
import { type How, isReadOver } from './how.ts';

/** What the size is read with, how warm it is, and over what length. */
export function HowRead({ kind, how, setHow }: { kind: Kind; how: How; setHow: (part: Partial<How>) => void }) {
  const model = useApp((s) => s.model);
  return (
    <div className="settings">
      <label>
        With
        <select
          value={how.instrument}
          aria-label="With which instrument"
          onChange={(e) => setHow({ instrument: e.target.value })}
        >
          {instrumentsFor(model, kind).map((i) => (
            <option key={i} value={i}>
              {INSTRUMENTS[i] ?? i}
            </option>
          ))}
        </select>
      </label>
      <label>
        At{' '}
        <input
          value={how.temperature}
          inputMode="decimal"
          size={4}
          aria-label="Temperature, degrees C"
          onChange={(e) => setHow({ temperature: e.target.value })}
        />{' '}
        °C
      </label>
      {isReadOver(kind) && (
        <label>
          Over{' '}
          <input
            value={how.over}
            size={7}
            aria-label="Length it was read over"
            placeholder={kind === 'plumb' ? formatLength(300, model.units) : 'rib height'}
            onChange={(e) => setHow({ over: e.target.value })}
          />
        </label>
      )}
    </div>
  );
}
