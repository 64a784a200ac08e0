import { useMemo, useState } from 'react';
import type { Bay } from '../../parts/layout/layout.ts';
import { takingOf } from '../../remedies/decision.ts';
import { askMove } from '../../remedies/offers/moveAsked.ts';
import { parseLength } from '../../units/read.ts';
import { exactLength } from '../../units.ts';
import { useApp } from '../state/store.ts';
import { Changes } from './Changes.tsx';
import { TryOrTake } from './TryIt.tsx';
import './leave.css';
import './changes.css';

/** What moving a station by s asks of everything else, live, and what becomes of the parts as they are. */
function Answer({ bay, s }: { bay: Bay; s: number }) {
  const model = useApp((x) => x.model);
  const answer = useMemo(() => askMove(model, bay.station.id, s), [model, bay.station.id, s]);
  const taking = useMemo(() => (answer.ok ? takingOf([answer.remedy], []) : null), [answer]);
  if (!answer.ok || !taking)
    return (
      <p className="refused" role="alert">
        {answer.ok ? '' : answer.faults.map((f) => f.sentence).join(' ')}
      </p>
    );
  return (
    <>
      <table className="changes">
        <thead>
          <tr>
            <th scope="col">it asks</th>
            <th scope="col">now</th>
            <th scope="col">there</th>
          </tr>
        </thead>
        <tbody>
          {answer.asks.map((a) => [
            <tr key={a.what} className="ask">
              <th scope="row">{a.what}</th>
              <td>{a.before}</td>
              <td>{a.after}</td>
            </tr>,
            <tr key={`${a.what} says`}>
              <td colSpan={3} className="small">
                {a.sentence}
              </td>
            </tr>,
          ])}
        </tbody>
      </table>
      <h3>With the parts as they are</h3>
      <Changes model={model} changes={answer.changes} />
      <p className="small">{answer.remedy.note}</p>
      <TryOrTake name={answer.remedy.name} taking={taking} />
    </>
  );
}

/** Moving a rib along the span: a length typed, positive toward the last station, and what else changes. */
export function MoveRib({ bay }: { bay: Bay }) {
  const units = useApp((x) => x.model.units);
  const [text, setText] = useState('');
  const { y, id } = bay.station;
  const typed = text.trim() === '' ? null : parseLength(text, units);
  const where = (mm: number): string => exactLength(Number((y + mm).toFixed(2)), units);
  return (
    <details className="leave">
      <summary>Move {bay.main?.id ?? bay.tip?.id ?? bay.nose?.id ?? id} along the span</summary>
      <div className="move-form">
        <label>
          by{' '}
          <input
            value={text}
            inputMode="text"
            autoComplete="off"
            aria-label={`Move station ${id} by, toward the higher station positive`}
            placeholder="45 or -1.5 in"
            onChange={(e) => setText(e.target.value)}
          />
        </label>
        <span className="small">
          {typed?.ok
            ? `${where(0)} → ${where(typed.value)} from the datum`
            : 'plus: toward the last station, minus: toward the first'}
        </span>
      </div>
      {typed && !typed.ok && (
        <p className="refused" role="alert">
          {typed.sentence}
        </p>
      )}
      {typed?.ok && typed.value !== 0 && <Answer bay={bay} s={typed.value} />}
    </details>
  );
}
