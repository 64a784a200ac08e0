import type { Kind } from '../../model/quantities.ts';
import { JAWS, JAWS_SIZE, type JawsDrawing } from '../../sheets/bench/jaws.ts';
import './jaws.css';

function head([x1, y1, x2, y2]: JawsDrawing['arrows'][number]): string {
  const a = Math.atan2(y2 - y1, x2 - x1);
  const tip = (x: number, y: number, t: number): string =>
    `M${x + 7 * Math.cos(t + 0.42)} ${y + 7 * Math.sin(t + 0.42)} L${x} ${y} L${x + 7 * Math.cos(t - 0.42)} ${y + 7 * Math.sin(t - 0.42)}`;
  return `${tip(x2, y2, a + Math.PI)} ${tip(x1, y1, a)}`;
}

/** The drawing for a kind of size: what to hold against what. */
export function Jaws({ kind, where }: { kind: Kind; where: string }) {
  const picture = JAWS[kind];
  return (
    <svg
      className="jaws"
      viewBox={`0 0 ${JAWS_SIZE.width} ${JAWS_SIZE.height}`}
      role="img"
      aria-label={`Where to measure: ${where}`}
    >
      {(picture.thin ?? []).map((d) => (
        <path key={d} d={d} className="leader" />
      ))}
      {picture.metal.map((d) => (
        <path key={d} d={d} className="jaws-metal" />
      ))}
      {(picture.dots ?? []).map(([x, y]) => (
        <circle key={`${x} ${y}`} cx={x} cy={y} r="4.5" className="jaws-dot" />
      ))}
      {picture.arrows.map((a) => (
        <path key={a.join(' ')} d={`M${a[0]} ${a[1]} L${a[2]} ${a[3]} ${head(a)}`} className="jaws-arrow" />
      ))}
    </svg>
  );
}
