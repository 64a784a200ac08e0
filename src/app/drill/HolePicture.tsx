import { show } from '../../checks/describe.ts';
import type { HoleAnswer } from '../../drilling/hole.ts';
import { useApp } from '../state/store.ts';
import { layerStyle } from './layerStyle.ts';

const W = 190;
const H = 170;

/**
 * One hole close up: every layer's circle in its own line, and the final circle where the drill would go (on the
 * guide, or midway). Along the span to the right, up is up.
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
  const toX = (along: number): number => W / 2 + along * s;
  const toY = (up: number): number => H / 2 - up * s;
  const [cx, cy] = [toX(axis.along), toY(axis.up)];
  const sizes = circles.map((c) => `${c.part} ${show(model, c.diameter)}`).join(', ');
  return (
    <svg
      className="hole-picture"
      viewBox={`0 0 ${W} ${H}`}
      role="img"
      aria-label={`Hole ${answer.hole.id}: ${sizes}; final ${show(model, joint.final)}`}
    >
      <circle cx={cx} cy={cy} r={(joint.final / 2) * s} className="final-circle" />
      <path d={`M${cx - 5} ${cy} h10 M${cx} ${cy - 5} v10`} className="ink-line" />
      {circles.map((c) => (
        <circle
          key={c.part}
          cx={toX(c.along.best - gx)}
          cy={toY(c.up.best - gy)}
          r={(c.diameter / 2) * s}
          className="layer-circle"
          strokeDasharray={layerStyle(answer, c.part)}
        />
      ))}
    </svg>
  );
}

/** A stretch of a line as the picture draws it. */
function Sample({ className, dashes }: { className: string; dashes?: string }) {
  return (
    <svg width="34" height="10" aria-hidden="true">
      <line x1="1" x2="33" y1="5" y2="5" className={className} strokeDasharray={dashes} />
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
          <Sample className={l.size > 0 ? 'layer-circle' : ''} dashes={layerStyle(answer, l.part)} />
          {l.part} {l.state === 'opened early' ? <b>opened early</b> : l.state}
          {l.size > 0 && ` ${show(model, l.size)}`}
          {l.through === 'apart' && ', drilled apart'}
          {off(l.part)}
        </li>
      ))}
      <li>
        <Sample className="final-circle" /> final {show(model, answer.joint.final)}
      </li>
    </ul>
  );
}
