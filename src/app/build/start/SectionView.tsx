import { alongAt } from '../../../model/along.ts';
import { fromRoot } from '../../../model/hand.ts';
import type { MainRib, Spar } from '../../../model/schema.ts';
import type { Pointed } from '../../../model/starts/asked.ts';
import type { Bay } from '../../../parts/layout/layout.ts';
import { skeletonOf } from '../../../parts/layout/skeleton.ts';
import { radians } from '../../../units/convert.ts';
import { formatAngle, formatLength } from '../../../units.ts';
import { type Arrow, Dimension, type Spot } from './Dimension.tsx';
import { litAt, type Shown, WIDE } from './shown.ts';

/** One spar in the section: where its web stands, how deep it is and how wide its caps are, mm. */
interface Channel {
  readonly web: number;
  readonly depth: number;
  readonly cap: number;
  /** +1 where its caps point aft, -1 forward. */
  readonly opens: 1 | -1;
}

/**
 * One station's section laid into the drawing: mm aft of the front web and above the middle, to units of the drawing.
 */
interface Laid extends Shown {
  readonly bay: Bay;
  /** Front web to rear web, and nose ahead of the front one. */
  readonly webs: number;
  readonly nose: number;
  readonly front: Channel;
  readonly rear: Channel | undefined;
  /** How deep it is at the rear web, or at the ribs' rear ends where there is none. */
  readonly rearDepth: number;
  /** The nearest main rib, and where it stands. */
  readonly main: MainRib | undefined;
  readonly mainAt: number;
  /** Twist of the tip, nose down minus, degrees. */
  readonly twist: number;
  readonly middle: number;
  readonly scale: number;
  readonly at: (x: number, z: number) => Spot;
}

const LEFT = 50;
const TOP = 56;

const opening = (spar: Spar): 1 | -1 => (spar.opens === 'aft' ? 1 : -1);

const channelOf = (spar: Spar, web: number, y: number): Channel => ({
  web,
  depth: alongAt(spar.depth, y),
  cap: alongAt(spar.capWidth, y),
  opens: opening(spar),
});

function laidOut(shown: Shown): Laid | undefined {
  const { model, atTip } = shown;
  const outward = fromRoot(model, skeletonOf(model).bays);
  const inward = [...outward].reverse();
  const nearest = atTip ? inward : outward;
  const [bay, tip] = [nearest[0], inward[0]];
  if (!bay || !tip) return undefined;
  const { y, nose } = bay.station;
  const { spars } = model;
  const main = nearest.find((b) => b.main);
  const webs = alongAt(model.webToWeb, y);
  const front = channelOf(spars.front, 0, y);
  const rear = spars.rear && channelOf(spars.rear, webs, y);
  const scale = (WIDE - 100) / (webs + nose);
  const middle = TOP + (front.depth / 2) * scale;
  return {
    ...shown,
    bay,
    webs,
    nose,
    front,
    rear,
    rearDepth: rear?.depth ?? main?.main?.rear.height ?? 0.2 * front.depth,
    main: main?.main,
    mainAt: main?.station.y ?? 0,
    twist: tip.station.washout,
    middle,
    scale,
    at: (x, z) => [LEFT + (x + nose) * scale, middle - z * scale],
  };
}

/** A path from point to point, mm. */
const path = ({ at }: Laid, points: readonly Spot[]): string =>
  points.map(([x, z], i) => `${i === 0 ? 'M' : 'L'}${at(x, z).join(' ')}`).join(' ');

/** A size along the chord, drawn so far under the section or over the caps. */
function level({ at, model }: Laid, from: number, to: number, z: number, off: number): Arrow {
  const [[x0, y0], [x1, y1]] = [at(from, z), at(to, z)];
  return { a: [x0, y0 + off], b: [x1, y1 + off], text: formatLength(Math.abs(to - from), model.units) };
}

function depth({ at, model }: Laid, x: number, deep: number): Arrow {
  return { a: at(x, -deep / 2), b: at(x, deep / 2), text: formatLength(deep, model.units) };
}

const cap = (laid: Laid, { web, cap: wide, opens, depth: deep }: Channel): Arrow => ({
  ...level(laid, web, web + opens * wide, deep / 2, -14),
});

/** What each question about the section points at with a size. */
const SIZES: Partial<Record<Pointed, (laid: Laid) => Arrow | undefined>> = {
  'front-depth': (laid) => depth(laid, laid.front.cap + 14, laid.front.depth),
  'rear-depth': (laid) => depth(laid, laid.webs - (laid.rear?.cap ?? 0) - 40, laid.rearDepth),
  webs: (laid) => level(laid, 0, laid.webs, -laid.front.depth / 2, 22),
  nose: (laid) => level(laid, -laid.nose, 0, -laid.front.depth / 2, 22),
  'front-cap': (laid) => cap(laid, laid.front),
  'rear-cap': (laid) => laid.rear && cap(laid, laid.rear),
};

/** The middle of a spar's upper cap. */
const capMiddle = (laid: Laid, { web, cap: wide, opens, depth: deep }: Channel): Spot =>
  laid.at(web + (opens * wide) / 2, deep / 2);
const frontCap = (laid: Laid): Spot => capMiddle(laid, laid.front);
const frontWeb = (laid: Laid): Spot => laid.at(2, 0);

