import { best } from '../../chains/chain.ts';
import { atEnd } from '../../checks/at.ts';
import { show } from '../../checks/describe.ts';
import { nosesOf } from '../../checks/fit/noseLine.ts';
import { alongAt } from '../../model/along.ts';
import type { RibPlace } from '../../parts/layout/layout.ts';
import { capGapChain } from '../../parts/layout/meeting.ts';
import { useApp } from '../state/store.ts';
import { Tap } from '../widgets/Tap.tsx';
import { chordCallout, noseCallout } from './callouts.ts';
import { cornerLayers, type LayerBar, toneOf, type View } from './layers.ts';

/* The plain sketches that stand for a section until the solids are cut, or where they cannot be. */

const W = 392;

/** What a station's sketch is drawn from, mm, and how it is laid out. */
interface Outline {
  /** Height of the front spar and of the rear, and the width of their caps. */
  readonly front: number;
  readonly rear: number;
  readonly frontCap: number;
  readonly rearCap: number;
  /** How far the nose stands ahead of the front spar, and the rear web behind it. */
  readonly nose: number;
  readonly web: number;
  /** Pixels a millimetre. */
  readonly s: number;
  readonly tall: number;
  /** From millimetres aft of the front web, and up from the chord, to the drawing. */
  at(x: number, z: number): string;
  toX(x: number): number;
  toY(z: number): number;
}

function outlineOf({ skeleton, bay }: View): Outline {
  const { model, book } = skeleton;
  const { id, y } = bay.station;
  const { front, rear } = model.spars;
  const depth = alongAt(front.depth, y);
  const web = rear ? book.get(`webs@${id}`).best : 0;
  const read = nosesOf(skeleton, 'straight').find((n) => n.bay === bay);
  const nose = read ? best(read.protrusion) : bay.station.nose;
  const s = (W - 24) / (nose + Math.max(web, 40) + 6);
  const tall = Math.max(70, depth * s + 44);
  const toX = (x: number): number => 12 + (x + nose) * s;
  const toY = (z: number): number => tall / 2 + 6 - z * s;
  return {
    front: depth,
    rear: rear ? alongAt(rear.depth, y) : depth,
    frontCap: alongAt(front.capWidth, y),
    rearCap: rear ? alongAt(rear.capWidth, y) : 0,
    nose,
    web,
    s,
    tall,
    at: (x, z) => `${toX(x)} ${toY(z)}`,
    toX,
    toY,
  };
}

/** A spar as a channel that opens aft or forward. */
function channel({ at }: Outline, x: number, depth: number, cap: number, opens: 'aft' | 'forward'): string {
  const out = x + (opens === 'aft' ? cap : -cap);
  const half = depth / 2;
  return `M${at(out, half)} L${at(x, half)} L${at(x, -half)} L${at(out, -half)}`;
}

function nosePath({ at, front, nose }: Outline): string {
  const half = front / 2;
  const upper = `C${at(-nose * 0.55, half)} ${at(-nose, front * 0.3)} ${at(-nose, 0)}`;
  const lower = `C${at(-nose, -front * 0.3)} ${at(-nose * 0.55, -half)} ${at(0, -half)}`;
  return `M${at(0, half)} ${upper} ${lower}`;
}

function ribPath({ at, front, rear, web }: Outline): string {
  const [f, r] = [front / 2 - 1.5, rear / 2 - 1];
  return `M${at(2, f)} L${at(web - 1, r)} L${at(web - 1, -r)} L${at(2, -f)} Z`;
}

/** The ribs of the station and their lightening holes, and the spars. */
function Metal({ view: { skeleton, bay }, outline }: { view: View; outline: Outline }) {
  const { front, rear } = skeleton.model.spars;
  const { toX, toY, s } = outline;
  return (
    <>
      {(bay.nose || bay.tip) && <path d={nosePath(outline)} className="rib-line" />}
      {(bay.main || bay.tip) && rear && <path d={ribPath(outline)} className="rib-line" />}
      {bay.main?.holes.map((h) => (
        <circle
          key={h.fromFront}
          cx={toX(h.fromFront + 2)}
          cy={toY(h.above)}
          r={(h.diameter / 2) * s}
          className="hole-line"
        />
      ))}
      <path d={channel(outline, 0, outline.front, outline.frontCap, front.opens)} className="spar-line" />
      {rear && (
        <path d={channel(outline, outline.web, outline.rear, outline.rearCap, rear.opens)} className="spar-line" />
      )}
    </>
  );
}

