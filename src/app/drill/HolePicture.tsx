import { show } from '../../checks/describe.ts';
import type { EdgeLine } from '../../checks/holes/nextSize.ts';
import type { HoleAnswer } from '../../drilling/hole.ts';
import { useApp } from '../state/store.ts';

const W = 190;
const H = 170;
const STYLES = ['', '6 3', '2 2', '8 2 2 2', '1 3', '10 4'];

/** The line of a layer: the same in the picture, its key and the edges. */
const styleOf = ({ joint }: HoleAnswer, part: string): string =>
  STYLES[Math.max(0, joint.layers.indexOf(part)) % STYLES.length]!;

/**
 * One hole close up: every layer's circle in its own line, and the final circle where the drill would go (on the guide, or
 * midway). Along the span to the right, up is up.
 */
export function HolePicture({ answer }: { answer: HoleAnswer }) {
  const model = useApp((s) => s.model);
  const { circles, need, joint } = answer;
  const guide = circles.find((c) => c.part === joint.guide) ?? circles[0];
  const axis = answer.how === 'follow the guide' || !need ? { along: 0, up: 0 } : need.axis;
  const [gx, gy] = [guide?.along.best ?? 0, guide?.up.best ?? 0];
  const reach = Math.max(
    joint.final * 0.75,
    ...circles.map((c) => Math.hypot(c.along.best - gx, c.up.best - gy) + c.diameter * 0.6),
  );
  const s = (H / 2 - 10) / reach;
  const X = (v: number): number => W / 2 + v * s;
  const Y = (v: number): number => H / 2 - v * s;
  return (
    <svg
      className="hole-picture"
      viewBox={`0 0 ${W} ${H}`}
      role="img"
      aria-label={`Hole ${answer.hole.id}: ${circles.map((c) => `${c.part} ${show(model, c.diameter)}`).join(', ')}; final ${show(model, joint.final)}`}
    >
      <circle cx={X(axis.along)} cy={Y(axis.up)} r={(joint.final / 2) * s} className="final-circle" />
      <path
        d={`M${X(axis.along) - 5} ${Y(axis.up)} h10 M${X(axis.along)} ${Y(axis.up) - 5} v10`}
        className="ink-line"
      />
      {circles.map((c) => (
        <circle
          key={c.part}
          cx={X(c.along.best - gx)}
          cy={Y(c.up.best - gy)}
          r={(c.diameter / 2) * s}
          className="layer-circle"
          strokeDasharray={styleOf(answer, c.part)}
        />
      ))}
    </svg>
  );
}

/** Which line is which layer, how its hole stands and how far it is off the guide's. */
export function HoleKey({ answer }: { answer: HoleAnswer }) {
  const model = useApp((s) => s.model);
  const off = (part: string): string => {
    const c = answer.circles.find((x) => x.part === part);
    const r = c ? Math.hypot(c.along.best, c.up.best) : 0;
    return r < 0.005 ? '' : `, ${show(model, r)} off`;
  };
  return (
    <ul className="hole-key">
      {answer.layers.map((l) => (
        <li key={l.part}>
          <svg width="34" height="10" aria-hidden="true">
            <line
              x1="1"
              x2="33"
              y1="5"
              y2="5"
              className={l.size > 0 ? 'layer-circle' : ''}
              strokeDasharray={styleOf(answer, l.part)}
            />
          </svg>
          {l.part} {l.state === 'opened early' ? <b>opened early</b> : l.state}
          {l.size > 0 && ` ${show(model, l.size)}`}
          {l.through === 'apart' && ', drilled apart'}
          {off(l.part)}
        </li>
      ))}
      <li>
        <svg width="34" height="10" aria-hidden="true">
          <line x1="1" x2="33" y1="5" y2="5" className="final-circle" />
        </svg>{' '}
        final {show(model, answer.joint.final)}
      </li>
    </ul>
  );
}

const EW = 392;
const ROW = 30;
const LEFT = 96;

/**
 * The room round a hole, layer by layer and to scale: from the bend on the left to the free edge on the right, the hole and
 * its rivet's head in the middle, and where 2 D falls at final and at the next size.
 */
export function EdgePicture({ answer }: { answer: HoleAnswer }) {
  const model = useApp((s) => s.model);
  const { edges, joint } = answer;
  if (edges.length === 0) return null;
  const head = (joint.rivet.head ?? 2 * joint.rivet.diameter) / 2;
  const marks = [
    { at: 2 * joint.rivet.diameter, name: '2 D', next: false },
    ...(joint.next ? [{ at: 2 * joint.next.rivet, name: 'next', next: true }] : []),
  ];
  const far =
    Math.max(...edges.map((e) => Math.min(e.atAxis, 5 * joint.rivet.diameter)), ...marks.map((m) => m.at)) * 1.08;
  const back = Math.max(head, ...edges.map((e) => Math.min((e.bend ?? 0) + head, 3 * joint.rivet.diameter))) * 1.05;
  const s = (EW - LEFT - 62) / (far + back);
  const X = (mm: number): number => LEFT + (back + mm) * s;
  const h = 22 + edges.length * ROW + 4;
  const word = (e: EdgeLine): string => `${e.part}: ${show(model, e.atAxis)} to the edge, ${e.final.toFixed(2)} D`;
  return (
    <svg className="picture drill-edges" viewBox={`0 0 ${EW} ${h}`} role="img" aria-label={edges.map(word).join('; ')}>
      {marks.map((m) => (
        <g key={m.name}>
          <path d={`M${X(m.at)} 18 V${h - 4}`} className={`drill-limit${m.next ? ' next' : ''}`} />
          <text x={X(m.at)} y="13" textAnchor={m.next ? 'start' : 'end'}>
            {m.name}
          </text>
        </g>
      ))}
      {edges.map((e, i) => {
        const y = 22 + i * ROW + ROW / 2;
        const edge = Math.min(e.atAxis, far);
        const short = e.final < 2 - 1e-9;
        const bend = e.bend === undefined ? undefined : -(e.bend + head);
        return (
          <g key={e.part}>
            <text x="0" y={y + 5}>
              {e.part}
            </text>
            <path
              d={`M${X(bend === undefined ? -back : Math.max(bend, -back))} ${y - 7} H${X(edge)} V${y + 7} H${X(bend === undefined ? -back : Math.max(bend, -back))}${bend !== undefined && bend > -back ? ' Z' : ''}`}
              className={`drill-sheet${e.atAxis > far ? ' on' : ''}${short ? ' short' : ''}`}
            />
            <path d={`M${X(-head)} ${y} H${X(head)}`} className="drill-head" />
            <circle cx={X(0)} cy={y} r={Math.min(6.5, (joint.final / 2) * s)} className="drill-hole" />
            <text x={EW} y={y + 5} textAnchor="end" className="num">
              {e.final.toFixed(2)} D
            </text>
          </g>
        );
      })}
    </svg>
  );
}
