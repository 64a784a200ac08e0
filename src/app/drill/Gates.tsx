import type { Gate, GateItem } from '../../drilling/gate.ts';
import { gatesOf } from '../../drilling/gates.ts';
import { useApp } from '../state/store.ts';
import { useHoles } from './useHoles.ts';

const GATE_MARK = { yes: '✓', no: '✕', unsettled: '?', 'not asked': '–' } as const;

/** `12 of 14 looked at, last on 2026-06-06`. */
function restsText({ read, of, last }: GateItem['rests']): string {
  const day = last ? `, last on ${last}` : '';
  return `${read} of ${of} looked at${day}.`;
}

/** The three gates: yes, no, unsettled or not asked, with the first thing to do for each item that is not yes. */
export function Gates() {
  const model = useApp((s) => s.model);
  const choose = useApp((s) => s.choose);
  const { stage, present } = useHoles();
  if (!present)
    return <p className="gates small">The three gates are asked of the panel as it is, at the stage where you are.</p>;
  return (
    <div className="gates">
      {gatesOf(model, stage?.id).map((g: Gate) => {
        const open = g.items.filter((i) => i.answer !== 'yes').length;
        return (
          <details key={g.id} className={`gate ${g.answer.replace(' ', '-')}`}>
            <summary>
              <b>{g.question}</b>{' '}
              <span className="gate-answer">
                {GATE_MARK[g.answer]} {g.answer}
                {g.id !== 'skin' && g.rows.of > 0 && `, ${g.rows.yes} of ${g.rows.of} rows`}
                {open > 0 && (
                  <small>
                    : {open} of {g.items.length} {open === 1 ? 'stands' : 'stand'} in the way
                  </small>
                )}
              </span>
            </summary>
            <ul>
              {g.items.map((i) => (
                <li key={i.name}>
                  <span className="gate-mark" aria-hidden="true">
                    {GATE_MARK[i.answer]}
                  </span>
                  <span>
                    {i.answer === 'yes' ? i.says : <b>{i.says}</b>}
                    {i.first && (
                      <>
                        .{' '}
                        {i.finding ? (
                          <button
                            type="button"
                            className="chip wrap"
                            onClick={() => choose(i.finding!.station, i.finding!.id)}
                          >
                            {i.first}
                          </button>
                        ) : (
                          i.first
                        )}
                      </>
                    )}
                    {i.rests.of > 0 && <small className="gate-note"> {restsText(i.rests)}</small>}
                    {i.note && <small className="gate-note"> {i.note}</small>}
                  </span>
                </li>
              ))}
            </ul>
          </details>
        );
      })}
    </div>
  );
}
