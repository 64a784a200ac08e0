import type { Finding } from '../../checks/finding.ts';
import { forcedShape, type SkinStrip } from '../../checks/fit/forcedFit.ts';
import { fromNominal, nosesOf } from '../../checks/fit/noseLine.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { lockIn } from '../../truing/lockIn.ts';
import { useApp } from '../state/store.ts';
import './skinPull.css';

const W = 392;
const H = 168;
const TOP = 34;
const BOTTOM = 44;

/** Share of the buckling stress from which ripples are drawn, and from which a buckle is likely. */
const POSSIBLE = 0.5;
const LIKELY = 1;

/** Ripples along a line: a little wave about each of its points, higher towards its middle. */
function ripples(points: readonly (readonly [number, number])[], height: number): string {
  const n = points.length - 1;
  return points
    .map(
      ([x, y], i) =>
        `${i ? 'L' : 'M'}${x.toFixed(1)} ${(y + (i % 2 ? -1 : 1) * height * Math.sin((Math.PI * i) / n)).toFixed(1)}`,
    )
    .join('');
}

/** What may happen at one nose, in words. */
const fate = (ratio: number): string => (ratio > LIKELY ? 'buckle likely' : ratio > POSSIBLE ? 'may buckle' : '');

/**
 * The nose skin seen from above as it would lie if pulled onto every nose: the line it takes between them, enlarged, with
 * ripples where its bending nears what buckles it. An estimate of where to look, and always called one.
 */
function ForcedPicture({ findings }: { findings: readonly Finding[] }) {
  const model = useApp((s) => s.model);
  const choose = useApp((s) => s.choose);
  const skeleton = skeletonOf(model);
  const shape = forcedShape(skeleton);
  if (!shape) return null;
  const noses = nosesOf(skeleton, 'straight');
  const { points, strips } = shape;
  const [y0, y1] = [points[0]!.y, points[points.length - 1]!.y];
  const X = (y: number): number => 22 + ((y - y0) / (y1 - y0)) * (W - 44);
  const [low, high] = [Math.min(-0.15, ...points.map((p) => p.v)), Math.max(0.15, ...points.map((p) => p.v))];
  const scale = Math.min(60, (H - TOP - BOTTOM) / (high - low));
  const times = Math.round((scale * (y1 - y0)) / (W - 44));
  const Y = (v: number): number => TOP + (high - v) * scale;
  const stripAt = (station: string): SkinStrip | undefined => strips.find((s) => s.nose.bay.station.id === station);
  const few = noses.length <= 14;
  const worst = strips.reduce((a, b) => (Math.abs(b.stress / b.flat) > Math.abs(a.stress / a.flat) ? b : a));
  const most = Math.abs(worst.stress / worst.flat);
  return (
    <figure className="skin-pull">
      <figcaption>
        An estimate: the nose skin as it would lie pulled onto every nose, from above, departures ×{times}, forward up.
        Numbers: its bending over what buckles its flat side.
      </figcaption>
      <svg
        className="picture"
        viewBox={`0 0 ${W} ${H}`}
        role="img"
        aria-label={`An estimate of the nose skin pulled onto the noses, enlarged ${times} times; most strained at ${worst.nose.mark}, ${most.toFixed(2)} of what buckles it`}
      >
        <line x1="10" x2={W - 10} y1={Y(0)} y2={Y(0)} className="hair" />
        <path
          d={points.map((p, i) => `${i ? 'L' : 'M'}${X(p.y).toFixed(1)} ${Y(p.v).toFixed(1)}`).join('')}
          className="skin-line"
        />
        {noses.map((n) => {
          const { id, y } = n.bay.station;
          const [x, v] = [X(y), fromNominal(n)];
          const strip = stripAt(id);
          const ratio = strip ? Math.abs(strip.stress / strip.flat) : 0;
          const f = findings.find((g) => g.check === 'forced-fit' && g.station === id);
          const reach = points.filter((p) => Math.abs(X(p.y) - x) <= 17).map((p) => [X(p.y), Y(p.v)] as const);
          return (
            <g key={id} className={f?.verdict ?? 'fits'} onClick={() => choose(id, f?.id ?? null)}>
              <title>{f?.sentence}</title>
              <path d={`M${x} ${Y(v) + 2} V${H - BOTTOM + 12}`} className="nose-post" />
              {ratio > POSSIBLE && <path d={ripples(reach, ratio > LIKELY ? 9 : 5)} className="skin-ripple" />}
              {ratio > POSSIBLE && (
                <text x={Math.min(Math.max(x, 46), W - 46)} y={Y(v) - 14} textAnchor="middle" className="callout">
                  {fate(ratio)}
                </text>
              )}
              {strip && (few || ratio > POSSIBLE) && (
                <text x={x} y={H - 18} textAnchor="middle" className={ratio > POSSIBLE ? 'num' : 'tiny'}>
                  {ratio.toFixed(2)}
                </text>
              )}
              {(few || ratio > POSSIBLE) && (
                <text x={x} y={H - 4} textAnchor="middle" className="tiny">
                  {n.mark}
                </text>
              )}
            </g>
          );
        })}
      </svg>
      <p className="small">
        {most > LIKELY
          ? `A buckle is likely at ${worst.nose.mark}`
          : most > POSSIBLE
            ? `A buckle is possible at ${worst.nose.mark}`
            : `Bending alone would buckle it nowhere; ${worst.nose.mark} strains it most`}
        , an estimate: {most.toFixed(2)} of what buckles perfect flat sheet. A real skin goes sooner.
      </p>
    </figure>
  );
}

/** What the skin does: how much stiffer it makes the panel in twist, what the twist left in it would take to hold out, and how it would lie over the noses. */
export function SkinPull({ findings }: { findings: readonly Finding[] }) {
  const model = useApp((s) => s.model);
  const found = lockIn(model);
  if (!found) return null;
  const small = (v: number): string => (v === 0 ? '0' : v >= 100 ? String(Number(v.toPrecision(2))) : v.toPrecision(2));
  const twisted = found.twist !== undefined && Math.abs(found.twist) >= 0.005;
  return (
    <section className="packing skin-answer" aria-label="Once the skin is on">
      <h2>Once the skin is on</h2>
      <p className="big-times">
        <b>{String(Number(found.times.toPrecision(2))).replace(/\B(?=(\d{3})+$)/g, '\u202f')}</b> times stiffer in twist
        after the skin, an estimate
      </p>
      {twisted && (
        <table>
          <thead>
            <tr>
              <th>To hold the found twist out</th>
              <th>bare</th>
              <th>skinned</th>
            </tr>
          </thead>
          <tbody>
            <tr>
              <td>torque</td>
              <td>{small(found.torqueBare)} N·m</td>
              <td>{small(found.torque)} N·m</td>
            </tr>
            {found.flows.map((q, i) => (
              <tr key={i}>
                <td>
                  shear flow,{' '}
                  {found.flows.length > 1 && i === 0
                    ? 'nose cell'
                    : found.flows.length > 1
                      ? 'box between the spars'
                      : 'closed cell'}
                </td>
                <td />
                <td>{small(Math.abs(q))} N/mm</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      <p className="small">{found.sentence}</p>
      <ForcedPicture findings={findings} />
    </section>
  );
}
