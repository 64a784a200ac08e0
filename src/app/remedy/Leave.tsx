import { useState } from 'react';
import { conditionsFor } from '../../checks/accepting.ts';
import type { Finding } from '../../checks/finding.ts';
import { leave } from '../../remedies/decision.ts';
import { useApp } from '../state/store.ts';
import { today } from '../state/today.ts';
import { useTrying } from '../state/trying.ts';
import { WhyAndWhom } from './TryIt.tsx';
import './leave.css';

/**
 * Leaving a place as it is, with a note: accepted when every condition holds, else left open. The finding stays as it
 * is.
 */
export function Leave({ finding }: { finding: Finding }) {
  const model = useApp((s) => s.model);
  const edit = useApp((s) => s.edit);
  const [seen, setSeen] = useState<ReadonlySet<string>>(new Set());
  const [refused, setRefused] = useState('');
  const conditions = conditionsFor(model, finding);
  const own = conditions.filter((c) => c.holds === undefined);
  const accepted = conditions.every((c) => c.holds ?? seen.has(c.what));
  const write = () => {
    const { why, asked, put } = useTrying.getState();
    if (why.trim() === '') return setRefused('Write why it may stay: the log and the inspector will ask.');
    const faults = edit(
      leave(
        model,
        finding,
        { why, asked, date: today() },
        own.every((c) => seen.has(c.what)),
      ),
    );
    setRefused(faults.map((f) => f.sentence).join(' '));
    if (faults.length === 0) put({ why: '', asked: '' });
  };
  return (
    <details className="leave">
      <summary>{finding.verdict === 'fits' ? 'Write a note' : 'Leave it, with a note'}</summary>
      <ul className="conditions">
        {conditions.map((c) => (
          <li key={c.what} className={c.holds === false ? 'no' : ''}>
            {c.holds === undefined ? (
              <label>
                <input
                  type="checkbox"
                  checked={seen.has(c.what)}
                  onChange={() =>
                    setSeen(new Set(seen.has(c.what) ? [...seen].filter((x) => x !== c.what) : [...seen, c.what]))
                  }
                />{' '}
                {c.what}
              </label>
            ) : (
              <span>
                <span aria-hidden="true" className="tick">
                  {c.holds ? '✓' : '✕'}
                </span>{' '}
                {c.holds ? '' : 'not so: '}
                {c.what}
                {c.against && <small>{c.against}</small>}
              </span>
            )}
          </li>
        ))}
      </ul>
      <WhyAndWhom ask={accepted ? [] : ['the designer']} />
      <p className="small">
        {accepted
          ? 'All hold: it counts as accepted. The verdict stays as it is.'
          : 'Not all hold: it is written down as left open, and still counts in every gate.'}
      </p>
      <button type="button" className="take" onClick={write}>
        {accepted ? 'Accept it' : 'Leave it open'}
      </button>
      {refused && (
        <p className="refused" role="alert">
          {refused}
        </p>
      )}
    </details>
  );
}
