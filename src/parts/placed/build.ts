import { type Frame, frameFrom, wingPoint } from '../../geometry/frame.ts';
import { type Solid, sectionFrame } from '../../geometry/solids.ts';
import { add, cross, scale, subtract, unit, type Vec3 } from '../../geometry/vector.ts';
import { alongAt } from '../../model/along.ts';
import { flangesPoint, outboardAt } from '../../model/hand.ts';
import { sheetOfMetal } from '../../model/metal.ts';
import type { Doubler, Joint, Model, Rib, RibEnd, SparName } from '../../model/schema.ts';
import type { EndName, RibPlace, Skeleton } from '../layout/layout.ts';
import type { HoleShape } from '../shapes/drilled.ts';
import type { EndShape } from '../shapes/mainRib.ts';
import { setback } from '../shapes/pressed.ts';
import { type SparFaces, stoodAt } from './attitude.ts';
import { bendRadius, type DrawnSize, inWing, type Stance, stripsAt } from './stance.ts';

/*
 * All that is known while a skeleton is put together in solids, and what every kind of part asks of it: sheets, which
 * way flanges turn, where a rib end stands, its shape. Wing frame, mm; deviations enlarged as `drawn` has them.
 */

export type PartKind = 'spar' | 'main' | 'nose' | 'tip' | 'doubler' | 'strip' | 'bracket' | 'skin' | 'rivet';

export interface PlacedSolid {
  /** Part id, or 'front' and 'rear' for the spars. */
  readonly id: string;
  readonly kind: PartKind;
  /** What is written beside it. */
  readonly mark: string;
  readonly station?: string;
  /** Where a piece that comes with a spar lies on it: inside a cap, or on its web. */
  readonly on?: { readonly spar: SparName; readonly cap?: 'top' | 'bottom' } | undefined;
  /** What it is cut from; none for a rivet. */
  readonly sheet?: string;
  readonly solid: Solid;
}

/** A hole of one layer of a joint: where it is in its station's section, and how large. */
export interface LayerHole {
  readonly stance: Stance;
  readonly end: EndName;
  /** Along the span from the station's web face, and up from the chord line. */
  readonly y: number;
  readonly z: number;
  readonly diameter: number;
  /**
   * For a hole of a row in a cap: where the cap's outside is, in the section, and how far the hole is cut each way
   * from there.
   */
  readonly cap?: { readonly x: number; readonly z: number; readonly reach: number };
}

export interface Build {
  readonly skeleton: Skeleton;
  readonly model: Model;
  readonly drawn: DrawnSize;
  readonly magnify: number;
  readonly stances: readonly Stance[];
  readonly byStation: ReadonlyMap<string, Stance>;
  readonly spars: Readonly<Partial<Record<SparName, SparFaces>>>;
  readonly holes: ReadonlyMap<string, readonly LayerHole[]>;
}

export const sheetOf = ({ drawn }: Pick<Build, 'drawn'>, sheet: string): number =>
  Math.max(drawn(`sheet.${sheet}`) ?? 1, 0.05);
export const turnsOf = (b: Build, rib: Rib, y: number): 1 | -1 => flangesPoint(b.model, rib, y);
export const hasWeb = (d: Doubler): boolean => d.form === 'channel' || d.on === 'web';

/**
 * Which way the metal of a rib goes from the web it meets: aft of the front web, forward of the rear web and at a
 * tail.
 */
export const sideOf = (end: EndName): 1 | -1 => (end === 'front' ? 1 : -1);

/**
 * The face of a spar's web, or of a doubler on it, that a rib end stands against before any packer, in the section's
 * x.
 */
export function webFace(b: Build, stance: Stance, end: EndName): number {
  const name: SparName = end === 'rear' ? 'rear' : 'front';
  const spar = b.model.spars[name];
  if (end === 'tail' || spar === undefined) return stance.front;
  const plates = spar.webDoublers
    .filter((d) => stance.bay.station.y >= d.from && stance.bay.station.y <= d.to)
    .reduce((sum, d) => sum + sheetOf(b, d.sheet), 0);
  return end === 'rear' ? stance.rear - plates : stance.front + sheetOf(b, spar.sheet) + plates;
}

