import { uncertainty } from '../../chains/chain.ts';
import type { Finding } from '../../checks/finding.ts';
import { show } from '../../checks/describe.ts';
import { twistsOf, type TwistWay } from '../../checks/twist.ts';
import { skeletonOf } from '../../parts/skeleton.ts';
import { useApp } from '../store.ts';

const W = 392;
const H = 200;
const LEFT = 44;

/**
 * Twist along the span against the drawing's washout (the level line): each station's residual with its ± 2u, by heights
 * and by level, and, where packs are chosen, the twist to expect after packing as open rings.
 */
export function TwistPicture({ findings, after }: { findings: readonly Finding[]; after?: ReadonlyMap<string, number> }) {
  const model = useApp((s) => s.model);
  const choose = useApp((s) => s.choose);
  const skeleton = skeletonOf(model);
  const ways = (['heights', 'level'] as const).map((way) => ({ way, points: twistsOf(skeleton, way) })).filter((w) => w.points.length > 0);
  if (ways.length === 0) return null;
  const [y0, y1] = [skeleton.bays[0]!.station.y, skeleton.bays[skeleton.bays.length - 1]!.station.y];
  const bars = ways.flatMap((w) => w.points.flatMap((p) => [p.residual - 2 * uncertainty(p.chain), p.residual + 2 * uncertainty(p.chain)]));
  const [low, high] = [Math.min(-0.12, ...bars), Math.max(0.12, ...bars)];
  const X = (y: number): number => LEFT + 8 + (y1 === y0 ? 0.5 : (y - y0) / (y1 - y0)) * (W - LEFT - 24);
  const Y = (deg: number): number => 12 + ((high - deg) / (high - low)) * (H - 40);
  const limit = findings.find((f) => f.check === 'twist')?.limits;
  const verdictAt = (station: string, way: TwistWay) => findings.find((f) => f.check === 'twist' && f.station === station && f.place.includes(way === 'heights' ? 'by heights' : 'by level'));
  return (
    <figure>
      <figcaption>Twist against the drawing, degrees, nose up above the line; bars ± 2u. Dots by heights, squares by level{after ? ', rings after packing' : ''}.</figcaption>
      <svg className="picture" viewBox={`0 0 ${W} ${H}`} role="img" aria-label="Twist along the span">
        <line x1={LEFT} x2={W - 8} y1={Y(0)} y2={Y(0)} className="line thin" />
        {limit && [limit.fits, limit.act].flatMap((band, k) => band.map((v) => v !== null && v > low && v < high && (
          <g key={`${k}${v}`}>
            <line x1={LEFT} x2={W - 8} y1={Y(v)} y2={Y(v)} stroke={k === 0 ? 'var(--fits)' : 'var(--act)'} strokeDasharray={k === 0 ? undefined : '2 3'} />
            {(k === 1 || !limit.act.some((o) => o !== null && Math.abs(Y(o) - Y(v)) < 12)) && <text x={LEFT - 4} y={Y(v) + 4} textAnchor="end" className="tiny">{show(model, v, 'deg')}</text>}
          </g>
        )))}
        {ways.map(({ way, points }) => points.map((p, i) => {
          const f = verdictAt(p.bay.station.id, way);
          const x = X(p.bay.station.y) + (way === 'heights' ? -3 : 4);
          const u = 2 * uncertainty(p.chain);
          const next = points[i + 1];
          return (
            <g key={way + p.bay.station.id} className={f?.verdict ?? 'fits'} onClick={() => choose(p.bay.station.id, f?.id ?? null)}>
              <title>{f?.sentence}</title>
              {next && way === 'heights' && <line x1={x} y1={Y(p.residual)} x2={X(next.bay.station.y) - 3} y2={Y(next.residual)} className="line thin" />}
              <line x1={x} x2={x} y1={Y(p.residual - u)} y2={Y(p.residual + u)} className="bar" />
              {way === 'heights' ? <circle cx={x} cy={Y(p.residual)} r="5" className="pt" /> : <rect x={x - 4.5} y={Y(p.residual) - 4.5} width="9" height="9" className="pt" />}
            </g>
          );
        }))}
        {after && skeleton.bays.map((b) => {
          const v = after.get(b.station.id);
          return v === undefined ? null : <circle key={b.station.id} cx={X(b.station.y) - 3} cy={Y(v)} r="5" className="after" />;
        })}
        {skeleton.bays.map((b, i) => (i % Math.ceil(skeleton.bays.length / 12) === 0 || i === skeleton.bays.length - 1) && <text key={b.station.id} x={X(b.station.y)} y={H - 3} textAnchor="middle" className="tiny">{b.station.id}</text>)}
      </svg>
    </figure>
  );
}
