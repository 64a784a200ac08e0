import { show } from '../../checks/describe.ts';
import type { Finding } from '../../checks/finding.ts';
import { fromNominal, laneOf, nosesOf } from '../../checks/fit/noseLine.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { useApp } from '../state/store.ts';
import { PointMark } from '../widgets/Mark.tsx';
import './pictures.css';

const W = 392;
const H = 150;

/** The nose line from above, every departure from the drawing ×20: forward is up. A kink that only repeats a neighbour's fault is an open, dashed point. */
export function KinkPicture({ findings }: { findings: readonly Finding[] }) {
  const model = useApp((s) => s.model);
  const choose = useApp((s) => s.choose);
  const noses = nosesOf(skeletonOf(model), 'straight');
  if (noses.length < 3) return null;
  const values = noses.map(fromNominal);
  const [first, last] = [noses[0]!.bay.station.y, noses[noses.length - 1]!.bay.station.y];
  const X = (y: number): number => 22 + ((y - first) / (last - first)) * (W - 44);
  const perMm = (W - 44) / (last - first);
  const [low, high] = [Math.min(-0.15, ...values), Math.max(0.15, ...values)];
  const scale = Math.min(60, (H - 66) / (high - low));
  const times = Math.round(scale / perMm);
  const Y = (v: number): number => 24 + (high - v) * scale;
  const end = (y: number): number =>
    values[0]! + ((y - first) / (last - first)) * (values[values.length - 1]! - values[0]!);
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
        <line x1="10" x2={W - 10} y1={Y(0)} y2={Y(0)} className="hair" />
        <line x1={X(first)} y1={Y(end(first))} x2={X(last)} y2={Y(end(last))} className="line thin" />
        <path
          d={noses.map((n, i) => `${i ? 'L' : 'M'}${X(n.bay.station.y)} ${Y(values[i]!)}`).join('')}
          className="line"
        />
        {noses.map((n, i) => {
          const f =
            findings.find((g) => g.check === 'nose-kink' && g.station === n.bay.station.id) ??
            findings.find((g) => g.check === 'nose-line' && g.station === n.bay.station.id);
          const v = values[i]!;
          const crowded = noses.length > 14 && f?.verdict === 'fits';
          return (
            <g
              key={n.bay.station.id}
              className={f?.verdict ?? 'fits'}
              onClick={() => choose(n.bay.station.id, f?.id ?? null)}
            >
              <title>{f?.sentence}</title>
              <circle cx={X(n.bay.station.y)} cy={Y(v)} r="6" className={f?.echoOf ? 'echo-point' : 'pt'} />
              <PointMark verdict={f?.verdict ?? 'fits'} x={X(n.bay.station.y)} y={Y(v)} />
              {!crowded && (
                <text x={X(n.bay.station.y)} y={v < 0 ? Y(v) + 19 : Y(v) - 9} textAnchor="middle" className="tiny">
                  {show(model, v).replace(/ (mm|in)$/, '')}
                </text>
              )}
              {!crowded && (
                <text x={X(n.bay.station.y)} y={H - 3} textAnchor="middle" className="tiny">
                  {n.mark}
                </text>
              )}
            </g>
          );
        })}
      </svg>
      <p className="small">However the line is laid, the noses take a lane {show(model, laneOf(noses)!)} wide.</p>
    </figure>
  );
}
