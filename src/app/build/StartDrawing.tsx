import { alongAt } from '../../model/along.ts';
import { fromRoot } from '../../model/hand.ts';
import type { Model } from '../../model/schema.ts';
import type { Pointed } from '../../model/starts/asked.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { formatAngle, formatLength } from '../../units.ts';

/*
 * The panel as its answers have it: from above, and one rib's section, both to scale, with the size in question pointed at.
 * Metal is drawn as lines; only what is asked for carries a number.
 */

const W = 860;

interface Props {
  readonly model: Model;
  readonly points: Pointed | null;
  /** A size at the tip is asked for, not at the root. */
  readonly atTip: boolean;
}

interface Arrow {
  readonly a: readonly [number, number];
  readonly b: readonly [number, number];
  readonly text: string;
  /** An upright arrow's number stands to its left. */
  readonly left?: boolean;
}

function Dimension({ a, b, text, left = false }: Arrow) {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const turn = Math.atan2(dy, dx);
  const tip = (x: number, y: number, t: number): string =>
    `M${x + 10 * Math.cos(t + 0.4)} ${y + 10 * Math.sin(t + 0.4)} L${x} ${y} L${x + 10 * Math.cos(t - 0.4)} ${y + 10 * Math.sin(t - 0.4)}`;
  const upright = Math.abs(dy) > Math.abs(dx);
  const [mx, my] = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
  return (
    <g className="pointed">
      <path d={`M${a[0]} ${a[1]} L${b[0]} ${b[1]} ${tip(a[0], a[1], turn)} ${tip(b[0], b[1], turn + Math.PI)}`} />
      <text
        x={upright ? mx + (left ? -10 : 10) : mx}
        y={upright ? my + 5 : my - 8}
        textAnchor={upright ? (left ? 'end' : 'start') : 'middle'}
      >
        {text}
      </text>
    </g>
  );
}

/** The plan view: spars, ribs and noses from above, nose up. */
function PlanView({ model, points, atTip }: Props) {
  const { bays } = skeletonOf(model);
  const [y0, y1] = [bays[0]!.station.y, bays[bays.length - 1]!.station.y];
  const nose = Math.max(...bays.map((b) => b.station.nose));
  const web = Math.max(...bays.map((b) => alongAt(model.webToWeb, b.station.y)));
  const s = Math.min((W - 120) / Math.max(1, y1 - y0), 250 / (nose + web));
  const left = (W - (y1 - y0) * s) / 2;
  const X = (y: number): number => left + (y - y0) * s;
  const Y = (x: number): number => 54 + (x + nose) * s;
  const H = Y(web) + 50;
  const line = (of: (y: number) => number): string =>
    bays.map((b, i) => `${i ? 'L' : 'M'}${X(b.station.y)} ${Y(of(b.station.y))}`).join('');
  const at = (y: number): number => alongAt(model.webToWeb, y);
  const show = (v: number): string => formatLength(v, model.units);
  const [root, tip] = [fromRoot(model, bays)[0]!.station, fromRoot(model, bays)[bays.length - 1]!.station];
  const mid = atTip ? tip : root;
  // A number stands toward the middle of the span, off the tip rib it is about.
  const off = mid.y === y0 ? 14 : -14;
  const strip = model.spars.front.strips[0];
  const noseLine = bays.map((b, i) => `${i ? 'L' : 'M'}${X(b.station.y)} ${Y(-b.station.nose)}`).join('');
  const arrow: Arrow | null =
    points === 'span'
      ? { a: [X(y0), Y(web) + 24], b: [X(y1), Y(web) + 24], text: show(y1 - y0) }
      : points === 'webs'
        ? { a: [X(mid.y) + off, Y(0)], b: [X(mid.y) + off, Y(at(mid.y))], text: show(at(mid.y)), left: off < 0 }
        : points === 'nose'
          ? { a: [X(mid.y) + off, Y(0)], b: [X(mid.y) + off, Y(-mid.nose)], text: show(mid.nose), left: off < 0 }
          : points === 'chord'
            ? { a: [X(root.y) - off, Y(-root.nose)], b: [X(root.y) - off, Y(at(root.y))], text: '' }
            : null;
  const lit = (which: Pointed): string => (points === which ? ' lit' : '');
  return (
    <svg
      viewBox={`0 0 ${W} ${H}`}
      className="start-view"
      role="img"
      aria-label={`The panel from above: ${bays.length} ribs over ${show(y1 - y0)}`}
    >
      <text x="12" y="22" className="tiny">
        from above, nose up
      </text>
      <path d={noseLine} className="view-thin" />
      {bays.map((b) => {
        const x = X(b.station.y);
        const whole = b.tip !== undefined;
        return (
          <g key={b.station.id}>
            <path
              d={`M${x} ${Y(-b.station.nose)} V${Y(0)}`}
              className={`view-rib${lit(whole ? 'tip' : 'nose-rib')}${lit('ribs')}`}
            />
            <path
              d={`M${x} ${Y(0)} V${Y(at(b.station.y))}`}
              className={`view-rib${lit(whole ? 'tip' : 'main')}${lit('ribs')}`}
            />
            {(bays.length < 14 || b.index % 2 === 0) && (
              <text x={x} y={Y(-nose) - 14} textAnchor="middle" className={points === 'places' ? 'lit-text' : ''}>
                {points === 'places'
                  ? formatLength(b.station.y, model.units, { unitMark: false, digits: model.units === 'mm' ? 0 : 2 })
                  : b.station.id}
              </text>
            )}
          </g>
        );
      })}
      {strip && <path d={`M${X(strip.from)} ${Y(0) + 5} H${X(strip.to)}`} className={`view-strip${lit('strip')}`} />}
      <path d={line(() => 0)} className={`view-spar${lit('front-sheet')}`} />
      {model.spars.rear && <path d={line(at)} className={`view-spar${lit('rear-sheet')}`} />}
      {!model.spars.rear && <path d={line(at)} className="view-thin" />}
      {points === 'registered' &&
        bays
          .filter((b) => b.tip)
          .map((b) => (
            <circle
              key={b.station.id}
              cx={X(b.station.y)}
              cy={Y(b.tip?.registered === 'front' ? -(b.tip.clip?.forward ?? 0) : at(b.station.y))}
              r="9"
              className="pointed-ring"
            />
          ))}
      {points === 'places' && <path d={`M${X(y0) - 20} ${Y(-nose) - 30} V${Y(web) + 16}`} className="view-datum" />}
      {arrow && <Dimension {...arrow} />}
    </svg>
  );
}

