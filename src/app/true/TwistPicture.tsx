import { useState } from 'react';
import { uncertainty } from '../../chains/chain.ts';
import { show } from '../../checks/describe.ts';
import type { Finding } from '../../checks/finding.ts';
import { shapeOf } from '../../checks/fit/twist.ts';
import { type TwistWay, twistsOf } from '../../checks/fit/twistRead.ts';
import { WORD } from '../../checks/fit/twistSaid.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { useApp } from '../state/store.ts';
import { PointMark } from '../widgets/Mark.tsx';
import './pictures.css';

const W = 392;
const H = 204;
const LEFT = 44;

/** Sideways place and point of each way, so that three readings at a station stand apart in black and white. */
const SHIFT: Record<TwistWay, number> = { heights: -6, level: 6, plumb: 0 };
const POINT: Record<TwistWay, string> = { heights: 'dots', level: 'squares', plumb: 'diamonds' };

function Point({ way, x, y }: { way: TwistWay; x: number; y: number }) {
  if (way === 'heights') return <circle cx={x} cy={y} r="6" className="pt" />;
  if (way === 'level') return <rect x={x - 5.5} y={y - 5.5} width="11" height="11" className="pt" />;
  return <path d={`M${x} ${y - 7.5} L${x + 7.5} ${y} L${x} ${y + 7.5} L${x - 7.5} ${y} Z`} className="pt" />;
}

/**
 * Twist along the span with its ± 2u, by every way it was read: against the drawing's washout, which is then the level line,
 * or as it stands with the washout line drawn; and, where packs are chosen, before and after packing.
 */
