import { best } from '../../chains/chain.ts';
import { alongAt } from '../../model/along.ts';
import { UPRIGHT } from '../../model/quantities.ts';
import type { SparName } from '../../model/schema.ts';
import { NEAR } from '../../units/near.ts';
import type { Bay, Skeleton } from '../layout/layout.ts';
import { clearHeight, departure, sparOf } from '../layout/meeting.ts';
import { mixedRing, ringAt, type SparRing } from '../shapes/spar.ts';

/*
 * Where the spars stand at each station, in measured size and place: what every other part is set against.
 *
 * A station's section has its own axes: x aft from where the drawing puts the front web's forward face, z up from the
 * front spar's mid height; the section as a whole is turned nose up by `pitch` and lifted by `z`. Ribs, rear spar and
 * doublers of the station turn with it, so a twisted panel is still square in each section.
 */

/**
 * The one number drawn for a size: the drawing's, with its deviation enlarged; a size no drawing gives counts from
 * nothing.
 */
export type DrawnSize = (key: string) => number | undefined;

/**
 * `drawing + magnify × (best − drawing)`: a depth of 85.9 drawn 86.0 shows as 85.0 at ×10; one that is as drawn
 * stays. A sheet is enlarged to three times its drawing at most: at ×50 a third of a millimetre would leave a channel
 * no flat beside its bends.
 */
export function drawnSizes(skeleton: Skeleton, magnify: number): DrawnSize {
  return (key) => {
    const size = skeleton.book.find(key);
    if (size === undefined) return undefined;
    const drawing = skeleton.book.nominal(key) ?? 0;
    const off = size.best - drawing;
    const thicker = off > 0 && skeleton.book.entryOf(key)?.kind === 'thickness';
    return drawing + (thicker ? Math.max(off, Math.min(magnify * off, 2 * drawing)) : magnify * off);
  };
}

export interface Stance {
  readonly bay: Bay;
  /** Of the section, radians, nose up positive. */
  readonly pitch: number;
  readonly z: number;
  /** Forward face of each web in the section's axes. */
  readonly front: number;
  readonly rear: number;
}

const RADIANS = Math.PI / 180;

/** Twist (C11) less drawing washout, degrees: the part that is a deviation. Undefined where it was not read. */
type FoundTwist = (bay: Bay) => number | undefined;

function byHeights({ book, model }: Skeleton): FoundTwist {
  return ({ station }) => {
    const read = (key: string) => book.find(`${key}@${station.id}`)?.best;
    const [front, rear] = [read('height.front'), read('height.rear')];
    if (front === undefined || rear === undefined) return undefined;
    const rise =
      front +
      (read('bench.front') ?? 0) -
      rear -
      (read('bench.rear') ?? 0) +
      alongAt(model.survey.rearHigher, station.y);
    return rise / book.get(`webs@${station.id}`).best / RADIANS - station.washout;
  };
}

const byLevel =
  ({ book }: Skeleton): FoundTwist =>
  ({ station }) => {
    const read = book.find(`level@${station.id}`)?.best;
    return read === undefined ? undefined : read - station.washout;
  };

const byPlumb =
  ({ book }: Skeleton): FoundTwist =>
  ({ station }) => {
    const read = book.find(`plumb@${station.id}`)?.best;
    return read === undefined
      ? undefined
      : read / (book.readingsOf(`plumb@${station.id}`).at(-1)?.over ?? UPRIGHT) / RADIANS - station.washout;
  };

/**
 * Station by station by heights, else by the level, else by the plumb line, each less the reference station's own by
 * the same way; a way by which the reference was not read tells no station's twist.
 */
function foundTwist(skeleton: Skeleton): FoundTwist {
  const reference = skeleton.bays.find((b) => b.station.id === skeleton.model.survey.reference);
  const ways = [byHeights, byLevel, byPlumb].flatMap((way) => {
    const found = way(skeleton);
    const zero = reference ? found(reference) : 0;
    if (zero === undefined) return [];
    return (bay: Bay): number | undefined => {
      const twist = found(bay);
      return twist === undefined ? undefined : twist - zero;
    };
  });
  return (bay) => ways.reduce<number | undefined>((twist, way) => twist ?? way(bay), undefined);
}

/**
 * Height of the front spar over the straight line through its end stations, from the bench heights; 0 where not read.
 */
function sag({ book, bays }: Skeleton, bay: Bay): number {
  const height = (b: Bay | undefined) => {
    const read = b && book.find(`height.front@${b.station.id}`)?.best;
    return b && read !== undefined ? read + (book.find(`bench.front@${b.station.id}`)?.best ?? 0) : undefined;
  };
  const [here, first, last] = [height(bay), height(bays[0]), height(bays[bays.length - 1])];
  const [a, b] = [bays[0]?.station.y ?? 0, bays[bays.length - 1]?.station.y ?? 0];
  if (here === undefined || first === undefined || last === undefined || a === b) return 0;
  return here - first - ((last - first) * (bay.station.y - a)) / (b - a);
}