/** A rib's section to scale: channels the way they open, rib ends nested or butted, the nose. */
function SectionView({ model, points, atTip }: Props) {
  const { bays } = skeletonOf(model);
  const outward = fromRoot(model, bays);
  const bay = outward[atTip ? bays.length - 1 : 0]!;
  const main = (atTip ? [...outward].reverse() : outward).find((b) => b.main)?.main;
  const mainAt = bays.find((b) => b.main === main)?.station.y ?? 0;
  const y = bay.station.y;
  const { front, rear } = model.spars;
  const [B, P, H] = [alongAt(model.webToWeb, y), bay.station.nose, alongAt(front.depth, y)];
  const s = (W - 100) / (B + P);
  const mid = 30 + (H / 2) * s + 26;
  const X = (x: number): number => 50 + (x + P) * s;
  const Z = (z: number): number => mid - z * s;
  const Hr = rear ? alongAt(rear.depth, y) : (main?.rear.height ?? 0.2 * H);
  const [cap, capR] = [alongAt(front.capWidth, y), rear ? alongAt(rear.capWidth, y) : 0];
  const channel = (x: number, h: number, c: number, opens: 'aft' | 'forward'): string => {
    const dir = opens === 'aft' ? c : -c;
    return `M${X(x + dir)} ${Z(h / 2)} L${X(x)} ${Z(h / 2)} L${X(x)} ${Z(-h / 2)} L${X(x + dir)} ${Z(-h / 2)}`;
  };
  // The nearest main rib's ends, as they would be here.
  const low = (height: number | undefined, depth: number): number => (height === undefined ? 0 : (depth - height) / 2);
  const hf = H / 2 - low(main?.front.height, alongAt(front.depth, mainAt));
  const hr = rear ? Hr / 2 - low(main?.rear.height, alongAt(rear.depth, mainAt)) : Hr / 2;
  const [jf, jr] = [main?.front.joggle ?? 0, main?.rear.joggle ?? 0];
  const [f0, r0] = [
    main && main.front.ends === 'nests' ? cap + 6 : 0,
    main && main.rear.ends === 'nests' && rear ? capR + 6 : 0,
  ];
  const side = (up: 1 | -1): string =>
    `M${X(1.5)} ${Z(up * hf)} L${X(f0)} ${Z(up * hf)} L${X(f0 + 4 * jf)} ${Z(up * (hf + jf))} L${X(B - r0 - 4 * jr)} ${Z(up * (hr + jr))} L${X(B - r0)} ${Z(up * hr)} L${X(B - 1.5)} ${Z(up * hr)}`;
  const show = (v: number): string => formatLength(v, model.units);
  const d = model.doublers.find((x) => x.part === main?.id);
  const tab = main?.front.tab ?? 16;
  const arrow: Arrow | null =
    points === 'front-depth'
      ? { a: [X(cap + 14), Z(-H / 2)], b: [X(cap + 14), Z(H / 2)], text: show(H) }
      : points === 'rear-depth'
        ? { a: [X(B - capR - 40), Z(-Hr / 2)], b: [X(B - capR - 40), Z(Hr / 2)], text: show(Hr) }
        : points === 'webs'
          ? { a: [X(0), Z(-H / 2) + 22], b: [X(B), Z(-H / 2) + 22], text: show(B) }
          : points === 'nose'
            ? { a: [X(-P), Z(-H / 2) + 22], b: [X(0), Z(-H / 2) + 22], text: show(P) }
            : points === 'front-cap'
              ? { a: [X(0), Z(H / 2) - 14], b: [X(front.opens === 'aft' ? cap : -cap), Z(H / 2) - 14], text: show(cap) }
              : points === 'rear-cap'
                ? {
                    a: [X(B), Z(Hr / 2) - 14],
                    b: [X(rear?.opens === 'aft' ? B + capR : B - capR), Z(Hr / 2) - 14],
                    text: show(capR),
                  }
                : null;
  const ringed =
    points === 'front-opens' ||
    points === 'ease-height' ||
    points === 'doubler' ||
    points === 'relief' ||
    points === 'bend'
      ? [X(front.opens === 'aft' ? cap / 2 : -cap / 2), Z(H / 2)]
      : points === 'rear-opens'
        ? [X(rear?.opens === 'aft' ? B + capR / 2 : B - capR / 2), Z(Hr / 2)]
        : points === 'ease-length'
          ? [X(1), Z(0)]
          : points === 'rivets' || points === 'tab' || points === 'row'
            ? [X(2), Z(0)]
            : null;
  const lit = (which: Pointed): string => (points === which ? ' lit' : '');
  const twist = outward[bays.length - 1]!.station.washout;
  return (
    <svg
      viewBox={`0 0 ${W} ${mid + (H / 2) * s + 56}`}
      className="start-view"
      role="img"
      aria-label={`Section at ${bay.station.id}`}
    >
      <text x="12" y="20" className="tiny">
        section at {bay.station.id}, to scale
        {twist !== 0 ? `; tip twisted ${formatAngle((twist * Math.PI) / 180)}` : ''}
      </text>
      <path
        d={`M${X(0)} ${Z(H / 2)} C${X(-P * 0.55)} ${Z(H / 2)} ${X(-P)} ${Z(H * 0.3)} ${X(-P)} ${Z(0)} C${X(-P)} ${Z(-H * 0.3)} ${X(-P * 0.55)} ${Z(-H / 2)} ${X(0)} ${Z(-H / 2)}`}
        className={`view-rib${lit('nose-rib')}${lit('profile')}${lit('skin')}`}
      />
      <path d={`${side(1)} ${side(-1)}`} className={`view-rib${lit('main')}${lit('skin')}`} />
      <path d={`M${X(2)} ${Z(hf - 3)} V${Z(3 - hf)}`} className="view-rib" />
      {d && (
        <path
          d={`M${X(tab)} ${Z(hf + 2)} H${X(4)} V${Z(-hf - 2)} H${X(tab)}`}
          className={`view-strip${lit('doubler')}`}
        />
      )}
      {points === 'washout' && (
        <path
          d={`M${X(0)} ${Z(0)} L${X(B)} ${Z(B * Math.sin((4 * twist * Math.PI) / 180))} M${X(0)} ${Z(0)} H${X(B)}`}
          className="pointed-line"
        />
      )}
      <path d={channel(0, H, cap, front.opens)} className={`view-spar${lit('front-sheet')}${lit('front-opens')}`} />
      {rear && (
        <path d={channel(B, Hr, capR, rear.opens)} className={`view-spar${lit('rear-sheet')}${lit('rear-opens')}`} />
      )}
      {arrow && <Dimension {...arrow} />}
      {ringed && <circle cx={ringed[0]} cy={ringed[1]} r="22" className="pointed-ring" />}
    </svg>
  );
}

/** The two views that change as the questions are answered. */
export function StartDrawing(props: Props) {
  return (
    <div className="start-drawing">
      <PlanView {...props} />
      <SectionView {...props} />
    </div>
  );
}
