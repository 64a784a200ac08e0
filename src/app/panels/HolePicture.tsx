import type { HoleAnswer, HoleState } from '../../checks/drill.ts';
import { show } from '../../checks/describe.ts';
import { useApp } from '../store.ts';

const W = 190;
const H = 170;
const STYLES = ['', '6 3', '2 2', '8 2 2 2', '1 3', '10 4'];

/** The symbol of a hole's answer: open circle now, barred not yet, crossed never, filled when done. */
export function HoleSymbol({ state, x, y, r }: { state: HoleState; x: number; y: number; r: number }) {
  const s = r * 0.72;
  return (
    <g className={`hole-symbol ${state.replace(' ', '-')}`}>
      <circle cx={x} cy={y} r={r} />
      {state === 'not yet' && <path d={`M${x - r} ${y} H${x + r}`} />}
      {state === 'never' && <path d={`M${x - s} ${y - s} L${x + s} ${y + s} M${x + s} ${y - s} L${x - s} ${y + s}`} />}
    </g>
  );
}

/**
 * One hole close up: every layer's circle in its own line, the final circle where the drill would go (on the guide, or
 * midway), and the nearest edge. Along the span to the right, up is up.
 */
export function HolePicture({ answer }: { answer: HoleAnswer }) {
  const model = useApp((s) => s.model);
  const { circles, need, joint } = answer;
  const guide = circles.find((c) => c.part === joint.guide) ?? circles[0];
  const axis = answer.how === 'follow the guide' || !need ? { along: 0, up: 0 } : need.axis;
  const reach = Math.max(joint.final * 0.75, ...circles.map((c) => Math.hypot(c.along.best - (guide?.along.best ?? 0), c.up.best - (guide?.up.best ?? 0)) + c.diameter * 0.6));
  const s = (H / 2 - 10) / reach;
  const [cx, cy] = [W / 2, H / 2];
  const X = (v: number): number => cx + v * s;
  const Y = (v: number): number => cy - v * s;
  const [gx, gy] = [guide?.along.best ?? 0, guide?.up.best ?? 0];
  return (
    <svg className="hole-picture" viewBox={`0 0 ${W} ${H}`} role="img" aria-label={`Hole ${answer.hole.id}: ${circles.map((c) => `${c.part} ${show(model, c.diameter)}`).join(', ')}; final ${show(model, joint.final)}`}>
      <circle cx={X(axis.along)} cy={Y(axis.up)} r={(joint.final / 2) * s} className="final-circle" />
      <path d={`M${X(axis.along) - 5} ${Y(axis.up)} h10 M${X(axis.along)} ${Y(axis.up) - 5} v10`} className="ink-line" />
      {circles.map((c, i) => <circle key={c.part} cx={X(c.along.best - gx)} cy={Y(c.up.best - gy)} r={(c.diameter / 2) * s} className="layer-circle" strokeDasharray={STYLES[i % STYLES.length]} />)}
    </svg>
  );
}

/** Which line is which layer. */
export function HoleKey({ answer }: { answer: HoleAnswer }) {
  const model = useApp((s) => s.model);
  return (
    <ul className="hole-key">
      {answer.circles.map((c, i) => (
        <li key={c.part}>
          <svg width="34" height="10" aria-hidden="true"><line x1="1" x2="33" y1="5" y2="5" className="layer-circle" strokeDasharray={STYLES[i % STYLES.length]} /></svg>
          {c.part} {show(model, c.diameter)}
        </li>
      ))}
      <li><svg width="34" height="10" aria-hidden="true"><line x1="1" x2="33" y1="5" y2="5" className="final-circle" /></svg> final {show(model, answer.joint.final)}</li>
    </ul>
  );
}