export function stancesOf(skeleton: Skeleton, magnify: number): Stance[] {
  const { model, bays } = skeleton;
  const drawn = drawnSizes(skeleton, magnify);
  const twistAt = foundTwist(skeleton);
  return bays.map((bay) => {
    const bow = (name: SparName) => magnify * best(departure(skeleton, name, 'bow', bay));
    const camber = (name: SparName) => magnify * best(departure(skeleton, name, 'camber', bay));
    const webs = drawn(`webs@${bay.station.id}`) ?? 0;
    const twist = twistAt(bay);
    const [cf, cr] = [camber('front'), model.spars.rear ? camber('rear') : 0];
    const byCamber = webs > 0 ? (cf - cr) / webs : 0;
    const pitch = bay.station.washout * RADIANS + (twist === undefined ? byCamber : magnify * twist * RADIANS);
    return {
      bay,
      pitch,
      z: cf !== 0 ? cf : magnify * sag(skeleton, bay),
      front: -bow('front'),
      rear: webs + (model.spars.rear ? bow('rear') : 0),
    };
  });
}

/** The section's point (x, z) in the wing frame. */
export function inWing({ pitch, z: lift }: Stance, x: number, z: number): { x: number; z: number } {
  const [c, s] = [Math.cos(pitch), Math.sin(pitch)];
  return { x: x * c + z * s, z: lift - x * s + z * c };
}

/** A spar's inside bend radius, as drawn. */
export const bendRadius = (skeleton: Skeleton, name: SparName, drawn: DrawnSize): number =>
  Math.max(drawn(`${name}.radius`) ?? sparOf(skeleton, name).radius, 0);

/** Sheets lying inside the caps at a station, as drawn: on top, below. */
export function stripsAt(
  skeleton: Skeleton,
  name: SparName,
  y: number,
  drawn: DrawnSize,
): { readonly top: number; readonly bottom: number } {
  const here = sparOf(skeleton, name).strips.filter((s) => y >= s.from && y <= s.to);
  const on = (cap: 'top' | 'bottom') =>
    here
      .filter((s) => s.caps === 'both' || s.caps === cap)
      .reduce((sum, s) => sum + (drawn(`sheet.${s.sheet}`) ?? 0), 0);
  return { top: on('top'), bottom: on('bottom') };
}

/**
 * Depth over the caps and height between them at a station, as drawn. The height between is the chain's own: the
 * clear height as read, with the strips put back, else depth less two sheets. Where the clear height was read and the
 * depth was not, the depth gives way; where both were, the caps take up the difference, within half a sheet.
 */
function heightsAt(
  skeleton: Skeleton,
  name: SparName,
  { bay: { station } }: Stance,
  magnify: number,
): { depth: number; inside: number } {
  const { book } = skeleton;
  const drawn = drawnSizes(skeleton, magnify);
  const sheet = Math.max(drawn(`sheet.${sparOf(skeleton, name).sheet}`) ?? 0, 0.05);
  const depth = drawn(`${name}.depth@${station.id}`) ?? 0;
  if (book.readingsOf(`${name}.clear@${station.id}`).length === 0) return { depth, inside: depth - 2 * sheet };
  const strips = stripsAt(skeleton, name, station.y, drawn);
  const onDrawing = stripsAt(skeleton, name, station.y, (key) => book.nominal(key));
  const drawing =
    (book.nominal(`${name}.depth@${station.id}`) ?? 0) -
    2 * (book.nominal(`sheet.${sparOf(skeleton, name).sheet}`) ?? 0) -
    onDrawing.top -
    onDrawing.bottom;
  const clear = drawing + magnify * (best(clearHeight(skeleton, name, station)) - drawing);
  const inside = clear + strips.top + strips.bottom;
  if (book.readingsOf(`${name}.depth@${station.id}`).length === 0) return { depth: inside + 2 * sheet, inside };
  const cap = Math.min(Math.max((depth - inside) / 2, sheet / 2), 1.5 * sheet);
  return { depth: inside + 2 * cap, inside };
}

/**
 * The rings of a spar from `from` to `to`: its two ends and every station between. Beyond the outermost stations the
 * drawing's taper goes on and the last station's deviations stay. In a twisted spar, or one whose caps close or gape,
 * `seat` puts rings that far each side of every station, so that what stands there has the surfaces of its own station.
 */
