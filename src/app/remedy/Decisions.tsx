import { useState } from 'react';
import { checkName } from '../../checks/questions.ts';
import { isOpen } from '../../model/edits/work.ts';
import type { Decision } from '../../model/schema.ts';
import { askedLater } from '../../remedies/decision.ts';
import { useApp } from '../state/store.ts';
import { ToMake } from '../widgets/ToMake.tsx';
import './changes.css';
import { capital } from '../../units/capital.ts';

const WORD = { taken: 'made', accepted: 'accepted', 'left-open': 'left open' } as const;
const wordOf = (d: Decision): string => (isOpen(d) ? 'decided, not made yet' : WORD[d.kind]);

const FEW = 8;

function Asked({ decision }: { decision: Decision }) {
  const edit = useApp((s) => s.edit);
  const [text, setText] = useState('');
  if (decision.asked) return <p className="small">Asked: {decision.asked}</p>;
  if (decision.ask.length === 0) return null;
  return (
    <form
      className="row-form"
      onSubmit={(e) => {
        e.preventDefault();
        if (text.trim() !== '') edit(askedLater(decision.id, text.trim()));
      }}
    >
      <label>
        Ask {decision.ask.join(' and ')}
        <input
          className="long"
          aria-label={`Who was asked about: ${decision.what}`}
          value={text}
          maxLength={400}
          onChange={(e) => setText(e.target.value)}
        />
      </label>
      <button type="submit" className="toggle">
        Write it down
      </button>
    </form>
  );
}

type Line = Decision['lines'][number];

/** A place as it was before a decision. */
const beforeText = ({ before }: Line): string => (before ? `${before.text}: ${before.verdict}` : 'not there');

/** A place after it; what was only accepted or left open stays as it is. */
function afterText({ after }: Line, { kind }: Decision): string {
  if (after) return `${after.text}: ${after.verdict}`;
  return kind === 'taken' ? 'not there' : 'as it is';
}

/** The places a decision is about, before and after it. */
function Lines({ decision }: { decision: Decision }) {
  const { lines } = decision;
  return (
    <>
      <table className="changes">
        <thead>
          <tr>
            <th scope="col">place</th>
            <th scope="col">before</th>
            <th scope="col">after</th>
          </tr>
        </thead>
        <tbody>
          {lines.slice(0, FEW).map((l) => (
            <tr key={l.finding}>
              <th scope="row">
                {l.place}
                <small>{checkName(l.check)}</small>
              </th>
              <td className={l.before?.verdict}>{beforeText(l)}</td>
              <td className={l.after?.verdict}>{afterText(l, decision)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {lines.length > FEW && <p className="small">and {lines.length - FEW} more in the file</p>}
    </>
  );
}

function DecisionRow({ decision }: { decision: Decision }) {
  const choose = useApp((s) => s.choose);
  const stations = useApp((s) => s.model.stations);
  const at = stations.find((s) => decision.places.includes(s.id))?.id ?? null;
  return (
    <li>
      <details open={isOpen(decision)}>
        <summary>
          <b>{capital(decision.what)}</b>
          <span className="small">
            {' '}
            {wordOf(decision)}
            {decision.date && `, ${decision.date}`}
            {decision.why && `: ${decision.why}`}
          </span>
        </summary>
        <Lines decision={decision} />
        <ToMake decision={decision} />
        <Asked decision={decision} />
        {at !== null && (
          <button type="button" className="quiet" onClick={() => choose(at)}>
            Go to {at}
          </button>
        )}
      </details>
    </li>
  );
}

/** What was decided, newest first; of one station where one is named. */
export function Decisions({ station }: { station?: string }) {
  const decisions = useApp((s) => s.model.decisions);
  const shown = (decisions ?? []).filter((d) => station === undefined || d.places.includes(station)).reverse();
  if (shown.length === 0) return null;
  return (
    <section className="remedy-part" aria-label="What was decided">
      <h2>What was decided{station === undefined ? '' : ` at ${station}`}</h2>
      <ol className="remedies">
        {shown.map((d) => (
          <DecisionRow key={d.id} decision={d} />
        ))}
      </ol>
    </section>
  );
}