export function TwistPicture({
  findings,
  after,
}: {
  findings: readonly Finding[];
  after?: ReadonlyMap<string, number>;
}) {
  const model = useApp((s) => s.model);
  const choose = useApp((s) => s.choose);
  const [raw, setRaw] = useState(false);
  const skeleton = skeletonOf(model);
  const ways = (['heights', 'level', 'plumb'] as const)
    .map((way) => ({ way, points: twistsOf(skeleton, way) }))
    .filter((w) => w.points.length > 0);
  const { bays } = skeleton;
  if (ways.length === 0) return null;
  const washed = bays.some((b) => b.station.washout !== 0);
  const shown = raw && washed;
  const drawn = (station: string): number =>
    shown ? (bays.find((b) => b.station.id === station)?.station.washout ?? 0) : 0;
  const [y0, y1] = [bays[0]!.station.y, bays[bays.length - 1]!.station.y];
  const bars = ways.flatMap((w) =>
    w.points.flatMap((p) => [-2, 2].map((k) => drawn(p.bay.station.id) + p.residual + k * uncertainty(p.chain))),
  );
  const line = bays.map((b) => drawn(b.station.id));
  const [low, high] = [Math.min(-0.12, ...bars, ...line), Math.max(0.12, ...bars, ...line)];
  const X = (y: number): number => LEFT + 8 + (y1 === y0 ? 0.5 : (y - y0) / (y1 - y0)) * (W - LEFT - 24);
  const Y = (deg: number): number => 12 + ((high - deg) / (high - low)) * (H - 40);
  const limit = findings.find((f) => f.check === 'twist')?.limits;
  const verdictAt = (station: string, way: TwistWay) =>
    findings.find((f) => f.check === 'twist' && f.station === station && f.at.way === way);
  const path = (values: readonly (readonly [number, number])[]): string =>
    values.map(([y, v], i) => `${i ? 'L' : 'M'}${X(y).toFixed(1)} ${Y(v).toFixed(1)}`).join('');
  const shapes = ways.flatMap(({ way, points }) => shapeOf(skeleton, points, way) ?? []);
  return (
    <figure>
      <figcaption>
        {shown
          ? 'Twist as it stands, degrees, nose up above; the line is the drawing’s washout'
          : 'Twist against the drawing’s washout, degrees, nose up above the line'}
        ; bars ± 2u.{' '}
        {ways
          .map((w) => `${POINT[w.way]} ${WORD[w.way]}`)
          .join(', ')
          .replace(/^./, (c) => c.toUpperCase())}
        {after && !shown ? '; rings after packing' : ''}.
      </figcaption>
      {washed && (
        <div className="pair" role="group" aria-label="Twist shown">
          <button type="button" aria-pressed={!raw} onClick={() => setRaw(false)}>
            against the washout
          </button>
          <button type="button" aria-pressed={raw} onClick={() => setRaw(true)}>
            as it stands
          </button>
        </div>
      )}
      <svg
        className="picture"
        viewBox={`0 0 ${W} ${H}`}
        role="img"
        aria-label={`Twist along the span. ${shapes.map((s) => s.sentence).join(' ')}`}
      >
        <path d={path(bays.map((b) => [b.station.y, drawn(b.station.id)]))} className={shown ? 'line' : 'line thin'} />
        {shown &&
          [low, high].map((v) => (
            <text key={v} x={LEFT - 4} y={Y(v) + 4} textAnchor="end" className="tiny">
              {show(model, v, 'deg')}
            </text>
          ))}
        {!shown &&
          limit &&
          [limit.fits, limit.act].flatMap((band, k) =>
            band.map(
              (v) =>
                v !== null &&
                v > low &&
                v < high && (
                  <g key={`${k}${v}`}>
                    <line
                      x1={LEFT}
                      x2={W - 8}
                      y1={Y(v)}
                      y2={Y(v)}
                      stroke={k === 0 ? 'var(--fits)' : 'var(--act)'}
                      strokeDasharray={k === 0 ? undefined : '2 3'}
                    />
                    {(k === 1 || !limit.act.some((o) => o !== null && Math.abs(Y(o) - Y(v)) < 12)) && (
                      <text x={LEFT - 4} y={Y(v) + 4} textAnchor="end" className="tiny">
                        {show(model, v, 'deg')}
                      </text>
                    )}
                  </g>
                ),
            ),
          )}
        {ways.map(({ way, points }, w) =>
          points.map((p, i) => {
            const { id, y } = p.bay.station;
            const f = verdictAt(id, way);
            const x = X(y) + SHIFT[way];
            const u = 2 * uncertainty(p.chain);
            const v = drawn(id) + p.residual;
            const next = points[i + 1];
            return (
              <g key={way + id} className={f?.verdict ?? 'fits'} onClick={() => choose(id, f?.id ?? null)}>
                <title>{f?.sentence}</title>
                {next && w === 0 && (
                  <line
                    x1={x}
                    y1={Y(v)}
                    x2={X(next.bay.station.y) + SHIFT[way]}
                    y2={Y(drawn(next.bay.station.id) + next.residual)}
                    className="line thin"
                  />
                )}
                <line x1={x} x2={x} y1={Y(v - u)} y2={Y(v + u)} className="bar" />
                <Point way={way} x={x} y={Y(v)} />
                <PointMark verdict={f?.verdict ?? 'fits'} x={x} y={Y(v)} />
              </g>
            );
          }),
        )}
        {after && !shown && (
          <g className="packed">
            <path
              d={path(
                bays.flatMap((b) => {
                  const v = after.get(b.station.id);
                  return v === undefined ? [] : [[b.station.y, v] as const];
                }),
              )}
              className="line"
            />
            {bays.map((b) => {
              const v = after.get(b.station.id);
              return v === undefined ? null : (
                <circle key={b.station.id} cx={X(b.station.y)} cy={Y(v)} r="5" className="after" />
              );
            })}
          </g>
        )}
        {bays.map(
          (b, i) =>
            (i % Math.ceil(bays.length / 12) === 0 || i === bays.length - 1) && (
              <text key={b.station.id} x={X(b.station.y)} y={H - 3} textAnchor="middle" className="tiny">
                {b.station.id}
              </text>
            ),
        )}
      </svg>
      {shapes.map((s) => (
        <p key={s.sentence} className={s.kind === 'true' ? 'small' : 'shape-words'}>
          {s.sentence}
        </p>
      ))}
    </figure>
  );
}
