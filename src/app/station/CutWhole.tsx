import { show } from '../../checks/describe.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import { sparSectionAt } from '../../scene/corner.ts';
import type { Cut } from '../../scene/cut.ts';
import { Tap } from '../widgets/Tap.tsx';
import { chordCallout, noseCallout } from './callouts.ts';
import { type Place, pathOf } from './cutPath.ts';
import type { View } from './layers.ts';

const W = 392;
const SIDE = 12;
const TOP = 24;
const UNDER = 30;

interface Scale {
  readonly at: Place;
  /** Pixels a millimetre. */
  readonly s: number;
  readonly tall: number;
}

/** All that is cut but the skin, as wide as the drawing. */
function scaleOf(cut: Cut): Scale {
  const all = metalOf(cut).flatMap((p) => p.loops.flat());
  const [us, vs] = [all.map((p) => p[0]), all.map((p) => p[1])];
  const [u0, u1] = [Math.min(...us), Math.max(...us)];
  const [v0, v1] = [Math.min(...vs), Math.max(...vs)];
  const s = (W - 2 * SIDE) / Math.max(u1 - u0, 1);
  return {
    s,
    at: ([u, v]) => [SIDE + (u - u0) * s, TOP + (v1 - v) * s],
    tall: TOP + (v1 - v0) * s + UNDER,
  };
}

const metalOf = (cut: Cut) => cut.parts.filter((p) => p.kind !== 'skin');

/** A lightening hole in a web behind the section, in the wing's axes. */
interface Behind {
  readonly key: string;
  readonly centre: Vec2;
  readonly radius: number;
}

function holesBehind({ skeleton, bay }: View, cut: Cut): Behind[] {
  const front = sparSectionAt(skeleton, 'front', cut.y);
  if (!front) return [];
  const slope = Math.tan(front.pitch ?? 0);
  return [bay.main, bay.nose, bay.tip].flatMap((rib) => {
    const loops = cut.parts.find((p) => p.id === rib?.id)?.loops.flat();
    if (!rib || !loops) return [];
    const ahead = Math.min(...loops.map((p) => p[0]));
    return rib.holes.map((h): Behind => {
      const x = ahead + h.fromFront;
      return {
        key: `${rib.id} ${h.fromFront}`,
        centre: [x, front.z - (x - front.x) * slope + h.above],
        radius: h.diameter / 2,
      };
    });
  });
}

/** A dimension line with its heads, and a leader up to what it measures at either end. */
function dimension([x0, top0]: Vec2, [x1, top1]: Vec2, y: number): string {
  const leaders = `M${x0} ${top0 + 3}V${y + 4}M${x1} ${top1 + 3}V${y + 4}`;
  const heads = `M${x0 + 6} ${y - 2.5}L${x0} ${y}L${x0 + 6} ${y + 2.5}M${x1 - 6} ${y - 2.5}L${x1} ${y}L${x1 - 6} ${y + 2.5}`;
  return `${leaders}M${x0} ${y}H${x1}${heads}`;
}

/** Web to web, and how the main rib fills it. */
function WebToWeb({ view, cut, scale: { at, tall } }: { view: View; cut: Cut; scale: Scale }) {
  const { skeleton, bay } = view;
  const [front, rear] = [sparSectionAt(skeleton, 'front', cut.y), sparSectionAt(skeleton, 'rear', cut.y)];
  if (!front || !rear) return null;
  const chord = chordCallout(view);
  const from = at([front.x, front.z - front.depth / 2]);
  const to = at([rear.x, rear.z - rear.depth / 2]);
  const webs = show(skeleton.model, skeleton.book.get(`webs@${bay.station.id}`).best);
  return (
    <Tap className={`callout ${chord?.tone ?? 'fits'}`} onTap={() => chord?.open()}>
      <path d={dimension(from, to, tall - 15)} className="leader" />
      <text x={Math.min((from[0] + to[0]) / 2, W - 148)} y={tall - 2} textAnchor="middle">
        <tspan className="plain">{webs} web to web</tspan>
        {chord && `  ${chord.words}`}
      </text>
    </Tap>
  );
}

/**
 * The whole section, to scale, as the solids are cut: each sheet a line as thick as it is, lightening holes behind
 * it.
 */
export function CutWhole({ view, cut }: { view: View; cut: Cut }) {
  const scale = scaleOf(cut);
  const { at, s, tall } = scale;
  const nose = noseCallout(view);
  return (
    <svg
      viewBox={`0 0 ${W} ${tall.toFixed(1)}`}
      className="section cut-section"
      role="img"
      aria-label={`Section at ${view.bay.station.id}, to scale`}
    >
      {holesBehind(view, cut).map(({ key, centre, radius }) => (
        <circle key={key} cx={at(centre)[0]} cy={at(centre)[1]} r={radius * s} className="hole-line" />
      ))}
      {metalOf(cut).map((p) => (
        <path key={p.id} d={pathOf(p.loops, at)} fillRule="evenodd" className={`cut-thin ${p.kind}`}>
          <title>{p.mark}</title>
        </path>
      ))}
      {cut.shared.map((q) => (
        <path key={q.parts.join(' ')} d={pathOf(q.loops, at)} className="cut-thin shared">
          <title>{`${q.parts.join(' and ')} want the same place`}</title>
        </path>
      ))}
      <WebToWeb view={view} cut={cut} scale={scale} />
      {nose && (
        <text x={12} y={13} className={`callout ${nose.tone}`}>
          {nose.words}
        </text>
      )}
    </svg>
  );
}
