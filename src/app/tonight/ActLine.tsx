import { isOpen } from '../../model/edits/work.ts';
import { lastInitials } from '../state/initials.ts';
import { useApp } from '../state/store.ts';
import { ToMake } from '../widgets/ToMake.tsx';
import type { ListedAct } from '../workers/listed.ts';
import { doingsOf } from './doing.ts';

const HOUR = 60;

/** About how long: `5 min`, `1½ h`, `3 h`. */
function howLong(minutes: number): string {
  if (minutes < HOUR) return `${Math.max(1, Math.round(minutes))} min`;
  const halves = Math.round(minutes / (HOUR / 2));
  const half = halves % 2 === 1 ? '½' : '';
  return `${Math.floor(halves / 2)}${half} h`;
}

/** The stations of an act, each a way to it on the bench. */
function Places({ stations }: { stations: readonly string[] }) {
  const choose = useApp((s) => s.choose);
  return stations.map((id) => (
    <button key={id} type="button" className="chip" onClick={() => choose(id)}>
      {id}
    </button>
  ));
}

const FEW = 4;

/** One act: what, with which tool, about how long, why; and what is done from here. */
export function ActLine({ act, first = false }: { act: ListedAct; first?: boolean }) {
  const decision = useApp((s) => s.model.decisions?.find((d) => d.id === act.decision && isOpen(d)));
  const doings = doingsOf(act, lastInitials());
  return (
    <li className="act" value={act.n} aria-label={act.what}>
      <p className="act-what">{act.what}</p>
      <p className="act-why">
        {act.why}
        <span className="act-how">
          {act.tool && ` · ${act.tool}`} · about {howLong(act.minutes)}
        </span>
      </p>
      <div className="act-do">
        {decision ? (
          <ToMake decision={decision} />
        ) : (
          doings.map(({ label, said, run }) => (
            <button key={label} type="button" className={first ? 'take' : 'toggle'} aria-label={said} onClick={run}>
              {label}
            </button>
          ))
        )}
        {act.stations.length <= FEW && <Places stations={act.stations} />}
      </div>
    </li>
  );
}
