import { namesOf, tonight } from '../../drilling/hold.ts';
import type { HoleAnswer } from '../../drilling/hole.ts';
import { useApp } from '../state/store.ts';
import { HoleSymbol, holeLook } from '../widgets/HoleSymbol.tsx';
import { useHoles } from './useHoles.ts';

/** Groups shown; of what waits beyond them only the count. */
const MOST = 7;

const DO: Readonly<Record<string, string>> = {
  pilot: 'pilot only',
  'follow the guide': 'open to final, following the guide hole',
  'bushing set midway': 'open to final through a bushing set midway',
};

interface Row {
  readonly names: string;
  readonly text: string;
  readonly holes: readonly HoleAnswer[];
}

/** Holes that may be drilled the same way, as one row each way. */
function byHow(answers: readonly HoleAnswer[]): Row[] {
  const ways = new Map<string, HoleAnswer[]>();
  for (const a of answers) ways.set(a.how, [...(ways.get(a.how) ?? []), a]);
  return [...ways].map(([how, holes]) => ({ names: namesOf(holes), text: DO[how] ?? how, holes }));
}

/** Some holes by name and what they wait for; a tap goes to the first one's station. */
function HoldRow({ row: { names, text, holes } }: { row: Row }) {
  const choose = useApp((s) => s.choose);
  const [first] = holes;
  if (!first) return null;
  return (
    <li>
      <button type="button" className="drill-alone-row" onClick={() => choose(first.joint.station)}>
        <svg width="22" height="22" aria-hidden="true">
          <HoleSymbol look={holeLook(first)} x={11} y={11} r={8} />
        </svg>
        <span>
          <b>{names}</b>: {text}
        </span>
      </button>
    </li>
  );
}

function Rows({ title, rows }: { title: string; rows: readonly Row[] }) {
  return (
    <>
      <h2>{title}</h2>
      <ul>
        {rows.map((r) => (
          <HoldRow key={r.text} row={r} />
        ))}
      </ul>
    </>
  );
}

/** Which holes to leave alone, by what they wait for; and which may be drilled, by how. */
export function LeaveAlone() {
  const { answers, present } = useHoles();
  if (answers.length === 0) return null;
  const { drill, alone } = tonight(answers, present ? 'tonight' : 'then');
  const more = alone.slice(MOST).reduce((n, w) => n + w.holes.length, 0);
  const waiting = alone.slice(0, MOST).map(({ names, reason, holes }): Row => ({ names, text: reason, holes }));
  return (
    <section className="drill-alone" aria-label="Which holes">
      {waiting.length > 0 && <Rows title={present ? 'Leave alone tonight' : 'Leave alone then'} rows={waiting} />}
      {more > 0 && <p className="small">and {more} more holes; each station says why.</p>}
      {drill.length > 0 && <Rows title={present ? 'May be drilled' : 'Planned then'} rows={byHow(drill)} />}
    </section>
  );
}
