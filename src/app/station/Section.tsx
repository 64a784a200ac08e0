import { best } from '../../chains/chain.ts';
import { atEnd } from '../../checks/at.ts';
import { show } from '../../checks/describe.ts';
import { atNose, fromNominal, nosesOf } from '../../checks/fit/noseLine.ts';
import { alongAt } from '../../model/along.ts';
import type { RibPlace } from '../../parts/layout/layout.ts';
import { capGapChain, capSplitChains, chordGapChain } from '../../parts/layout/meeting.ts';
import { bayThrough, flangePlane } from '../../scene/cutPlace.ts';
import { useCut } from '../workers/useCut.ts';
import { CutCorner, CutHatches, CutWhole } from './CutDrawing.tsx';
import { cornerLayers, toneOf, type View } from './layers.ts';

const W = 392;
const CORNER_SCALE = 30;

/** The whole section at one station to scale: nose, front spar, rib, rear spar, and the free chord gap and nose departure by number. */
function Whole({ view }: { view: View }) {
  const { skeleton, bay } = view;
  const { model, book } = skeleton;
  const y = bay.station.y;
  const front = model.spars.front;
  const rear = model.spars.rear;
  const H = alongAt(front.depth, y);
  const web = rear ? book.get(`webs@${bay.station.id}`).best : 0;
  const nose = nosesOf(skeleton, 'straight').find((n) => n.bay === bay);
  const protrusion = nose ? best(nose.protrusion) : bay.station.nose;
  const long = protrusion + Math.max(web, 40) + 6;
  const s = (W - 24) / long;
  const tall = Math.max(70, H * s + 44);
  const X = (x: number): number => 12 + (x + protrusion) * s;
  const mid = tall / 2 + 6;
  const Z = (z: number): number => mid - z * s;
  const cap = alongAt(front.capWidth, y);
  const Hr = rear ? alongAt(rear.depth, y) : H;
  const k = bay.main && rear ? best(chordGapChain(skeleton, bay, bay.main, 'straight')) : undefined;
  const v = nose ? fromNominal(nose) : 0;
  const channel = (x: number, h: number, c: number, opens: 'aft' | 'forward') => {
    const dir = opens === 'aft' ? c : -c;
    return `M${X(x + dir)} ${Z(h / 2)} L${X(x)} ${Z(h / 2)} L${X(x)} ${Z(-h / 2)} L${X(x + dir)} ${Z(-h / 2)}`;
  };
  const kTone = bay.main ? toneOf(view, 'chord-gap', { part: bay.main.id }) : undefined;
  const nTone = nose ? (toneOf(view, 'nose-kink', atNose(nose)) ?? toneOf(view, 'nose-line', atNose(nose))) : undefined;
  const holes = bay.main?.holes ?? [];
  return (
    <svg
      viewBox={`0 0 ${W} ${tall}`}
      className="section"
      role="img"
      aria-label={`Section at ${bay.station.id}, to scale`}
    >
      {(bay.nose || bay.tip) && (
        <path
          d={`M${X(0)} ${Z(H / 2)} C${X(-protrusion * 0.55)} ${Z(H / 2)} ${X(-protrusion)} ${Z(H * 0.3)} ${X(-protrusion)} ${Z(0)} C${X(-protrusion)} ${Z(-H * 0.3)} ${X(-protrusion * 0.55)} ${Z(-H / 2)} ${X(0)} ${Z(-H / 2)}`}
          className="rib-line"
        />
      )}
      {(bay.main || bay.tip) && rear && (
        <path
          d={`M${X(2)} ${Z(H / 2 - 1.5)} L${X(web - 1)} ${Z(Hr / 2 - 1)} L${X(web - 1)} ${Z(-Hr / 2 + 1)} L${X(2)} ${Z(-H / 2 + 1.5)} Z`}
          className="rib-line"
        />
      )}
      {holes.map((h) => (
        <circle
          key={h.fromFront}
          cx={X(h.fromFront + 2)}
          cy={Z(h.above)}
          r={(h.diameter / 2) * s}
          className="hole-line"
        />
      ))}
      <path d={channel(0, H, cap, front.opens)} className="spar-line" />
      {rear && <path d={channel(web, Hr, alongAt(rear.capWidth, y), rear.opens)} className="spar-line" />}
      {k !== undefined && (
        <g className={`callout ${kTone ?? 'fits'}`} onClick={() => view.choose(`chord-gap:${bay.main?.id}`)}>
          <line x1={X(0)} x2={X(0)} y1={Z(-H / 2) + 2} y2={tall - 12} className="leader" />
          <line x1={X(web)} x2={X(web)} y1={Z(-Hr / 2) + 2} y2={tall - 12} className="leader" />
          <line x1={X(0)} x2={X(web)} y1={tall - 14} y2={tall - 14} className="leader" />
          <text x={(X(0) + X(web)) / 2} y={tall - 3} textAnchor="middle">
            {k < 0 ? `${bay.main?.id} ${show(model, -k)} long` : `${bay.main?.id} ${show(model, k)} short`}
          </text>
        </g>
      )}
      {nose && (
        <text x={X(-protrusion) + 1} y={14} className={`callout ${nTone ?? 'fits'}`}>
          {Math.abs(v) < 0.005
            ? `${nose.mark} as drawn`
            : `${nose.mark} ${show(model, Math.abs(v))} ${v < 0 ? 'short' : 'proud'}`}
        </text>
      )}
    </svg>
  );
}

