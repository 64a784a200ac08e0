import { show } from '../../checks/describe.ts';
import type { Finding } from '../../checks/finding.ts';
import { fromNominal, laneOf, nosesOf } from '../../checks/fit/noseLine.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { useApp } from '../state/store.ts';
import { acrossOf, pathThrough } from '../widgets/alongSpan.ts';
import { PointMark } from '../widgets/Mark.tsx';
import { PickPoint } from '../widgets/PickPoint.tsx';
import './pictures.css';

const W = 392;
const H = 150;
/** With more noses than this, those that fit stand without their numbers. */
const MANY = 14;

/** A nose, where it stands in the picture and what is found of it. */
interface Spot {
  readonly station: string;
  readonly mark: string;
  readonly x: number;
  readonly y: number;
  /** Its departure from the drawing, mm, forward positive. */
  readonly off: number;
  readonly finding: Finding | undefined;
}

function Nose({ spot, crowded }: { spot: Spot; crowded: boolean }) {
  const model = useApp((s) => s.model);
  const { station, mark, x, y, off, finding } = spot;
  return (
    <PickPoint station={station} finding={finding}>
      <circle cx={x} cy={y} r="6" className={finding?.echoOf ? 'echo-point' : 'pt'} />
      <PointMark verdict={finding?.verdict ?? 'fits'} x={x} y={y} />
      {!crowded && (
        <>
          <text x={x} y={off < 0 ? y + 19 : y - 9} textAnchor="middle" className="tiny">
            {show(model, off).replace(/ (mm|in)$/, '')}
          </text>
          <text x={x} y={H - 3} textAnchor="middle" className="tiny">
            {mark}
          </text>
        </>
      )}
    </PickPoint>
  );
}

/** What is found of a nose: its kink, else its place on the line. */
function foundAt(findings: readonly Finding[], station: string): Finding | undefined {
  const here = findings.filter((f) => f.station === station);
  return here.find((f) => f.check === 'nose-kink') ?? here.find((f) => f.check === 'nose-line');
}

/**
 * The nose line from above, every departure from the drawing ×20: forward is up. A kink that only repeats a
 * neighbour's fault is an open, dashed point.
 */
export function KinkPicture({ findings }: { findings: readonly Finding[] }) {
  const model = useApp((s) => s.model);
  const noses = nosesOf(skeletonOf(model), 'straight');
  const across = acrossOf(
    noses.map((n) => n.bay),
    22,
    W - 22,
  );
  const offs = noses.map(fromNominal);
  const [low, high] = [Math.min(-0.15, ...offs), Math.max(0.15, ...offs)];
  const scale = Math.min(60, (H - 66) / (high - low));
  const down = (off: number): number => 24 + (high - off) * scale;
  const spots = noses.map((n): Spot => {
    const { id, y } = n.bay.station;
    const off = fromNominal(n);
    return { station: id, mark: n.mark, x: across(y), y: down(off), off, finding: foundAt(findings, id) };
  });
  const [first, last] = [spots[0], spots.at(-1)];
  if (!first || !last || spots.length < 3) return null;
  const times = Math.round(scale / (across(1) - across(0)));
  const lane = laneOf(noses);
  return (
    <figure>
      <figcaption>
        Nose line from above, departures ×{times}, forward up. Dashed: the line through both ends. Open points only echo
        a neighbour.
      </figcaption>
      <svg
        className="picture"
        viewBox={`0 0 ${W} ${H}`}
        role="img"
        aria-label={`Nose line, departures enlarged ${times} times`}
      >
        <line x1="10" x2={W - 10} y1={down(0)} y2={down(0)} className="hair" />
        <line x1={first.x} y1={first.y} x2={last.x} y2={last.y} className="line thin" />
        <path d={pathThrough(spots.map(({ x, y }) => [x, y] as const))} className="line" />
        {spots.map((s) => (
          <Nose key={s.station} spot={s} crowded={spots.length > MANY && s.finding?.verdict === 'fits'} />
        ))}
      </svg>
      {lane !== undefined && (
        <p className="small">However the line is laid, the noses take a lane {show(model, lane)} wide.</p>
      )}
    </figure>
  );
}