/**
 * The whole section at one station to scale: nose, front spar, rib, rear spar, and the free chord gap and nose
 * departure by number.
 */
export function SketchWhole({ view }: { view: View }) {
  const outline = outlineOf(view);
  const { front, rear, web, nose, tall, toX, toY } = outline;
  const [chord, noseWords] = [chordCallout(view), noseCallout(view)];
  const [x0, x1] = [toX(0), toX(web)];
  return (
    <svg
      viewBox={`0 0 ${W} ${tall}`}
      className="section"
      role="img"
      aria-label={`Section at ${view.bay.station.id}, to scale`}
    >
      <Metal view={view} outline={outline} />
      {chord && (
        <Tap className={`callout ${chord.tone}`} onTap={chord.open}>
          <line x1={x0} x2={x0} y1={toY(-front / 2) + 2} y2={tall - 12} className="leader" />
          <line x1={x1} x2={x1} y1={toY(-rear / 2) + 2} y2={tall - 12} className="leader" />
          <line x1={x0} x2={x1} y1={tall - 14} y2={tall - 14} className="leader" />
          <text x={(x0 + x1) / 2} y={tall - 3} textAnchor="middle">
            {chord.words}
          </text>
        </Tap>
      )}
      {noseWords && (
        <text x={toX(-nose) + 1} y={14} className={`callout ${noseWords.tone}`}>
          {noseWords.words}
        </text>
      )}
    </svg>
  );
}

/** Pixels a millimetre of thickness. */
const CORNER_SCALE = 30;

/** Where a layer's bar begins and how long it is. */
const BAR: Readonly<Record<LayerBar['kind'], { readonly x: number; readonly width: number }>> = {
  cap: { x: 10, width: 150 },
  strip: { x: 10, width: 130 },
  doubler: { x: 10, width: 130 },
  gap: { x: 10, width: 130 },
  bind: { x: 10, width: 130 },
  rib: { x: 30, width: 140 },
};

interface Stacked extends LayerBar {
  readonly top: number;
  readonly h: number;
  /** Where its words stand. */
  readonly text: number;
}

/** The layers one under the other; one that binds lies over what is above it. */
function stacked(layers: readonly LayerBar[]): { readonly rows: readonly Stacked[]; readonly low: number } {
  const rows: Stacked[] = [];
  let low = 10;
  for (const l of layers) {
    const binds = l.kind === 'bind';
    const h = Math.max(l.t * CORNER_SCALE, 0.8);
    const top = binds ? low - l.t * CORNER_SCALE : low;
    const text = Math.max((rows.at(-1)?.text ?? -4) + 13, top + h / 2 + 4);
    rows.push({ ...l, top, h, text });
    low += binds ? -h : h;
  }
  return { rows, low };
}

function Layer({ row: { kind, name, t, top, h, text } }: { row: Stacked }) {
  const model = useApp((s) => s.model);
  const { x, width } = BAR[kind];
  return (
    <g>
      <rect x={x} y={top} width={width} height={h} className={`layer ${kind}`} />
      <path d={`M${kind === 'cap' ? 160 : 150} ${top + h / 2} H176 L190 ${text - 4} H196`} className="leader" />
      <text x="200" y={text}>
        {name}
      </text>
      <text x={W - 8} y={text} textAnchor="end" className="num">
        {show(model, kind === 'bind' ? -t : t)}
      </text>
    </g>
  );
}

/** One corner enlarged: the layers between cap and rib, with their numbers. Rib held in the middle. */
export function SketchCorner({ view, place }: { view: View; place: RibPlace }) {
  const { model } = view.skeleton;
  const { rows, low } = stacked(cornerLayers(view.skeleton, place, 'top'));
  const tall = Math.max(low + 10, 56, (rows.at(-1)?.text ?? 0) + 6);
  const sum = best(capGapChain(view.skeleton, place));
  const end = `${place.rib.id} ${place.end} end`;
  return (
    <svg
      viewBox={`0 0 ${W} ${tall}`}
      className={`corner ${toneOf(view, 'cap-gap', atEnd(place)) ?? 'fits'}`}
      role="img"
      aria-label={`Layers at the top corner of ${end}: ${rows.map((r) => `${r.name} ${show(model, r.t)}`).join(', ')}`}
    >
      {rows.map((r) => (
        <Layer key={r.name} row={r} />
      ))}
      <title>{`${end}: ${sum < 0 ? 'binds' : 'loose'} ${show(model, Math.abs(sum))} in all`}</title>
    </svg>
  );
}