/** One corner enlarged: the layers between cap and rib, with their numbers. Rib held in the middle. */
function Corner({ view, place }: { view: View; place: RibPlace }) {
  const { model } = view.skeleton;
  const scale = CORNER_SCALE;
  const layers = cornerLayers(view.skeleton, place, 'top');
  const tone = toneOf(view, 'cap-gap', atEnd(place));
  const sum = best(capGapChain(view.skeleton, place));
  let z = 10;
  const rows = layers.map((l) => {
    const top = l.kind === 'bind' ? z - l.t * scale : z;
    const h = Math.max(l.t * scale, 0.8);
    if (l.kind !== 'bind') z += h;
    else z -= h;
    return { ...l, top, h };
  });
  const tall = Math.max(z + 10, 56);
  const texts: number[] = [];
  for (const r of rows) texts.push(Math.max((texts.at(-1) ?? -4) + 13, r.top + r.h / 2 + 4));
  const bottom = Math.max(tall, (texts.at(-1) ?? 0) + 6);
  return (
    <svg
      viewBox={`0 0 ${W} ${bottom}`}
      className={`corner ${tone ?? 'fits'}`}
      role="img"
      aria-label={`Layers at the top corner of ${place.rib.id} ${place.end} end: ${rows.map((r) => `${r.name} ${show(model, r.t)}`).join(', ')}`}
    >
      {rows.map((r, i) => (
        <g key={r.name}>
          <rect
            x={r.kind === 'rib' ? 30 : 10}
            y={r.top}
            width={r.kind === 'cap' ? 150 : r.kind === 'rib' ? 140 : 130}
            height={r.h}
            className={`layer ${r.kind}`}
          />
          <path
            d={`M${r.kind === 'cap' ? 160 : 150} ${r.top + r.h / 2} H176 L190 ${texts[i]! - 4} H196`}
            className="leader"
          />
          <text x="200" y={texts[i]!}>
            {r.name}
          </text>
          <text x={W - 8} y={texts[i]!} textAnchor="end" className="num">
            {show(model, r.kind === 'bind' ? -r.t : r.t)}
          </text>
        </g>
      ))}
      <title>{`${place.rib.id} ${place.end} end: ${sum < 0 ? 'binds' : 'loose'} ${show(model, Math.abs(sum))} in all`}</title>
    </svg>
  );
}

/**
 * The chosen station cut open: the whole section to scale, then each nesting end's corner enlarged with its layers. Both are
 * the solids themselves cut through the middle of the flanges; until those are cut, or where they cannot be, a plain sketch.
 */
export function Section(view: View) {
  const { model } = view.skeleton;
  const nesting = view.skeleton.placesAt(view.bay.station.id).filter((p) => p.spec.ends === 'nests');
  const answer = useCut({ model, magnify: 1, y: flangePlane(view.skeleton, view.bay) });
  const cut = answer?.model === model && bayThrough(view.skeleton, answer.cut.y) === view.bay ? answer.cut : null;
  return (
    <div className="sections" data-cut={cut ? cut.parts.length : undefined}>
      {cut && <CutHatches />}
      {cut ? <CutWhole view={view} cut={cut} /> : <Whole view={view} />}
      {nesting.map((p) => (
        <figure key={`${p.rib.id}${p.end}`}>
          <figcaption>
            {p.rib.id} {p.end} end, top corner enlarged,{' '}
            {capSplitChains(view.skeleton, p).held ? 'as it is held' : 'held in the middle'}
          </figcaption>
          {cut ? <CutCorner view={view} cut={cut} place={p} /> : <Corner view={view} place={p} />}
        </figure>
      ))}
    </div>
  );
}
