import { best } from '../../chains/chain.ts';
import { atEnd } from '../../checks/at.ts';
import { show } from '../../checks/describe.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import type { RibPlace } from '../../parts/layout/layout.ts';
import { capGapChain } from '../../parts/layout/meeting.ts';
import { type Corner, cornerOf } from '../../scene/corner.ts';
import type { Cut } from '../../scene/cut.ts';
import { useApp } from '../state/store.ts';
import { daylight, layersOf, type Row, rowsOf, stretchOf } from './cornerRows.ts';
import { type Place, pathOf } from './cutPath.ts';
import { toneOf, type View } from './layers.ts';

const W = 392;
/** A line of the key. */
const LINE = 17;

const HATCHES = [0, 1, 2, 3] as const;

/** The hatches of cut metal: one way and the other, wide and close; no two layers that touch have the same. */
export function CutHatches() {
  return (
    <svg width="0" height="0" aria-hidden="true" className="cut-hatches">
      <defs>
        {HATCHES.map((style) => (
          <pattern
            key={style}
            id={`cut-hatch-${style}`}
            width={style < 2 ? 7 : 4}
            height={style < 2 ? 7 : 4}
            patternUnits="userSpaceOnUse"
            patternTransform={`rotate(${style % 2 === 0 ? 45 : -45})`}
          >
            <line x1="0" y1="0" x2="0" y2="8" className="cut-stroke" />
          </pattern>
        ))}
      </defs>
    </svg>
  );
}

/** A corner in the drawing: the cap from its bend to past its free edge, on whichever side that is. */
function placeOf({ half, way, cap }: Corner): Place {
  const s = W / (cap + 6.5);
  const left = way === 1 ? -3.5 : -(cap + 3);
  return ([a, b]) => [(a - left) * s, 8 + (half - b) * s];
}

/** The metal of a corner as it is cut, what wants the same place, and the daylight. */
function Metal({ corner, gap, at }: { corner: Corner; gap: Vec2[] | undefined; at: Place }) {
  return (
    <>
      {corner.parts.map((p) => (
        <path
          key={p.id}
          d={pathOf(p.loops, at)}
          fillRule="evenodd"
          fill={`url(#cut-hatch-${p.style})`}
          className="cut-metal"
        >
          <title>{p.mark}</title>
        </path>
      ))}
      {corner.shared.map((q) => (
        <path key={q.parts.join(' ')} d={pathOf(q.loops, at)} className="cut-shared">
          <title>{`${q.parts.join(' and ')} want the same place`}</title>
        </path>
      ))}
      {gap && <path d={pathOf([gap], at)} className="cut-daylight" />}
    </>
  );
}

/** Where the names of the key begin and its figures end, beside the leaders. */
function keyRoom(rows: readonly Row[], way: Corner['way']): readonly [from: number, to: number] {
  const xs = rows.map((r) => r.dot[0]);
  return way === 1 ? [Math.max(...xs) + 12, W - 8] : [8, Math.min(...xs) - 12];
}

/** A layer in the key: its leader, its name, how thick it is. */
function KeyRow({
  row,
  y,
  room: [from, to],
  way,
}: {
  row: Row;
  y: number;
  room: readonly [from: number, to: number];
  way: Corner['way'];
}) {
  const model = useApp((s) => s.model);
  const binds = row.kind === 'bind';
  const [x, top] = row.dot;
  return (
    <g>
      <path d={`M${x.toFixed(1)} ${top.toFixed(1)}V${y - 4}H${way === 1 ? from - 4 : to + 4}`} className="leader" />
      <circle cx={x} cy={top} r="2.4" className="cut-dot" />
      <text x={from} y={y} className={binds ? 'callout' : undefined}>
        {row.name}
      </text>
      <text x={to} y={y} textAnchor="end" className={binds ? 'num callout' : 'num'}>
        {show(model, binds ? -row.t : row.t)}
      </text>
    </g>
  );
}

/** One corner as it is cut, enlarged: bends and all, every layer named with its thickness. */
export function CutCorner({ view, cut, place }: { view: View; cut: Cut; place: RibPlace }) {
  const { skeleton } = view;
  const { model } = skeleton;
  const corner = cornerOf(skeleton, cut, place);
  if (!corner) return null;
  const at = placeOf(corner);
  const layers = layersOf(skeleton, place);
  const stretch = stretchOf(corner, layers);
  const rows = rowsOf(corner, layers, stretch, at);
  const keyTop = Math.max(...rows.map((r) => r.dot[1]), 20) + 34;
  const tall = keyTop + Math.max(0, rows.length - 1) * LINE + 10;
  const sum = best(capGapChain(skeleton, place));
  const end = `${place.rib.id} ${place.end} end`;
  const id = `corner-${place.rib.id}-${place.end}`;
  return (
    <svg
      viewBox={`0 0 ${W} ${tall}`}
      className={`corner cut-corner ${toneOf(view, 'cap-gap', atEnd(place)) ?? 'fits'}`}
      role="img"
      aria-label={`Layers at the top corner of ${end}: ${layers.map((r) => `${r.name} ${show(model, r.t)}`).join(', ')}`}
    >
      <clipPath id={id}>
        <rect x="0" y="0" width={W} height={tall} />
      </clipPath>
      <g clipPath={`url(#${id})`}>
        <Metal corner={corner} gap={daylight(corner, layers, stretch)} at={at} />
      </g>
      {rows.map((r, i) => (
        <KeyRow key={r.name} row={r} y={keyTop + i * LINE} room={keyRoom(rows, corner.way)} way={corner.way} />
      ))}
      <title>{`${end}: ${sum < 0 ? 'binds' : 'loose'} ${show(model, Math.abs(sum))} in all`}</title>
    </svg>
  );
}