/** What each question about the section points at with a ring. */
const RINGS: Partial<Record<Pointed, (laid: Laid) => Spot | undefined>> = {
  'front-opens': frontCap,
  'ease-height': frontCap,
  doubler: frontCap,
  relief: frontCap,
  bend: frontCap,
  'rear-opens': (laid) => laid.rear && capMiddle(laid, laid.rear),
  'ease-length': (laid) => laid.at(1, 0),
  rivets: frontWeb,
  tab: frontWeb,
  row: frontWeb,
};

/** Upper or lower edge of the nearest main rib, as its ends would stand here. */
function ribSide(laid: Laid, up: 1 | -1): string {
  const { main, mainAt, model, front, rear, webs, rearDepth } = laid;
  const under = (height: number, spar: Spar): number => (alongAt(spar.depth, mainAt) - height) / 2;
  const fore = front.depth / 2 - (main ? under(main.front.height, model.spars.front) : 0);
  const aft = rearDepth / 2 - (main && model.spars.rear ? under(main.rear.height, model.spars.rear) : 0);
  const [stepFore, stepAft] = [main?.front.joggle ?? 0, main?.rear.joggle ?? 0];
  const endFore = main?.front.ends === 'nests' ? front.cap + 6 : 0;
  const endAft = main?.rear.ends === 'nests' && rear ? rear.cap + 6 : 0;
  return path(laid, [
    [1.5, up * fore],
    [endFore, up * fore],
    [endFore + 4 * stepFore, up * (fore + stepFore)],
    [webs - endAft - 4 * stepAft, up * (aft + stepAft)],
    [webs - endAft, up * aft],
    [webs - 1.5, up * aft],
  ]);
}

function Ribs({ laid }: { laid: Laid }) {
  const { at, nose, front, main, mainAt, model, points } = laid;
  const lit = litAt(points);
  const half = front.depth / 2;
  const to = (x: number, z: number): string => at(x, z).join(' ');
  const low = main ? (alongAt(model.spars.front.depth, mainAt) - main.front.height) / 2 : 0;
  const doubler = model.doublers.find((d) => d.part === main?.id);
  const tab = main?.front.tab ?? 16;
  const end = half - low;
  return (
    <>
      <path
        d={`M${to(0, half)} C${to(-nose * 0.55, half)} ${to(-nose, half * 0.6)} ${to(-nose, 0)} C${to(-nose, -half * 0.6)} ${to(-nose * 0.55, -half)} ${to(0, -half)}`}
        className={`view-rib${lit('nose-rib', 'profile', 'skin')}`}
      />
      <path d={`${ribSide(laid, 1)} ${ribSide(laid, -1)}`} className={`view-rib${lit('main', 'skin')}`} />
      <path
        d={path(laid, [
          [2, end - 3],
          [2, 3 - end],
        ])}
        className="view-rib"
      />
      {doubler && (
        <path
          d={path(laid, [
            [tab, end + 2],
            [4, end + 2],
            [4, -end - 2],
            [tab, -end - 2],
          ])}
          className={`view-strip${lit('doubler')}`}
        />
      )}
    </>
  );
}

function SparLine({ laid, channel, lit }: { laid: Laid; channel: Channel; lit: string }) {
  const { web, cap: wide, opens, depth: deep } = channel;
  const edge = web + opens * wide;
  return (
    <path
      d={path(laid, [
        [edge, deep / 2],
        [web, deep / 2],
        [web, -deep / 2],
        [edge, -deep / 2],
      ])}
      className={`view-spar${lit}`}
    />
  );
}

/** The chord at the root and at the tip, the twist between them four times as large. */
function Twist({ laid }: { laid: Laid }) {
  const { webs, twist } = laid;
  const rise = -webs * Math.sin(radians(4 * twist));
  return (
    <path
      d={path(laid, [
        [webs, rise],
        [0, 0],
        [webs, 0],
      ])}
      className="pointed-line"
    />
  );
}

/** How the tip stands against the root, as it is asked. */
const twisted = (twist: number): string =>
  `; tip ${formatAngle(radians(Math.abs(twist)))} nose ${twist < 0 ? 'down' : 'up'}`;

/** A rib's section to scale: channels the way they open, rib ends nested or butted, the nose. */
export function SectionView(shown: Shown) {
  const laid = laidOut(shown);
  if (!laid) return null;
  const { points, bay, front, rear, middle, scale, twist } = laid;
  const { id } = bay.station;
  const arrow = points === null ? undefined : SIZES[points]?.(laid);
  const ring = points === null ? undefined : RINGS[points]?.(laid);
  const lit = litAt(points);
  return (
    <svg
      viewBox={`0 0 ${WIDE} ${middle + (front.depth / 2) * scale + 56}`}
      className="start-view"
      role="img"
      aria-label={`Section at ${id}`}
    >
      <text x="12" y="20" className="tiny">
        section at {id}, to scale{twist === 0 ? '' : twisted(twist)}
      </text>
      <Ribs laid={laid} />
      {points === 'washout' && <Twist laid={laid} />}
      <SparLine laid={laid} channel={front} lit={lit('front-sheet', 'front-opens')} />
      {rear && <SparLine laid={laid} channel={rear} lit={lit('rear-sheet', 'rear-opens')} />}
      {arrow && <Dimension {...arrow} />}
      {ring && <circle cx={ring[0]} cy={ring[1]} r="22" className="pointed-ring" />}
    </svg>
  );
}
