import { alongAt } from '../../../model/along.ts';
import { fromRoot } from '../../../model/hand.ts';
import type { Station } from '../../../model/schema.ts';
import type { Pointed } from '../../../model/starts/asked.ts';
import type { Bay } from '../../../parts/layout/layout.ts';
import { skeletonOf } from '../../../parts/layout/skeleton.ts';
import { formatLength } from '../../../units.ts';
import { type Arrow, Dimension } from './Dimension.tsx';
import { litAt, type Shown, WIDE } from './shown.ts';

/** The panel laid into the drawing, seen from above, nose up; mm on the bench to units of the drawing. */
interface Laid extends Shown {
  readonly bays: readonly Bay[];
  readonly root: Station;
  readonly tip: Station;
  /** The first and the last station along the span. */
  readonly ends: readonly [Station, Station];
  /** The longest nose, and the farthest rear web. */
  readonly nose: number;
  readonly web: number;
  /** A place along the span, from the left. */
  readonly across: (y: number) => number;
  /** A place aft of the front web, from the top. */
  readonly down: (x: number) => number;
  /** How far aft the rear web stands. */
  readonly rear: (y: number) => number;
}

const TOP = 68;
const TALL = 250;

function laidOut(shown: Shown): Laid | undefined {
  const { model } = shown;
  const { bays } = skeletonOf(model);
  const outward = fromRoot(model, bays);
  const [first, last, root, tip] = [bays[0], bays.at(-1), outward[0], outward.at(-1)];
  if (!first || !last || !root || !tip) return undefined;
  const rear = (y: number): number => alongAt(model.webToWeb, y);
  const nose = Math.max(...bays.map((b) => b.station.nose));
  const web = Math.max(...bays.map((b) => rear(b.station.y)));
  const [y0, y1] = [first.station.y, last.station.y];
  const scale = Math.min((WIDE - 120) / Math.max(1, y1 - y0), TALL / (nose + web));
  const left = (WIDE - (y1 - y0) * scale) / 2;
  return {
    ...shown,
    bays,
    root: root.station,
    tip: tip.station,
    ends: [first.station, last.station],
    nose,
    web,
    across: (y) => left + (y - y0) * scale,
    down: (x) => TOP + (x + nose) * scale,
    rear,
  };
}

const print = ({ model }: Laid, mm: number): string => formatLength(mm, model.units);

/**
 * An upright size at the rib in question. Its number stands toward the middle of the span, off the end rib it is
 * about.
 */
function upright(laid: Laid, from: number, to: (s: Station) => number, words: (mm: number) => string): Arrow {
  const at = laid.atTip ? laid.tip : laid.root;
  const left = at.y !== laid.ends[0].y;
  const x = laid.across(at.y) + (left ? -14 : 14);
  return { a: [x, laid.down(from)], b: [x, laid.down(to(at))], text: words(Math.abs(to(at) - from)), left };
}

/** What each question about the plan points at. */
const POINTS: Partial<Record<Pointed, (laid: Laid) => Arrow>> = {
  span: (laid) => {
    const [{ y: y0 }, { y: y1 }] = laid.ends;
    const low = laid.down(laid.web) + 24;
    return { a: [laid.across(y0), low], b: [laid.across(y1), low], text: print(laid, y1 - y0) };
  },
  webs: (laid) =>
    upright(
      laid,
      0,
      (s) => laid.rear(s.y),
      (mm) => print(laid, mm),
    ),
  nose: (laid) =>
    upright(
      laid,
      0,
      (s) => -s.nose,
      (mm) => print(laid, mm),
    ),
  chord: (laid) => {
    const { root, across, down, rear } = laid;
    const outside = root.y === laid.ends[0].y ? -14 : 14;
    const x = across(root.y) + outside;
    return { a: [x, down(-root.nose)], b: [x, down(rear(root.y))], text: '' };
  },
};

/** A line through every station, so far aft of the front web. */
const through = ({ bays, across, down }: Laid, aft: (s: Station) => number): string =>
  bays.map(({ station: s }, i) => `${i === 0 ? 'M' : 'L'}${across(s.y)} ${down(aft(s))}`).join('');

/** A rib fore and aft of the front spar, and its name above where there is room for every one. */
function RibLines({ laid, bay }: { laid: Laid; bay: Bay }) {
  const { points, bays, across, down, rear, nose, model } = laid;
  const { id, y, nose: ahead } = bay.station;
  const lit = litAt(points);
  const [fore, aft] = bay.tip ? (['tip', 'tip'] as const) : (['nose-rib', 'main'] as const);
  const named = bays.length < 14 || bay.index % 2 === 0;
  const place = formatLength(y, model.units, { unitMark: false, digits: model.units === 'mm' ? 0 : 2 });
  return (
    <g>
      <path d={`M${across(y)} ${down(-ahead)} V${down(0)}`} className={`view-rib${lit(fore, 'ribs')}`} />
      <path d={`M${across(y)} ${down(0)} V${down(rear(y))}`} className={`view-rib${lit(aft, 'ribs')}`} />
      {named && (
        <text
          x={across(y)}
          y={down(-nose) - 14}
          textAnchor="middle"
          className={points === 'places' ? 'lit-text' : undefined}
        >
          {points === 'places' ? place : id}
        </text>
      )}
    </g>
  );
}

function Spars({ laid }: { laid: Laid }) {
  const { front, rear } = laid.model.spars;
  const strip = front.strips[0];
  const lit = litAt(laid.points);
  const { across, down } = laid;
  const behind = through(laid, (s) => laid.rear(s.y));
  return (
    <>
      {strip && (
        <path
          d={`M${across(strip.from)} ${down(0) + 5} H${across(strip.to)}`}
          className={`view-strip${lit('strip')}`}
        />
      )}
      <path d={through(laid, () => 0)} className={`view-spar${lit('front-sheet')}`} />
      <path d={behind} className={rear ? `view-spar${lit('rear-sheet')}` : 'view-thin'} />
    </>
  );
}

/** A ring where each tip rib is held fore and aft. */
function Held({ laid }: { laid: Laid }) {
  return laid.bays.map(({ station, tip }) => {
    if (!tip) return null;
    const aft = tip.registered === 'front' ? -(tip.clip?.forward ?? 0) : laid.rear(station.y);
    return <circle key={station.id} cx={laid.across(station.y)} cy={laid.down(aft)} r="9" className="pointed-ring" />;
  });
}

/** The plan view: spars, ribs and noses from above, nose up. */
export function PlanView(shown: Shown) {
  const laid = laidOut(shown);
  if (!laid) return null;
  const { points, bays, ends, nose, web, across, down } = laid;
  const arrow = points === null ? undefined : POINTS[points]?.(laid);
  const foot = down(web);
  return (
    <svg
      viewBox={`0 0 ${WIDE} ${foot + 50}`}
      className="start-view"
      role="img"
      aria-label={`The panel from above: ${bays.length} ribs over ${print(laid, ends[1].y - ends[0].y)}`}
    >
      <text x="12" y="22" className="tiny">
        from above, nose up
      </text>
      <path d={through(laid, (s) => -s.nose)} className="view-thin" />
      {bays.map((b) => (
        <RibLines key={b.station.id} laid={laid} bay={b} />
      ))}
      <Spars laid={laid} />
      {points === 'registered' && <Held laid={laid} />}
      {points === 'places' && (
        <path d={`M${across(ends[0].y) - 20} ${down(-nose) - 30} V${foot + 16}`} className="view-datum" />
      )}
      {arrow && <Dimension {...arrow} />}
    </svg>
  );
}