export const packed = (b: Build, rib: Rib, end: EndName): number =>
  b.skeleton
    .doublersAt(rib.id, end)
    .filter(hasWeb)
    .reduce((sum, d) => sum + sheetOf(b, d.sheet), 0);

export const lengthOf = (b: Pick<Build, 'drawn'>, rib: Rib): number =>
  Math.max(b.drawn(`${rib.id}.length`) ?? rib.length, 10);

/**
 * The x a rib's own zero stands at: a main rib's front face, a nose rib's tail face, where a tip rib passes the front
 * web.
 */
export function standsAt(b: Build, stance: Stance, rib: Rib): number {
  if (rib.kind === 'nose') return webFace(b, stance, 'tail') - packed(b, rib, 'tail');
  if (rib.kind === 'tip') return stance.front;
  if (b.model.stand === 'rear' && b.model.spars.rear)
    return webFace(b, stance, 'rear') - packed(b, rib, 'rear') - lengthOf(b, rib);
  return webFace(b, stance, 'front') + packed(b, rib, 'front');
}

/** Where a tip rib's rear face stands, from the front web's forward face. */
export function tipBack(b: Build, stance: Stance, rib: Rib & { kind: 'tip' }): number {
  if (rib.registered === 'front' && rib.clip)
    return lengthOf(b, rib) - rib.clip.forward - (b.drawn(`${rib.id}.clip`) ?? rib.clip.noseToHole);
  return webFace(b, stance, 'rear') - packed(b, rib, 'rear') - stance.front;
}

/** A hole square through a web, or through a cap, in the wing frame: `x` is where a web's metal is, in the section. */
export function holeInWing(hole: LayerHole, x: number, reach: number): HoleShape {
  const { stance, y, z, diameter, cap } = hole;
  if (cap) {
    const on = inWing(stance, cap.x, cap.z);
    return {
      at: [on.x, stance.bay.station.y + y, on.z],
      axis: [Math.sin(stance.pitch), 0, Math.cos(stance.pitch)],
      diameter,
      reach: cap.reach,
    };
  }
  const at = inWing(stance, x, z);
  return {
    at: [at.x, stance.bay.station.y + y, at.z],
    axis: [Math.cos(stance.pitch), 0, -Math.sin(stance.pitch)],
    diameter,
    reach,
  };
}

/** The same hole in a part's own axes, whatever they are. */
export function holesIn(frame: Frame, holes: readonly HoleShape[]): HoleShape[] {
  const [x, y, z] = frame.axes;
  const own = (d: Vec3): Vec3 => [
    d[0] * x[0] + d[1] * x[1] + d[2] * x[2],
    d[0] * y[0] + d[1] * y[1] + d[2] * y[2],
    d[0] * z[0] + d[1] * z[1] + d[2] * z[2],
  ];
  return holes.map((h) => ({ ...h, at: own(subtract(h.at, frame.origin)), axis: own(h.axis) }));
}

export function endShape(b: Build, rib: Rib, end: EndName, spec: RibEnd): EndShape {
  const name = sparAt(end);
  const spar = b.model.spars[name];
  const of = (what: string, drawing: number) => b.drawn(`${rib.id}.${end}.${what}`) ?? drawing;
  const nests = spec.ends === 'nests' && spar !== undefined;
  const y = b.byStation.get(rib.station)?.bay.station.y ?? 0;
  const capWidth = spar ? Math.max(alongAt(spar.capWidth, y), b.drawn(`${name}.cap@${rib.station}`) ?? 0) : 0;
  const cap = spar ? capWidth - sheetOf(b, spar.sheet) - packed(b, rib, end) : 0;
  const bends = b.skeleton
    .doublersAt(rib.id, end)
    .map((d) => (d.form === 'channel' ? (b.drawn(`${d.id}.radius`) ?? d.radius ?? 0) : 0));
  const corner = nests ? Math.max(bendRadius(b.skeleton, name, b.drawn), ...bends) : 0;
  const thickness = sheetOf(b, rib.sheet);
  return {
    // Never so low, however enlarged, that its bends meet.
    height: Math.max(of('height', spec.height), 2 * setback(corner, thickness, rib.radius) + 4),
    joggle: of('joggle', spec.joggle),
    flat: nests ? Math.max(cap + 2, 0) : 0,
    tab: Math.max(of('tab', spec.tab), rib.radius + thickness + 1),
    corner,
    ...(spec.relief ? { relief: { diameter: spec.relief.diameter, fromEnd: of('relief', spec.relief.fromEnd) } } : {}),
  };
}

