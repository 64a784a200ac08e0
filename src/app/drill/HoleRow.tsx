import { show } from '../../checks/describe.ts';
import { drillText, neededText } from '../../checks/holes/nextSize.ts';
import type { HoleAnswer } from '../../drilling/hole.ts';
import { capital } from '../../units/capital.ts';
import { formatPercent } from '../../units.ts';
import { useApp } from '../state/store.ts';
import { HoleSymbol, holeLook, lookWord } from '../widgets/HoleSymbol.tsx';
import { EdgePicture } from './EdgePicture.tsx';
import { HoleKey, HolePicture } from './HolePicture.tsx';
import { MarkDrilled } from './MarkDrilled.tsx';
import { useHoles } from './useHoles.ts';
import './holes.css';

/** Where less than this is left to clean up, the circles and margins stand open, mm. */
const CLOSE = 0.35;

/** Whether a hole cleans up, or may only just do so. */
export const isClose = ({ bestMargin }: HoleAnswer): boolean => bestMargin !== undefined && bestMargin < CLOSE;

type Next = NonNullable<HoleAnswer['next']>;

/** The next size up: what it costs, or why there is none. */
function nextWords(next: Next): string {
  if (!next.ok) return `no larger size is left: ${next.why}`;
  const note = next.note ? `; ${next.note}` : '';
  return `${drillText(next.drill)} is left: edges and pitch hold, ${next.grams.toFixed(2)} g more a rivet${note}; ask the designer`;
}

interface Way {
  readonly name: string;
  readonly needs: string;
  readonly margin: number;
  readonly chance: number;
}

/** What a hole needs both ways: following its guide, and midway on the best axis. */
function waysOf(answer: HoleAnswer): readonly Way[] {
  const { joint, need, followMargin, bestMargin, followChance, bestChance } = answer;
  const asked = followMargin !== undefined && bestMargin !== undefined;
  if (!need || !asked || followChance === undefined || bestChance === undefined) return [];
  return [
    {
      name: `following ${joint.guide}`,
      needs: neededText(need.following),
      margin: followMargin,
      chance: followChance,
    },
    { name: 'midway, best axis', needs: neededText(need.bestAxis), margin: bestMargin, chance: bestChance },
  ];
}

/** Needed drill both ways, with its margin and chance. */
function Needs({ answer }: { answer: HoleAnswer }) {
  const model = useApp((s) => s.model);
  const ways = waysOf(answer);
  const { joint, next } = answer;
  if (ways.length === 0) return null;
  return (
    <table className="drill-needs">
      <thead>
        <tr>
          <th>final {drillText(joint.final)}</th>
          <th>needs</th>
          <th>margin</th>
          <th>cleans up</th>
        </tr>
      </thead>
      <tbody>
        {ways.map((w) => (
          <tr key={w.name}>
            <th>{w.name}</th>
            <td>{w.needs}</td>
            <td>{show(model, w.margin)}</td>
            <td>{formatPercent(w.chance)}</td>
          </tr>
        ))}
        {next && (
          <tr>
            <th>next size</th>
            <td colSpan={3}>{nextWords(next)}</td>
          </tr>
        )}
      </tbody>
    </table>
  );
}

function Detail({ answer }: { answer: HoleAnswer }) {
  return (
    <>
      <div className="hole-detail">
        <HolePicture answer={answer} />
        <HoleKey answer={answer} />
      </div>
      <Needs answer={answer} />
      <EdgePicture answer={answer} />
    </>
  );
}

/** One hole, or several that are alike: what may be done and why; drawn where it is close, else on asking. */
export function HoleRow({ alike }: { alike: readonly [HoleAnswer, ...HoleAnswer[]] }) {
  const { present } = useHoles();
  const [answer] = alike;
  const { joint, need, why, state, circles } = answer;
  const look = holeLook(answer);
  const names = alike.map((a) => a.hole.id).join(', ');
  const open = look === 'doubt' || look === 'never' || (need !== undefined && isClose(answer));
  return (
    <li className="hole-row">
      <p>
        <svg width="22" height="22" aria-hidden="true">
          <HoleSymbol look={look} x={11} y={11} r={8} />
        </svg>{' '}
        <b>
          {joint.id} {names}: {lookWord(look, present)}
        </b>
        . {capital(why)}.
      </p>
      {present && alike.length === 1 && state === 'now' && <MarkDrilled answer={answer} />}
      {open ? (
        <Detail answer={answer} />
      ) : (
        <details className="drill-more">
          <summary>{circles.length > 0 ? 'Circles, margins and edges' : 'Edges'}</summary>
          <Detail answer={answer} />
        </details>
      )}
    </li>
  );
}
