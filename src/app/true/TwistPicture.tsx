import { useState } from 'react';
import { uncertainty } from '../../chains/chain.ts';
import { show } from '../../checks/describe.ts';
import type { Finding } from '../../checks/finding.ts';
import { shapeOf } from '../../checks/fit/twist.ts';
import { TWIST_WAYS, type Twist, type TwistWay, twistsOf } from '../../checks/fit/twistRead.ts';
import { WORD } from '../../checks/fit/twistSaid.ts';
import type { Bay } from '../../parts/layout/layout.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { useApp } from '../state/store.ts';
import { acrossOf, pathThrough } from '../widgets/alongSpan.ts';
import { PointMark } from '../widgets/Mark.tsx';
import { PickPoint } from '../widgets/PickPoint.tsx';
import './pictures.css';

const W = 392;
const H = 204;
const LEFT = 44;

/** Sideways place and point of each way, so that three readings at a station stand apart in black and white. */
const SHIFT: Record<TwistWay, number> = { heights: -6, level: 6, plumb: 0 };
const POINT: Record<TwistWay, string> = { heights: 'dots', level: 'squares', plumb: 'diamonds' };

/** A way of reading twist, and what it read. */
interface Read {
  readonly way: TwistWay;
  readonly points: readonly Twist[];
}

/** How the picture is laid: where a place along the span and an angle lie in it. */
interface Laid {
  /** mm along the span to the width. */
  readonly across: (y: number) => number;
  /** Degrees, nose up positive, to the height. */
  readonly down: (deg: number) => number;
  /** What the drawing asks of a station, degrees: nothing where the twist is shown against it. */
  readonly drawn: (station: string) => number;
  readonly low: number;
  readonly high: number;
}

/** The picture laid so that every reading with its doubt, and the drawing's own line, has room in it. */
function layTwist(bays: readonly Bay[], ways: readonly Read[], asItStands: boolean): Laid {
  const washout = new Map(bays.map((b) => [b.station.id, b.station.washout]));
  const drawn = (station: string): number => (asItStands ? (washout.get(station) ?? 0) : 0);
  const bars = ways.flatMap(({ points }) =>
    points.flatMap((p) => [-2, 2].map((k) => drawn(p.bay.station.id) + p.residual + k * uncertainty(p.chain))),
  );
  const line = bays.map((b) => drawn(b.station.id));
  const [low, high] = [Math.min(-0.12, ...bars, ...line), Math.max(0.12, ...bars, ...line)];
  const down = (deg: number): number => 12 + ((high - deg) / (high - low)) * (H - 40);
  return { across: acrossOf(bays, LEFT + 8, W - 16), down, drawn, low, high };
}

function Point({ way, x, y }: { way: TwistWay; x: number; y: number }) {
  if (way === 'heights') return <circle cx={x} cy={y} r="6" className="pt" />;
  if (way === 'level') return <rect x={x - 5.5} y={y - 5.5} width="11" height="11" className="pt" />;
  return <path d={`M${x} ${y - 7.5} L${x + 7.5} ${y} L${x} ${y + 7.5} L${x - 7.5} ${y} Z`} className="pt" />;
}

/** An angle beside the picture. */
function Degrees({ deg, laid }: { deg: number; laid: Laid }) {
  const model = useApp((s) => s.model);
  return (
    <text x={LEFT - 4} y={laid.down(deg) + 4} textAnchor="end" className="tiny">
      {show(model, deg, 'deg')}
    </text>
  );
}

type Band = NonNullable<Finding['limits']>['fits'];

/** The limits of a band that lie in the picture. */
const inPicture = (band: Band, { low, high }: Laid): number[] =>
  band.filter((v): v is number => v !== null && v > low && v < high);

/** How far the twist may go: inside it fits, outside it is to be put right. A number too near another is left out. */
function Limits({ limits, laid }: { limits: NonNullable<Finding['limits']>; laid: Laid }) {
  const acts = limits.act.filter((v) => v !== null);
  const isClear = (v: number): boolean => acts.every((a) => Math.abs(laid.down(a) - laid.down(v)) >= 12);
  const line = (v: number, look: { readonly stroke: string; readonly strokeDasharray?: string }) => (
    <line x1={LEFT} x2={W - 8} y1={laid.down(v)} y2={laid.down(v)} {...look} />
  );
  return (
    <>
      {inPicture(limits.fits, laid).map((v) => (
        <g key={`fits ${v}`}>
          {line(v, { stroke: 'var(--fits)' })}
          {isClear(v) && <Degrees deg={v} laid={laid} />}
        </g>
      ))}
      {inPicture(limits.act, laid).map((v) => (
        <g key={`act ${v}`}>
          {line(v, { stroke: 'var(--act)', strokeDasharray: '2 3' })}
          <Degrees deg={v} laid={laid} />
        </g>
      ))}
    </>
  );
}

interface ReadProps {
  readonly read: Read;
  readonly laid: Laid;
  readonly findings: readonly Finding[];
  /** Whether its points are joined. */
  readonly joined: boolean;
}

