import { type FormEvent, useState } from 'react';
import type { CheckId } from '../../checks/finding.ts';
import { CHECK_NAMES } from '../../checks/questions.ts';
import {
  BOUNDS,
  bandsFrom,
  dropLimit,
  type ShownLimit,
  setLimit,
  shownLimits,
  thresholds,
} from '../../model/edits/limitEdits.ts';
import type { LimitEntry } from '../../model/schema.ts';
import { useApp } from '../state/store.ts';

const UNITS: Record<string, string> = {
  mm: 'mm',
  deg: '°',
  D: 'rivet diameters',
  'mm/100': 'mm in 100 mm',
  degC: '°C',
  u: 'uncertainties',
  x: 'times',
};
const SAYS: readonly (readonly [LimitEntry['origin'], string])[] = [
  ['drawing', 'the drawing'],
  ['builder', 'me, the builder'],
  ['inspector', 'the inspector'],
];
const nameOf = (check: string): string => CHECK_NAMES[check as CheckId] ?? check;
const shown = (v: number | null): string => (v === null ? '' : String(v));

/** One limit while it is changed: four thresholds, who says so, and why; nothing is taken without a reason. */
function Change({ at, onDone }: { at: ShownLimit; onDone: () => void }) {
  const edit = useApp((s) => s.edit);
  const [texts, setTexts] = useState(() => thresholds(at.limit).map(shown));
  const [origin, setOrigin] = useState<LimitEntry['origin']>(at.own?.origin ?? 'drawing');
  const [reason, setReason] = useState(at.own?.reason ?? '');
  const [fault, setFault] = useState('');
  const take = (e: FormEvent) => {
    e.preventDefault();
    const values = texts.map((t) => (t.trim() === '' ? null : Number(t.replace(',', '.'))));
    if (values.some((v) => v !== null && !Number.isFinite(v)))
      return setFault('A threshold is a number, or left empty where that side has none.');
    const bands = bandsFrom(values);
    if (!bands.ok) return setFault(bands.sentence);
    if (reason.trim().length < 3)
      return setFault(
        'Write why: the sheet or note of the drawing, or what was agreed. It is printed wherever this limit is used.',
      );
    const faults = edit(
      setLimit({ check: at.limit.check, fits: bands.fits, act: bands.act, origin, reason: reason.trim() }),
    );
    if (faults.length > 0) return setFault(faults.map((f) => f.sentence).join(' '));
    onDone();
  };
  return (
    <form
      className="add-form limit-form"
      onSubmit={take}
      onKeyDown={(e) => {
        if (e.key === 'Escape') {
          e.stopPropagation();
          onDone();
        }
      }}
    >
      {BOUNDS.map((b, i) => (
        <label key={b}>
          {b}{' '}
          <input
            size={6}
            inputMode="decimal"
            value={texts[i]}
            onChange={(e) => {
              setTexts(texts.map((t, k) => (k === i ? e.target.value : t)));
              setFault('');
            }}
          />
        </label>
      ))}
      <label>
        says{' '}
        <select value={origin} onChange={(e) => setOrigin(e.target.value as LimitEntry['origin'])}>
          {SAYS.map(([v, w]) => (
            <option key={v} value={v}>
              {w}
            </option>
          ))}
        </select>
      </label>
      <label className="grow">
        because{' '}
        <input
          value={reason}
          placeholder="sheet 4, note 7"
          onChange={(e) => {
            setReason(e.target.value);
            setFault('');
          }}
        />
      </label>
      <button type="submit" className="take">
        Take
      </button>
      <button type="button" className="quiet" onClick={onDone}>
        Leave
      </button>
      {fault && (
        <output className="refused" role="alert">
          {fault}
        </output>
      )}
    </form>
  );
}

/** Every limit with where it comes from. They start from what a careful builder would; the drawing's go in place of them. */
export function LimitsSheet() {
  const model = useApp((s) => s.model);
  const edit = useApp((s) => s.edit);
  const [open, setOpen] = useState<string | null>(null);
  return (
    <>
      <p className="small">
        Starting values of a careful builder. Your drawings, local rules and inspector come first: change them, and
        write why.
      </p>
      <div className="grid-scroll">
        <table className="grid limits" aria-label="Limits">
          <thead>
            <tr>
              <th scope="col" className="grid-name">
                check
              </th>
              {BOUNDS.map((b) => (
                <th key={b} scope="col">
                  {b}
                </th>
              ))}
              <th scope="col" className="left">
                in
              </th>
              <th scope="col" className="left">
                where it comes from
              </th>
              <th />
            </tr>
          </thead>
          <tbody>
            {shownLimits(model).map((l) => (
              <tr key={l.limit.check} className={open === l.limit.check ? 'in-hand' : ''}>
                {open === l.limit.check ? (
                  <>
                    <th scope="row" className="grid-name">
                      {nameOf(l.limit.check)}
                    </th>
                    <td colSpan={7}>
                      <Change at={l} onDone={() => setOpen(null)} />
                    </td>
                  </>
                ) : (
                  <>
                    <th scope="row" className="grid-name">
                      {nameOf(l.limit.check)}
                    </th>
                    {thresholds(l.limit).map((v, i) => (
                      <td key={BOUNDS[i]} className={`cell number${l.own ? ' other' : ''}`}>
                        <span>{v === null ? '–' : v}</span>
                      </td>
                    ))}
                    <td className="left">{UNITS[l.limit.unit]}</td>
                    <td className="origin">{l.own ? <b>{l.limit.origin}</b> : l.limit.origin}</td>
                    <td>
                      <button type="button" className="quiet" onClick={() => setOpen(l.limit.check)}>
                        Change
                      </button>
                      {l.own && (
                        <button type="button" className="quiet" onClick={() => edit(dropLimit(l.limit.check))}>
                          Starting value
                        </button>
                      )}
                    </td>
                  </>
                )}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </>
  );
}
