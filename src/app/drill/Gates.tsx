import type { Finding } from '../../checks/finding.ts';
import type { Gate, GateItem } from '../../drilling/gate.ts';
import { gatesOf } from '../../drilling/gates.ts';
import { useApp } from '../state/store.ts';
import { useHoles } from './useHoles.ts';
import './gates.css';

const GATE_MARK = { yes: '✓', no: '✕', unsettled: '?', 'not asked': '–' } as const;

/** `12 of 14 looked at, last on 2026-06-06`. */
function restsText({ read, of, last }: GateItem['rests']): string {
  const day = last ? `, last on ${last}` : '';
  return `${read} of ${of} looked at${day}.`;
}

/** The first thing to do for an item; a way to its finding where it has one. */
function First({ first, finding }: { first: string; finding: Finding | undefined }) {
  const choose = useApp((s) => s.choose);
  if (!finding) return <>. {first}</>;
  return (
    <>
      .{' '}
      <button type="button" className="chip wrap" onClick={() => choose(finding.station, finding.id)}>
        {first}
      </button>
    </>
  );
}

function Item({ item }: { item: GateItem }) {
  const { answer, says, first, finding, rests, note } = item;
  return (
    <li>
      <span className="gate-mark" aria-hidden="true">
        {GATE_MARK[answer]}
      </span>
      <span>
        {answer === 'yes' ? says : <b>{says}</b>}
        {first && <First first={first} finding={finding} />}
        {rests.of > 0 && <small className="gate-note"> {restsText(rests)}</small>}
        {note && <small className="gate-note"> {note}</small>}
      </span>
    </li>
  );
}

function GateRow({ gate }: { gate: Gate }) {
  const { id, question, answer, items, rows } = gate;
  const open = items.filter((i) => i.answer !== 'yes').length;
  return (
    <details className={`gate ${answer.replace(' ', '-')}`}>
      <summary>
        <b>{question}</b>{' '}
        <span className="gate-answer">
          {GATE_MARK[answer]} {answer}
          {id !== 'skin' && rows.of > 0 && `, ${rows.yes} of ${rows.of} rows`}
          {open > 0 && (
            <small>
              : {open} of {items.length} {open === 1 ? 'stands' : 'stand'} in the way
            </small>
          )}
        </span>
      </summary>
      <ul>
        {items.map((i) => (
          <Item key={i.name} item={i} />
        ))}
      </ul>
    </details>
  );
}

/** The three gates: yes, no, unsettled or not asked, with the first thing to do for each item that is not yes. */
export function Gates() {
  const model = useApp((s) => s.model);
  const { stage, present } = useHoles();
  if (!present)
    return <p className="gates small">The three gates are asked of the panel as it is, at the stage where you are.</p>;
  return (
    <div className="gates">
      {gatesOf(model, stage?.id).map((g) => (
        <GateRow key={g.id} gate={g} />
      ))}
    </div>
  );
}
