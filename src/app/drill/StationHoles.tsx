import { namesOf } from '../../drilling/hold.ts';
import type { HoleAnswer } from '../../drilling/hole.ts';
import type { Joint } from '../../model/schema.ts';
import type { Bay } from '../../parts/layout/layout.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { useApp } from '../state/store.ts';
import { holeLook, LOOKS } from '../widgets/HoleSymbol.tsx';
import { CapRows } from './CapRows.tsx';
import { HoleRow, isClose } from './HoleRow.tsx';
import { RowLooked, StationLooked } from './Looked.tsx';
import { Rooms } from './Rooms.tsx';
import { RowForm } from './RowForm.tsx';
import { useHoles } from './useHoles.ts';
import './holes.css';

type Alike = readonly [HoleAnswer, ...HoleAnswer[]];

/**
 * A joint's holes, what warns first; those that wait for the same thing together, those to be drilled or close each
 * alone.
 */
function alikeOf(answers: readonly HoleAnswer[]): readonly Alike[] {
  const alike = new Map<string, Alike>();
  const rank = (a: HoleAnswer): number => LOOKS.indexOf(holeLook(a));
  for (const a of [...answers].sort((p, q) => rank(p) - rank(q))) {
    const alone = a.state === 'now' || a.bestMargin === undefined || isClose(a);
    const key = alone ? a.id : a.why;
    const had = alike.get(key);
    alike.set(key, had ? [...had, a] : [a]);
  }
  return [...alike.values()];
}

/** What to leave alone here; empty where nothing waits. */
function holdWords(here: readonly HoleAnswer[], present: boolean): string {
  const waits = here.filter((a) => a.state !== 'now' && a.state !== 'done');
  if (waits.length === 0) return '';
  const which = waits.length === here.length ? 'every hole here' : namesOf(waits);
  return `Leave ${which} alone${present ? '' : ' then'}.`;
}

function JointHoles({ joint, bay, answers }: { joint: Joint; bay: Bay; answers: readonly HoleAnswer[] }) {
  const { present } = useHoles();
  const model = useApp((s) => s.model);
  const skeleton = skeletonOf(model);
  const alike = alikeOf(answers);
  const first = alike[0]?.[0];
  const inCap = joint.on === 'top' || joint.on === 'bottom';
  return (
    <section className="joint">
      <h2>
        {joint.id}{' '}
        <small>
          {inCap ? `in the ${joint.on} cap: ` : ''}
          {joint.layers.join(' / ')}, guided by {joint.guide}
        </small>
      </h2>
      <ul className="groups">
        {alike.map((list) => (
          <HoleRow key={list[0].id} alike={list} />
        ))}
      </ul>
      {present && <RowLooked joint={joint} />}
      {first && <Rooms answer={first} />}
      <RowForm skeleton={skeleton} joint={joint} bay={bay} />
    </section>
  );
}

/** The holes of a station, joint by joint: what may be drilled now, what not yet, what never, and why. */
export function StationHoles({ bay }: { bay: Bay }) {
  const model = useApp((s) => s.model);
  const skeleton = skeletonOf(model);
  const { answers, present } = useHoles();
  const { id } = bay.station;
  const joints = skeleton.jointsAt(id);
  if (joints.length === 0) return <p className="lead">No holes are laid out at {id}.</p>;
  const here = answers.filter((a) => a.joint.station === id);
  const hold = holdWords(here, present);
  return (
    <>
      {hold && <p className="lead">{hold}</p>}
      {joints.map((j) => (
        <JointHoles key={j.id} joint={j} bay={bay} answers={here.filter((a) => a.joint === j)} />
      ))}
      {present && <StationLooked station={id} />}
      <CapRows skeleton={skeleton} bay={bay} />
    </>
  );
}
