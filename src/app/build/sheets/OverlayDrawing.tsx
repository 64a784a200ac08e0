import { fromNominal, nosesOf } from '../../../checks/fit/noseLine.ts';
import type { Model } from '../../../model/schema.ts';
import { skeletonOf } from '../../../parts/layout/skeleton.ts';
import { useApp } from '../../state/store.ts';

const WIDE = 900;
/** Room at the sides, and how tall the panel itself may be. */
const [SIDES, TALL] = [80, 200];

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

/** The other panel's spot beside this one's, what differs enlarged. */
const enlarged = (own: Spot, other: Spot, times: number): Spot => ({
  id: own.id,
  y: own.y + times * (other.y - own.y),
  nose: own.nose + times * (other.nose - own.nose),
  web: own.web + times * (other.web - own.web),
});

/** From the panel's millimetres to the drawing: along the span, and aft. */
function scaleOf(spots: readonly Spot[]) {
  const along = spots.map((s) => s.y);
  const [first, last] = [Math.min(...along), Math.max(...along)];
  const nose = Math.max(...spots.map((s) => s.nose));
  const web = Math.max(...spots.map((s) => s.web), 40);
  const scale = Math.min((WIDE - SIDES) / Math.max(1, last - first), TALL / (nose + web));
  const left = (WIDE - (last - first) * scale) / 2;
  const down = (x: number): number => 34 + (x + nose) * scale;
  return { across: (y: number): number => left + (y - first) * scale, down, foot: down(web) };
}

/** Both panels from above: this one in full lines, the other dashed, with what differs enlarged. */
export function OverlayDrawing({ model, other }: { model: Model; other: Model }) {
  const magnify = useApp((s) => s.magnify);
  const choose = useApp((s) => s.choose);
  const own = spotsOf(model);
  const their = new Map(spotsOf(other).map((s) => [s.id, s]));
  const { across, down, foot } = scaleOf(own);
  const pairs = own.flatMap((a) => {
    const b = their.get(a.id);
    return b ? [{ a, b: enlarged(a, b, magnify) }] : [];
  });
  const line = (list: readonly Spot[], aft: (p: Spot) => number): string =>
    list.map((p, i) => `${i ? 'L' : 'M'}${across(p.y).toFixed(1)} ${down(aft(p)).toFixed(1)}`).join('');
  const rib = (s: Spot): string => `M${across(s.y)} ${down(-s.nose)}V${down(s.web)}`;
  const [ours, theirs] = [pairs.map((p) => p.a), pairs.map((p) => p.b)];
  return (
    <svg
      className="overlay-view"
      viewBox={`0 0 ${WIDE} ${foot + 34}`}
      role="img"
      aria-label="Both panels from above, what differs enlarged"
    >
      <text x="10" y="18" className="tiny">
        from above; full lines this one, dashes the other, what differs ×{magnify}
      </text>
      {pairs.map(({ a, b }) => (
        // biome-ignore lint/a11y/noStaticElementInteractions: a short way for the hand; the rail and the lists beside it choose the same stations by key and by ear
        <g key={a.id} className="pick" onClick={() => choose(a.id)}>
          <path d={rib(b)} className="view-other" />
          <path d={rib(a)} className="view-rib" />
          <text x={across(a.y)} y={foot + 22} textAnchor="middle">
            {a.id}
          </text>
        </g>
      ))}
      <path d={line(theirs, (p) => -p.nose)} className="view-other" />
      <path d={line(theirs, (p) => p.web)} className="view-other" />
      <path d={line(ours, (p) => -p.nose)} className="view-rib" />
      <path d={line(ours, () => 0)} className="view-spar" />
      <path d={line(ours, (p) => p.web)} className="view-spar" />
    </svg>
  );
}