/** What one way read at each station, with its ± 2u. */
function Readings({ read: { way, points }, laid, findings, joined }: ReadProps) {
  const placeOf = ({ bay: { station }, residual }: Twist) => ({
    x: laid.across(station.y) + SHIFT[way],
    deg: laid.drawn(station.id) + residual,
  });
  return points.map((p, i) => {
    const { id } = p.bay.station;
    const finding = findings.find((f) => f.check === 'twist' && f.station === id && f.at.way === way);
    const { x, deg } = placeOf(p);
    const y = laid.down(deg);
    const u = 2 * uncertainty(p.chain);
    const following = joined ? points[i + 1] : undefined;
    const next = following && placeOf(following);
    return (
      <PickPoint key={id} station={id} finding={finding}>
        {next && <line x1={x} y1={y} x2={next.x} y2={laid.down(next.deg)} className="line thin" />}
        <line x1={x} x2={x} y1={laid.down(deg - u)} y2={laid.down(deg + u)} className="bar" />
        <Point way={way} x={x} y={y} />
        <PointMark verdict={finding?.verdict ?? 'fits'} x={x} y={y} />
      </PickPoint>
    );
  });
}

/** The twist that is left after packing. */
function Packed({ bays, after, laid }: { bays: readonly Bay[]; after: ReadonlyMap<string, number>; laid: Laid }) {
  const spots = bays.flatMap(({ station: { id, y } }) => {
    const deg = after.get(id);
    return deg === undefined ? [] : [{ id, x: laid.across(y), y: laid.down(deg) }];
  });
  return (
    <g className="packed">
      <path d={pathThrough(spots.map(({ x, y }) => [x, y] as const))} className="line" />
      {spots.map(({ id, x, y }) => (
        <circle key={id} cx={x} cy={y} r="5" className="after" />
      ))}
    </g>
  );
}

/** The stations' names, at most a dozen, the last among them. */
function Names({ bays, laid }: { bays: readonly Bay[]; laid: Laid }) {
  const each = Math.ceil(bays.length / 12);
  const named = bays.filter((_, i) => i % each === 0 || i === bays.length - 1);
  return named.map(({ station: { id, y } }) => (
    <text key={id} x={laid.across(y)} y={H - 3} textAnchor="middle" className="tiny">
      {id}
    </text>
  ));
}

/** What the picture shows, by which points. */
function captionOf(ways: readonly Read[], asItStands: boolean, packed: boolean): string {
  const what = asItStands
    ? 'Twist as it stands, degrees, nose up above; the line is the drawing’s washout'
    : 'Twist against the drawing’s washout, degrees, nose up above the line';
  const points = ways.map(({ way }) => `${POINT[way]} ${WORD[way]}`).join(', ');
  const rings = packed ? '; rings after packing' : '';
  return `${what}; bars ± 2u. ${points.charAt(0).toUpperCase()}${points.slice(1)}${rings}.`;
}

/** Which of the two the picture shows. */
function Choice({ raw, onRaw }: { raw: boolean; onRaw: (raw: boolean) => void }) {
  return (
    <fieldset className="pair" aria-label="Twist shown">
      <button type="button" aria-pressed={!raw} onClick={() => onRaw(false)}>
        against the washout
      </button>
      <button type="button" aria-pressed={raw} onClick={() => onRaw(true)}>
        as it stands
      </button>
    </fieldset>
  );
}

interface Props {
  readonly findings: readonly Finding[];
  /** The twist left after packing by station, degrees. */
  readonly after?: ReadonlyMap<string, number>;
}

/**
 * Twist along the span with its ± 2u, by every way it was read: against the drawing's washout, which is then the
 * level line, or as it stands with the washout line drawn; and, where packs are chosen, before and after packing.
 */
export function TwistPicture({ findings, after }: Props) {
  const model = useApp((s) => s.model);
  const [raw, setRaw] = useState(false);
  const skeleton = skeletonOf(model);
  const { bays } = skeleton;
  const ways = TWIST_WAYS.map((way) => ({ way, points: twistsOf(skeleton, way) })).filter((w) => w.points.length > 0);
  if (ways.length === 0) return null;
  const washed = bays.some((b) => b.station.washout !== 0);
  const asItStands = raw && washed;
  const laid = layTwist(bays, ways, asItStands);
  const limits = findings.find((f) => f.check === 'twist')?.limits;
  const packed = asItStands ? undefined : after;
  const shapes = ways.flatMap(({ way, points }) => shapeOf(skeleton, points, way) ?? []);
  const line = bays.map(({ station }) => [laid.across(station.y), laid.down(laid.drawn(station.id))] as const);
  return (
    <figure>
      <figcaption>{captionOf(ways, asItStands, packed !== undefined)}</figcaption>
      {washed && <Choice raw={raw} onRaw={setRaw} />}
      <svg
        className="picture"
        viewBox={`0 0 ${W} ${H}`}
        role="img"
        aria-label={`Twist along the span. ${shapes.map((s) => s.sentence).join(' ')}`}
      >
        <path d={pathThrough(line)} className={asItStands ? 'line' : 'line thin'} />
        {asItStands && [laid.low, laid.high].map((deg) => <Degrees key={deg} deg={deg} laid={laid} />)}
        {!asItStands && limits && <Limits limits={limits} laid={laid} />}
        {ways.map((read, i) => (
          <Readings key={read.way} read={read} laid={laid} findings={findings} joined={i === 0} />
        ))}
        {packed && <Packed bays={bays} after={packed} laid={laid} />}
        <Names bays={bays} laid={laid} />
      </svg>
      {shapes.map((s) => (
        <p key={s.sentence} className={s.kind === 'true' ? 'small' : 'shape-words'}>
          {s.sentence}
        </p>
      ))}
    </figure>
  );
}