export function sparRings(
  skeleton: Skeleton,
  name: SparName,
  stances: readonly Stance[],
  options: { magnify: number; from: number; to: number; seat?: (stance: Stance) => number },
): SparRing[] {
  const { from, to, magnify, seat } = options;
  const spar = sparOf(skeleton, name);
  const drawn = drawnSizes(skeleton, magnify);
  const least = 2 * (bendRadius(skeleton, name, drawn) + 6.5) + 1;
  const heights = new Map(stances.map((s) => [s.bay.station.id, heightsAt(skeleton, name, s, magnify)]));
  const ring = (y: number, stance: Stance): SparRing => {
    const { id, y: own } = stance.bay.station;
    const also = (along: typeof spar.depth, key: string) =>
      alongAt(along, y) + (drawn(`${name}.${key}@${id}`) ?? alongAt(along, own)) - alongAt(along, own);
    const x =
      name === 'front'
        ? stance.front
        : stance.rear + alongAt(skeleton.model.webToWeb, y) - alongAt(skeleton.model.webToWeb, own);
    const at = inWing(stance, x, 0);
    const taper = alongAt(spar.depth, y) - alongAt(spar.depth, own);
    const tall = heights.get(id) ?? { depth: least, inside: least };
    const depth = Math.max(tall.depth + taper, least);
    const droop = drawn(`${name}.droop@${id}`) ?? 0;
    return {
      y,
      x: at.x,
      z: at.z,
      pitch: stance.pitch,
      depth,
      inside: tall.inside + taper + depth - (tall.depth + taper),
      capWidth: Math.max(also(spar.capWidth, 'cap'), least / 2),
      ...(droop === 0 ? {} : { droop }),
    };
  };
  const first = stances[0];
  const last = stances[stances.length - 1];
  if (first === undefined || last === undefined) return [];
  const inside = stances.filter((s) => s.bay.station.y > from && s.bay.station.y < to);
  const rings = inside.map((s) => ring(s.bay.station.y, s));
  const end = (y: number): SparRing => {
    const { y: a } = first.bay.station;
    const { y: b } = last.bay.station;
    if (y <= a) return ring(y, first);
    if (y >= b) return ring(y, last);
    const after = stances.findIndex((s) => s.bay.station.y >= y);
    const [p, q] = [stances[after - 1] ?? first, stances[after] ?? last];
    const [here, there] = [ring(p.bay.station.y, p), ring(q.bay.station.y, q)];
    return mixedRing(here, there, (y - here.y) / (there.y - here.y), y);
  };
  const whole = [end(from), ...rings, end(to)];
  const droopOf = ({ bay }: Stance) => drawn(`${name}.droop@${bay.station.id}`) ?? 0;
  return seat ? seated(whole, stances, seat, droopOf) : whole;
}

/**
 * Most from one ring of a seat to the next, mm, and least; between them so that a facet of a twisted spar stands off
 * the true warp by half a thousandth.
 */
const STEP = [2, 20] as const;
const OFF = 0.0005;
/** Height of a facet of a web, about, mm. */
const FACET = 16;

/** Rings with more each side of every station, `seat` away or as far as the neighbours allow. */
function seated(
  rings: readonly SparRing[],
  stances: readonly Stance[],
  seat: (stance: Stance) => number,
  droopOf: (stance: Stance) => number,
): SparRing[] {
  const [first, last] = [rings[0], rings[rings.length - 1]];
  if (first === undefined || last === undefined) return [];
  if (rings.every((r) => r.pitch === first.pitch && !r.droop)) return [...rings];
  const more = stances.flatMap((stance, i) => {
    const { y } = stance.bay.station;
    const droop = droopOf(stance);
    return ([-1, 1] as const).flatMap((way): SparRing[] => {
      const next = stances[i + way]?.bay.station.y ?? y + way * 1e6;
      const reach = Math.min(seat(stance), 0.45 * Math.abs(next - y));
      const turn = Math.abs((ringAt(rings, y + way * reach).pitch ?? 0) - (ringAt(rings, y).pitch ?? 0)) / reach;
      const steps = Math.ceil(reach / Math.min(Math.max((4 * OFF) / (FACET * turn || NEAR), STEP[0]), STEP[1]));
      return Array.from({ length: steps }, (_, k) => y + (way * reach * (k + 1)) / steps)
        .filter((here) => here > first.y && here < last.y && rings.every((r) => Math.abs(r.y - here) > 1e-6))
        .map((here) => ({ ...ringAt(rings, here), droop }));
    });
  });
  // A spar that ends on a tip rib's web has that station's droop there.
  const own = rings.map((ring) => {
    const near =
      ring === first || ring === last ? stances.find((s) => Math.abs(s.bay.station.y - ring.y) < seat(s)) : undefined;
    return near ? { ...ring, droop: droopOf(near) } : ring;
  });
  return [...own, ...more].sort((p, q) => p.y - q.y);
}