/** The rib end a joint's row is laid out from: the first of its layers that is one. */
export const placeOf = ({ skeleton }: Build, joint: Joint): RibPlace | undefined =>
  skeleton
    .placesAt(joint.station)
    .find((p) => (joint.end === 'rear') === (p.spar === 'rear') && joint.layers.includes(p.rib.id));

/** The spar that an end of a rib meets. */
export const sparAt = (end: EndName): SparName => (end === 'rear' ? 'rear' : 'front');

/**
 * What lies inside the top cap less what lies inside the bottom one, halved: how far the room's middle is below the
 * spar's.
 */
function roomMid(b: Build, place: RibPlace): number {
  if (place.spec.ends !== 'nests') return 0;
  const strips = stripsAt(b.skeleton, place.spar, place.bay.station.y, b.drawn);
  return (strips.bottom - strips.top) / 2;
}

/**
 * How far a rib end is held above the spar's mid height: as read, else so that it has the same daylight over and
 * under it.
 */
function liftOf(b: Build, place: RibPlace): number {
  const on = (cap: 'top' | 'bottom') =>
    place.spec.ends === 'nests'
      ? place.doublers.filter((d) => d.form === 'flat' && d.on === cap).reduce((sum, d) => sum + sheetOf(b, d.sheet), 0)
      : 0;
  return roomMid(b, place) + (b.drawn(`${place.key}.bias`) ?? (on('bottom') - on('top')) / 2);
}

/**
 * Where a rib stands and how a main or tip rib leans: lean is top against bottom, skew rear against front, mm,
 * outboard positive.
 */
export function ribFrame(b: Build, stance: Stance, rib: Rib): Frame {
  const { id, y } = stance.bay.station;
  const x = standsAt(b, stance, rib);
  const ends = b.skeleton.placesAt(id).filter((p) => p.rib === rib);
  const lift = (p: RibPlace | undefined) => (p ? liftOf(b, p) : 0);
  const rear = ends.find((p) => p.end === 'rear');
  const lifted = lift(ends.find((p) => p.end !== 'rear') ?? rear);
  const tilt = rear && rib.kind === 'main' ? (lifted - lift(rear)) / lengthOf(b, rib) : 0;
  const at = inWing(stance, x, lifted);
  const upright = sectionFrame([at.x, y, at.z], stance.pitch + tilt);
  const height =
    b.skeleton.book.readingsOf(`lean@${id}`).at(-1)?.over ?? Math.max(...ends.map((p) => p.spec.height), 1);
  const read = (what: 'lean' | 'skew') =>
    rib.kind === 'nose' ? 0 : (b.drawn(`${what}@${id}`) ?? 0) * outboardAt(b.model, y);
  const lean = read('lean') / height;
  const skew = read('skew') / Math.max(stance.rear - stance.front, 1);
  if (lean === 0 && skew === 0 && tilt === 0) return upright;
  const [ax, ay, az] = upright.axes;
  const x1 = unit(add(ax, scale(ay, skew)));
  const y1 = cross(unit(add(az, scale(ay, lean))), x1);
  const frame = frameFrom(wingPoint(at.x, y, at.z), x1, y1);
  const web = b.spars.rear;
  if (rib.kind !== 'main' || b.model.stand !== 'rear' || web === undefined) return frame;
  // A rib that stands askew against the rear web touches it where its rear end is, not where its station is.
  const face = webFace(b, stance, 'rear') - packed(b, rib, 'rear') - stance.rear;
  return stoodAt(web, { frame, turns: turnsOf(b, rib, y) }, lengthOf(b, rib), face);
}

export function sheetOfPart(model: Model, part: string): string {
  return (
    [...model.ribs, ...model.doublers, ...model.brackets].find((p) => p.id === part)?.sheet ??
    sheetOfMetal(model, part) ??
    ''
  );
}
