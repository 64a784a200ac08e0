import { best } from '../../chains/chain.ts';
import { atEnd } from '../../checks/at.ts';
import { show } from '../../checks/describe.ts';
import { atNose, fromNominal, nosesOf } from '../../checks/fit/noseLine.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import type { RibPlace } from '../../parts/layout/layout.ts';
import { capGapChain, chordGapChain } from '../../parts/layout/meeting.ts';
import { type Corner, cornerOf, sharedStretch, sparAt, topOf } from '../../scene/corner.ts';
import type { Cut } from '../../scene/cut.ts';
import { cornerLayers, type LayerBar, toneOf, type View } from './layers.ts';

const W = 392;

type Loops = readonly (readonly Vec2[])[];
type Place = (p: Vec2) => Vec2;

const pathOf = (loops: Loops, at: Place): string =>
  loops
    .map(
      (l) =>
        `${l
          .map(
            (p, i) =>
              `${i === 0 ? 'M' : 'L'}${at(p)
                .map((v) => v.toFixed(2))
                .join(' ')}`,
          )
          .join('')}Z`,
    )
    .join('');

/** The hatches of cut metal: one way and the other, wide and close; no two layers that touch have the same. */
export function CutHatches() {
  return (
    <svg width="0" height="0" aria-hidden="true" className="cut-hatches">
      <defs>
        {[0, 1, 2, 3].map((style) => (
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

/** The whole section, to scale, as the solids are cut: each sheet a line as thick as it is, lightening holes behind it. */
export function CutWhole({ view, cut }: { view: View; cut: Cut }) {
  const { skeleton, bay } = view;
  const { model, book } = skeleton;
  const parts = cut.parts.filter((p) => p.kind !== 'skin');
  const all = parts.flatMap((p) => p.loops.flat());
  const [u0, u1] = [Math.min(...all.map((p) => p[0])), Math.max(...all.map((p) => p[0]))];
  const [v0, v1] = [Math.min(...all.map((p) => p[1])), Math.max(...all.map((p) => p[1]))];
  const s = (W - 24) / Math.max(u1 - u0, 1);
  const top = 24;
  const at: Place = ([u, v]) => [12 + (u - u0) * s, top + (v1 - v) * s];
  const tall = top + (v1 - v0) * s + 30;
  const [front, rear] = [sparAt(skeleton, 'front', cut.y), sparAt(skeleton, 'rear', cut.y)];
  const nose = nosesOf(skeleton, 'straight').find((n) => n.bay === bay);
  const v = nose ? fromNominal(nose) : 0;
  const k = bay.main && model.spars.rear ? best(chordGapChain(skeleton, bay, bay.main, 'straight')) : undefined;
  const kTone = bay.main ? toneOf(view, 'chord-gap', { part: bay.main.id }) : undefined;
  const nTone = nose ? (toneOf(view, 'nose-kink', atNose(nose)) ?? toneOf(view, 'nose-line', atNose(nose))) : undefined;
  const line = tall - 15;
  const [x0, x1] = [front ? at([front.x, 0])[0] : 12, rear ? at([rear.x, 0])[0] : W - 12];
  return (
    <svg
      viewBox={`0 0 ${W} ${tall.toFixed(1)}`}
      className="section cut-section"
      role="img"
      aria-label={`Section at ${bay.station.id}, to scale`}
    >
      {holesBehind(view, cut).map(({ centre, radius }, i) => (
        <circle key={i} cx={at(centre)[0]} cy={at(centre)[1]} r={radius * s} className="hole-line" />
      ))}
      {parts.map((p) => (
        <path key={p.id} d={pathOf(p.loops, at)} fillRule="evenodd" className={`cut-thin ${p.kind}`}>
          <title>{p.mark}</title>
        </path>
      ))}
      {cut.shared.map((q) => (
        <path key={q.parts.join(' ')} d={pathOf(q.loops, at)} className="cut-thin shared">
          <title>{`${q.parts.join(' and ')} want the same place`}</title>
        </path>
      ))}
      {rear && front && (
        <g className={`callout ${kTone ?? 'fits'}`} onClick={() => bay.main && view.choose(`chord-gap:${bay.main.id}`)}>
          <path
            d={`M${x0} ${at([0, front.z - front.depth / 2])[1] + 3}V${line + 4}M${x1} ${at([0, rear.z - rear.depth / 2])[1] + 3}V${line + 4}M${x0} ${line}H${x1}M${x0 + 6} ${line - 2.5}L${x0} ${line}L${x0 + 6} ${line + 2.5}M${x1 - 6} ${line - 2.5}L${x1} ${line}L${x1 - 6} ${line + 2.5}`}
            className="leader"
          />
          <text x={Math.min((x0 + x1) / 2, W - 148)} y={tall - 2} textAnchor="middle">
            <tspan className="plain">{show(model, book.get(`webs@${bay.station.id}`).best)} web to web</tspan>
            {k !== undefined && `  ${bay.main?.id} ${show(model, Math.abs(k))} ${k < 0 ? 'long' : 'short'}`}
          </text>
        </g>
      )}
      {nose && (
        <text x={12} y={13} className={`callout ${nTone ?? 'fits'}`}>
          {Math.abs(v) < 0.005
            ? `${nose.mark} as drawn`
            : `${nose.mark} ${show(model, Math.abs(v))} ${v < 0 ? 'short' : 'proud'}`}
        </text>
      )}
    </svg>
  );
}

/** Lightening holes in the webs behind the section, in the wing's axes. */
function holesBehind({ skeleton, bay }: View, cut: Cut): { centre: Vec2; radius: number }[] {
  const front = sparAt(skeleton, 'front', cut.y);
  if (!front) return [];
  return [bay.main, bay.nose, bay.tip].flatMap((rib) => {
    const loops = cut.parts.find((p) => p.id === rib?.id)?.loops.flat();
    if (!rib || !loops) return [];
    const ahead = Math.min(...loops.map((p) => p[0]));
    return rib.holes.map((h) => {
      const x = ahead + h.fromFront;
      return {
        centre: [x, front.z - (x - front.x) * Math.tan(front.pitch ?? 0) + h.above] as const,
        radius: h.diameter / 2,
      };
    });
  });
}

interface Row extends LayerBar {
  /** Where its leader ends, drawing px. */
  readonly dot: Vec2;
}

/** One corner as it is cut, enlarged: bends and all, every layer named with its thickness. */
export function CutCorner({ view, cut, place }: { view: View; cut: Cut; place: RibPlace }) {
  const { skeleton } = view;
  const { model } = skeleton;
  const corner = cornerOf(skeleton, cut, place);
  if (!corner) return null;
  const { half, way, cap } = corner;
  const layers = gapUnderCap(cornerLayers(skeleton, place, 'top'));
  const tone = toneOf(view, 'cap-gap', atEnd(place)) ?? 'fits';
  const sum = best(capGapChain(skeleton, place));
  const wide = cap + 6.5;
  const s = W / wide;
  const left = way === 1 ? -3.5 : -(cap + 3);
  const at: Place = ([a, b]) => [(a - left) * s, 8 + (half - b) * s];
  const ids = layers.flatMap((l) => l.part ?? []);
  const stretch = sharedStretch(corner, ids) ?? [cap * 0.4, cap * 0.9];
  const rows = rowsOf(corner, layers, stretch, at);
  const stack = Math.max(...rows.map((r) => r.dot[1]), 20) + 20;
  const texts = rows.map((_, i) => stack + 14 + i * 17);
  const tall = (texts.at(-1) ?? 40) + 10;
  const [from, to] =
    way === 1 ? [Math.max(...rows.map((r) => r.dot[0])) + 12, W - 8] : [8, Math.min(...rows.map((r) => r.dot[0])) - 12];
  const gap = daylight(corner, layers, stretch);
  const id = `corner-${place.rib.id}-${place.end}`;
  return (
    <svg
      viewBox={`0 0 ${W} ${tall}`}
      className={`corner cut-corner ${tone}`}
      role="img"
      aria-label={`Layers at the top corner of ${place.rib.id} ${place.end} end: ${layers.map((r) => `${r.name} ${show(model, r.t)}`).join(', ')}`}
    >
      <clipPath id={id}>
        <rect x="0" y="0" width={W} height={tall} />
      </clipPath>
      <g clipPath={`url(#${id})`}>
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
      </g>
      {rows.map((r, i) => (
        <g key={r.name}>
          <path
            d={`M${r.dot[0].toFixed(1)} ${r.dot[1].toFixed(1)}V${texts[i]! - 4}H${way === 1 ? from - 4 : to + 4}`}
            className="leader"
          />
          <circle cx={r.dot[0]} cy={r.dot[1]} r="2.4" className="cut-dot" />
          <text x={from} y={texts[i]!} className={r.kind === 'bind' ? 'callout' : undefined}>
            {r.name}
          </text>
          <text x={to} y={texts[i]!} textAnchor="end" className={r.kind === 'bind' ? 'num callout' : 'num'}>
            {show(model, r.kind === 'bind' ? -r.t : r.t)}
          </text>
        </g>
      ))}
      <title>{`${place.rib.id} ${place.end} end: ${sum < 0 ? 'binds' : 'loose'} ${show(model, Math.abs(sum))} in all`}</title>
    </svg>
  );
}

/** The layers in the order they are drawn: doublers lie on the rib, so the room that is left is right under the cap. */
function gapUnderCap(layers: readonly LayerBar[]): LayerBar[] {
  const over = layers.filter((l) => l.kind === 'cap' || l.kind === 'strip');
  return [
    ...over,
    ...layers.filter((l) => l.part === undefined),
    ...layers.filter((l) => l.part !== undefined && !over.includes(l)),
  ];
}

/** Each layer with the place its leader ends at: side by side, the uppermost layer's furthest towards the names. */
function rowsOf(corner: Corner, layers: readonly LayerBar[], [near, far]: readonly [number, number], at: Place): Row[] {
  const step = Math.min((far - near) / (layers.length + 1), 1.1);
  return layers.map((l, i): Row => {
    const a = corner.way * (near + step * (layers.length - i));
    const [low, high] =
      l.part === undefined
        ? (gapAt(corner, layers, a) ?? [0, 0])
        : (topOf(corner, l.part, a) ?? [corner.half - 1, corner.half]);
    return { ...l, dot: at([a, (low + high) / 2]) };
  });
}

/** From the last metal above the gap to the first below it, at a. */
function gapAt(corner: Corner, layers: readonly LayerBar[], a: number): readonly [number, number] | undefined {
  const i = layers.findIndex((l) => l.part === undefined);
  const cap = layers
    .slice(0, i)
    .filter((l) => l.kind === 'cap' || l.kind === 'strip')
    .at(-1)?.part;
  const rib = (layers.slice(0, i).find((l) => l.kind === 'doubler') ?? layers.at(-1))?.part;
  const [over, under] = [cap && topOf(corner, cap, a), rib && topOf(corner, rib, a)];
  return over && under ? [under[1], over[0]] : undefined;
}

/** The daylight over a rib end as a face, where there is any. */
function daylight(
  corner: Corner,
  layers: readonly LayerBar[],
  [near, far]: readonly [number, number],
): Vec2[] | undefined {
  const [a, b] = [corner.way * (near + 0.1), corner.way * (far - 0.1)];
  const [p, q] = [gapAt(corner, layers, a), gapAt(corner, layers, b)];
  if (!p || !q || p[1] <= p[0] || q[1] <= q[0]) return undefined;
  return [
    [a, p[0]],
    [b, q[0]],
    [b, q[1]],
    [a, p[1]],
  ];
}
