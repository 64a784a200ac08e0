import { show } from '../../checks/describe.ts';
import { leastPitch, rowToRow } from '../../checks/holes/edges.ts';
import type { EdgeLine } from '../../checks/holes/nextSize.ts';
import type { HoleAnswer } from '../../drilling/hole.ts';
import { limitFor } from '../../model/limits.ts';
import type { Joint, Model } from '../../model/schema.ts';
import { useApp } from '../state/store.ts';
import './holes.css';

/** 9.525/3.175 is 3 at the bench, and must not fall short of 3 D by its last bit. */
const NEAR = 1e-9;

/** One kind of room round the holes of a joint, and whether there is enough. */
interface Room {
  readonly name: string;
  readonly text: string;
  readonly ok: boolean;
  readonly limit: string;
}

/** The one of a list that is least by a figure; undefined of none. */
function least<T>(list: readonly T[], by: (t: T) => number): T | undefined {
  const [first, ...rest] = list;
  return first === undefined ? undefined : rest.reduce((a, b) => (by(b) < by(a) ? b : a), first);
}

function edgeRoom(model: Model, edges: readonly EdgeLine[]): Room | undefined {
  const edge = least(edges, (e) => e.final);
  if (!edge) return undefined;
  const next = edge.next === undefined ? '' : `; next size ${edge.next.toFixed(2)} D`;
  return {
    name: `edge of ${edge.part}`,
    text: `${show(model, edge.atAxis)}, ${edge.final.toFixed(2)} D${next}`,
    ok: edge.final >= 2 - NEAR,
    limit: 'at least 2 D; lay out at 2.5 D',
  };
}

/** A distance between holes, beside the fewest rivet diameters it may be. */
function between(name: string, mm: number, model: Model, joint: Joint, fewest: number, limit: string): Room {
  const d = joint.rivet.diameter;
  return {
    name,
    text: `${show(model, mm)}, ${(mm / d).toFixed(2)} D`,
    ok: mm >= fewest * d - NEAR,
    limit,
  };
}

function bendRoom(model: Model, edges: readonly EdgeLine[]): Room | undefined {
  const bends = edges.flatMap(({ part, bend }) => (bend === undefined ? [] : [{ part, bend }]));
  const closest = least(bends, (b) => b.bend);
  return (
    closest && {
      name: `bend of ${closest.part} to the head`,
      text: show(model, closest.bend),
      ok: closest.bend >= 0,
      limit: 'the head must lie flat',
    }
  );
}

/** Every kind of room that was asked about. */
function roomsOf(model: Model, { joint, edges }: HoleAnswer): readonly Room[] {
  const [pitch, rows] = [leastPitch(joint), rowToRow(joint)];
  const all = [
    edgeRoom(model, edges),
    Number.isFinite(pitch) ? between('hole to hole', pitch, model, joint, 3, '4 to 8 D, never under 3 D') : undefined,
    rows === undefined ? undefined : between('row to row', rows, model, joint, 2.5, 'at least 2.5 D'),
    bendRoom(model, edges),
  ];
  return all.filter((r) => r !== undefined);
}

/** Where the limits come from, each once. */
function originsOf(model: Model, joint: Joint): string {
  const asked = ['edge-distance', 'pitch', ...(rowToRow(joint) === undefined ? [] : ['rows'])];
  return [...new Set(asked.map((c) => limitFor(model, c).origin))].join('. ');
}

/** Edge, pitch, row and bend figures of a joint, each beside its limit. */
export function Rooms({ answer }: { answer: HoleAnswer }) {
  const model = useApp((s) => s.model);
  return (
    <table className="drill-needs">
      <tbody>
        {roomsOf(model, answer).map(({ name, text, ok, limit }) => (
          <tr key={name} className={ok ? '' : 'short'}>
            <th>{name}</th>
            <td>
              {text}
              {!ok && ', too near'}
            </td>
            <td>{limit}</td>
          </tr>
        ))}
      </tbody>
      <tfoot>
        <tr>
          <td colSpan={3}>{originsOf(model, answer.joint)}.</td>
        </tr>
      </tfoot>
    </table>
  );
}
