import { useMemo } from 'react';
import { show } from '../../checks/describe.ts';
import type { Finding } from '../../checks/finding.ts';
import type { Cause } from '../../checks/fit/causes/cause.ts';
import { causesOf } from '../../checks/fit/causes.ts';
import type { Model } from '../../model/schema.ts';
import { useApp } from '../state/store.ts';
import './causes.css';

const W = 380;
const MID = 190;

/** An amount with its sign; none where it prints as nothing. */
function amountText(model: Model, amount: number): string {
  const size = show(model, Math.abs(amount));
  if (Math.abs(amount) < 0.005) return size;
  return `${amount > 0 ? '+' : '−'}${size}`;
}

/**
 * One cause: its words and its part of the deviation, a bar from the middle as long as that part, and its share of
 * the doubt.
 */
function Bar({ cause, scale, model }: { cause: Cause; scale: number; model: Model }) {
  const long = cause.amount * scale;
  return (
    <li>
      <span>{cause.what.replace(/,$/, '')}</span>
      <b>{amountText(model, cause.amount)}</b>
      <svg viewBox={`0 0 ${W} 14`} aria-hidden="true">
        <line x1={MID} x2={MID} y1="0" y2="14" className="hair" />
        <rect
          x={Math.min(MID, MID + long)}
          y="2"
          width={Math.max(1.5, Math.abs(long))}
          height="10"
          className={cause.kind === 'not known' ? 'cause unread' : 'cause'}
        />
      </svg>
      {cause.doubt >= 0.01 && <small>{Math.round(cause.doubt * 100)} % of the doubt</small>}
    </li>
  );
}

/**
 * Why a nose or a chord gap is off: the causes ranked, each with its part, and the one reading that tells them apart.
 */
export function Causes({ finding }: { finding: Finding }) {
  const model = useApp((s) => s.model);
  const read = useApp((s) => s.read);
  const causes = useMemo(() => causesOf(model, finding), [model, finding]);
  if (!causes)
    return finding.echoOf ? (
      <p className="lead">Only an echo of {finding.echoOf}: put that right and this goes.</p>
    ) : null;
  const { check } = causes;
  const list = causes.list.slice(0, 5);
  const most = Math.max(...list.map((c) => Math.abs(c.amount)), 0.05);
  return (
    <section className="causes" aria-label="Why">
      <h2>Why</h2>
      <p className="lead">{causes.sentence}</p>
      <ol className="cause-list">
        {list.map((c) => (
          <Bar key={c.kind + c.what} cause={c} scale={180 / most} model={model} />
        ))}
      </ol>
      {causes.notes.map((n) => (
        <p key={n} className="small">
          {n}
        </p>
      ))}
      {check && (
        <p>
          {check.sentence}{' '}
          <button type="button" className="quiet inline" onClick={() => read(check.size, check.instrument)}>
            Read it now
          </button>
        </p>
      )}
    </section>
  );
}
