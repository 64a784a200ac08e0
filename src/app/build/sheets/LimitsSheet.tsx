import { useState } from 'react';
import { checkName } from '../../../checks/questions.ts';
import { BOUNDS, dropLimit, type ShownLimit, shownLimits, thresholds } from '../../../model/edits/limitEdits.ts';
import type { Limit } from '../../../model/limits.ts';
import { useApp } from '../../state/store.ts';
import { ChangeLimit } from './ChangeLimit.tsx';

const UNITS: Readonly<Record<Limit['unit'], string>> = {
  mm: 'mm',
  deg: '°',
  D: 'rivet diameters',
  'mm/100': 'mm in 100 mm',
  degC: '°C',
  u: 'uncertainties',
  x: 'times',
};

/** A limit with where it comes from, and the ways to change it. */
function LimitCells({ at, onChange }: { at: ShownLimit; onChange: () => void }) {
  const edit = useApp((s) => s.edit);
  const { limit, own } = at;
  return (
    <>
      {thresholds(limit).map((v, i) => (
        <td key={BOUNDS[i]} className={`cell number${own ? ' other' : ''}`}>
          <span>{v === null ? '–' : v}</span>
        </td>
      ))}
      <td className="left">{UNITS[limit.unit]}</td>
      <td className="origin">{own ? <b>{limit.origin}</b> : limit.origin}</td>
      <td className="left">
        <button type="button" className="quiet" onClick={onChange}>
          Change
        </button>
        {own && (
          <button type="button" className="quiet" onClick={() => edit(dropLimit(limit.check))}>
            Starting value
          </button>
        )}
      </td>
    </>
  );
}

function LimitHead() {
  return (
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
  );
}

/**
 * Every limit with where it comes from. They start from what a careful builder would; the drawing's go in place of
 * them.
 */
export function LimitsSheet() {
  const model = useApp((s) => s.model);
  const [open, setOpen] = useState<string | null>(null);
  return (
    <>
      <p className="small">
        Starting values of a careful builder. Your drawings, local rules and inspector come first: change them, and
        write why.
      </p>
      <div className="grid-scroll">
        <table className="grid limits" aria-label="Limits">
          <LimitHead />
          <tbody>
            {shownLimits(model).map((at) => {
              const { check } = at.limit;
              return (
                <tr key={check} className={open === check ? 'in-hand' : ''}>
                  <th scope="row" className="grid-name">
                    {checkName(check)}
                  </th>
                  {open === check ? (
                    <td colSpan={7}>
                      <ChangeLimit at={at} onDone={() => setOpen(null)} />
                    </td>
                  ) : (
                    <LimitCells at={at} onChange={() => setOpen(check)} />
                  )}
                </tr>
              );
            })}
          </tbody>
        </table>
      </div>
    </>
  );
}
