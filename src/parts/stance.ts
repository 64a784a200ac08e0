import { best } from '../chains/chain.ts';
import { alongAt } from '../model/along.ts';
import type { SparName } from '../model/schema.ts';
import type { SparRing } from './spar.ts';
import { type Bay, departure, type Skeleton, sparOf } from './skeleton.ts';

/*
 * Where the spars stand at each station, in measured size and place: what every other part is set against.
 *
 * A station's section has its own axes: x aft from where the drawing puts the front web's forward face, z up from the
 * front spar's mid height; the section as a whole is turned nose up by `pitch` and lifted by `z`. Ribs, rear spar and
 * doublers of the station turn with it, so a twisted panel is still square in each section.
 */

/** The one number drawn for a size: the drawing's, with its deviation enlarged; a size no drawing gives counts from nothing. */
export type Drawn = (key: string) => number | undefined;

/** `drawing + magnify × (best − drawing)`: a depth of 85.9 drawn 86.0 shows as 85.0 at ×10; one that is as drawn stays. */
export function drawnSizes(skeleton: Skeleton, magnify: number): Drawn {
  return (key) => {
    const size = skeleton.book.find(key);
    if (size === undefined) return undefined;
    const drawing = skeleton.book.nominal(key) ?? 0;
    return drawing + magnify * (size.best - drawing);
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

/** Twist by heights (C11) less drawing washout, degrees: the part that is a deviation. Undefined where a height was not read. */
function foundTwist({ book, model }: Skeleton, { station }: Bay): number | undefined {
  const read = (key: string) => book.find(`${key}@${station.id}`)?.best;
  const [front, rear] = [read('height.front'), read('height.rear')];
  if (front === undefined || rear === undefined) return undefined;
  const rise = front + (read('bench.front') ?? 0) - rear - (read('bench.rear') ?? 0) + alongAt(model.survey.rearHigher, station.y);
  return rise / book.get(`webs@${station.id}`).best / RADIANS - station.washout;
}

/** Height of the front spar over the straight line through its end stations, from the bench heights; 0 where not read. */
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
  const reference = bays.find((b) => b.station.id === model.survey.reference);
  const zero = (reference && foundTwist(skeleton, reference)) ?? 0;
  return bays.map((bay) => {
    const bow = (name: SparName) => magnify * best(departure(skeleton, name, 'bow', bay));
    const camber = (name: SparName) => magnify * best(departure(skeleton, name, 'camber', bay));
    const webs = drawn(`webs@${bay.station.id}`) ?? 0;
    const twist = foundTwist(skeleton, bay);
    const [cf, cr] = [camber('front'), model.spars.rear ? camber('rear') : 0];
    const byCamber = webs > 0 ? (cf - cr) / webs : 0;
    const pitch = bay.station.washout * RADIANS + (twist === undefined ? byCamber : magnify * (twist - zero) * RADIANS);
    return {
      bay, pitch,
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

/**
 * The rings of a spar from `from` to `to`: its two ends and every station between. Beyond the outermost stations the
 * drawing's taper goes on and the last station's deviations stay.
 */
export function sparRings(skeleton: Skeleton, name: SparName, stances: readonly Stance[], options: { magnify: number; from: number; to: number }): SparRing[] {
  const { from, to, magnify } = options;
  const spar = sparOf(skeleton, name);
  const drawn = drawnSizes(skeleton, magnify);
  const least = 2 * (spar.radius + 6.5) + 1;
  const ring = (y: number, stance: Stance): SparRing => {
    const { id, y: own } = stance.bay.station;
    const also = (along: typeof spar.depth, key: string) => alongAt(along, y) + (drawn(`${name}.${key}@${id}`) ?? alongAt(along, own)) - alongAt(along, own);
    const x = name === 'front' ? stance.front : stance.rear + alongAt(skeleton.model.webToWeb, y) - alongAt(skeleton.model.webToWeb, own);
    const at = inWing(stance, x, 0);
    return { y, x: at.x, z: at.z, pitch: stance.pitch, depth: Math.max(also(spar.depth, 'depth'), least), capWidth: Math.max(also(spar.capWidth, 'cap'), least / 2) };
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
    return mixed(ring(p.bay.station.y, p), ring(q.bay.station.y, q), y);
  };
  return [end(from), ...rings, end(to)];
}

function mixed(a: SparRing, b: SparRing, y: number): SparRing {
  const s = (y - a.y) / (b.y - a.y);
  const mix = (p: number, q: number) => p + (q - p) * s;
  return { y, x: mix(a.x, b.x), z: mix(a.z, b.z), pitch: mix(a.pitch ?? 0, b.pitch ?? 0), depth: mix(a.depth, b.depth), capWidth: mix(a.capWidth, b.capWidth) };
}
