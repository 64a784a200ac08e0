import { fromNominal, nosesOf } from '../../checks/fit/noseLine.ts';
import type { Model } from '../../model/schema.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { useApp } from '../state/store.ts';

const W = 900;

interface Spot {
  readonly id: string;
  readonly y: number;
  readonly nose: number;
  readonly web: number;
}

/** Noses and webs as they stand, departures from this panel enlarged by what the bench enlarges them. */
function spotsOf(model: Model): Spot[] {
  const skeleton = skeletonOf(model);
  const off = new Map(nosesOf(skeleton, 'straight').map((n) => [n.bay.station.id, fromNominal(n)]));
  return skeleton.bays.map((b) => ({
    id: b.station.id,
    y: b.station.y,
    nose: b.station.nose + (off.get(b.station.id) ?? 0),
    web: skeleton.book.find(`webs@${b.station.id}`)?.best ?? 0,
  }));
}

/** Both panels from above: this one in full lines, the other dashed, with what differs enlarged. */
export function OverlayDrawing({ model, other }: { model: Model; other: Model }) {
  const magnify = useApp((s) => s.magnify);
  const choose = useApp((s) => s.choose);
  const [own, their] = [spotsOf(model), new Map(spotsOf(other).map((s) => [s.id, s]))];
  const [y0, y1] = [own[0]!.y, own[own.length - 1]!.y];
  const [nose, web] = [Math.max(...own.map((s) => s.nose)), Math.max(...own.map((s) => s.web), 40)];
  const s = Math.min((W - 80) / Math.max(1, y1 - y0), 200 / (nose + web));
  const left = (W - (y1 - y0) * s) / 2;
  const X = (y: number): number => left + (y - y0) * s;
  const Y = (x: number): number => 34 + (x + nose) * s;
  const pairs = own.flatMap((a) => {
    const b = their.get(a.id);
    return b
      ? [
          {
            a,
            b: {
              ...b,
              y: a.y + magnify * (b.y - a.y),
              nose: a.nose + magnify * (b.nose - a.nose),
              web: a.web + magnify * (b.web - a.web),
            },
          },
        ]
      : [];
  });
  const path = (list: readonly Spot[], of: (p: Spot) => number): string =>
    list.map((p, i) => `${i ? 'L' : 'M'}${X(p.y).toFixed(1)} ${Y(of(p)).toFixed(1)}`).join('');
  const [A, B] = [pairs.map((p) => p.a), pairs.map((p) => p.b)];
  return (
    <svg
      className="overlay-view"
      viewBox={`0 0 ${W} ${Y(web) + 34}`}
      role="img"
      aria-label="Both panels from above, what differs enlarged"
    >
      <text x="10" y="18" className="tiny">
        from above; full lines this one, dashes the other, what differs ×{magnify}
      </text>
      {pairs.map(({ a, b }) => (
        <g key={a.id} className="pick" onClick={() => choose(a.id)}>
          <path d={`M${X(b.y)} ${Y(-b.nose)}V${Y(b.web)}`} className="view-other" />
          <path d={`M${X(a.y)} ${Y(-a.nose)}V${Y(a.web)}`} className="view-rib" />
          <text x={X(a.y)} y={Y(web) + 22} textAnchor="middle">
            {a.id}
          </text>
        </g>
      ))}
      <path d={path(B, (p) => -p.nose)} className="view-other" />
      <path d={path(B, (p) => p.web)} className="view-other" />
      <path d={path(A, (p) => -p.nose)} className="view-rib" />
      <path d={path(A, () => 0)} className="view-spar" />
      <path d={path(A, (p) => p.web)} className="view-spar" />
    </svg>
  );
}
