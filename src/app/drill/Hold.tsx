import { namesOf, tonight, type Waiting } from '../../drilling/hold.ts';
import type { HoleAnswer } from '../../drilling/hole.ts';
import { useApp } from '../state/store.ts';
import { HoleSymbol, holeLook } from '../widgets/HoleSymbol.tsx';
import { useHoles } from './useHoles.ts';

/** What holds in each group: the holes by name, and what they wait for; a tap goes to the first one's station. */
export function LeaveAlone() {
  const choose = useApp((s) => s.choose);
  const { answers, present } = useHoles();
  const { drill, alone } = tonight(answers, present ? 'tonight' : 'then');
  if (answers.length === 0) return null;
  const row = (a: HoleAnswer, names: string, text: string, key: string) => (
    <li key={key}>
      <button type="button" className="drill-alone-row" onClick={() => choose(a.joint.station)}>
        <svg width="22" height="22" aria-hidden="true">
          <HoleSymbol look={holeLook(a)} x={11} y={11} r={8} />
        </svg>
        <span>
          <b>{names}</b>: {text}
        </span>
      </button>
    </li>
  );
  return (
    <section className="drill-alone" aria-label="Which holes">
      {alone.length > 0 && (
        <>
          <h2>{present ? 'Leave alone tonight' : 'Leave alone then'}</h2>
          <ul>{alone.slice(0, 7).map((w: Waiting) => row(w.holes[0]!, w.names, w.reason, w.reason))}</ul>
          {alone.length > 7 && (
            <p className="small">
              and {alone.slice(7).reduce((n, w) => n + w.holes.length, 0)} more holes; each station says why.
            </p>
          )}
        </>
      )}
      {drill.length > 0 && (
        <>
          <h2>{present ? 'May be drilled' : 'Planned then'}</h2>
          <ul>{[...byHow(drill)].map(([how, list]) => row(list[0]!, namesOf(list), DO[how] ?? how, how))}</ul>
        </>
      )}
    </section>
  );
}

const DO: Readonly<Record<string, string>> = {
  pilot: 'pilot only',
  'follow the guide': 'open to final, following the guide hole',
  'bushing set midway': 'open to final through a bushing set midway',
};

function byHow(answers: readonly HoleAnswer[]): Map<string, HoleAnswer[]> {
  const groups = new Map<string, HoleAnswer[]>();
  for (const a of answers) groups.set(a.how, [...(groups.get(a.how) ?? []), a]);
  return groups;
}
