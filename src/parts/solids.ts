import { type Frame, frameFrom, toPart, wingPoint } from '../geometry/frame.ts';
import { placed, sectionFrame, type Solid } from '../geometry/solids.ts';
import { add, cross, scale, subtract, unit, type Vec2, type Vec3 } from '../geometry/vector.ts';
import { alongAt } from '../model/along.ts';
import type { Doubler, Joint, Model, Rib, RibEnd, SparName } from '../model/schema.ts';
import { bracketSolid } from './bracket.ts';
import { type DoublerLie, type DoublerShape, doublerSolid } from './doubler.ts';
import type { HoleShape } from './drilled.ts';
import { capSlant, restingAt, ribInSection, type SparFaces, type StandingRib, stoodAt, webLie } from './lie.ts';
import { type EndShape, type MainRibShape, mainRibSolid } from './mainRib.ts';
import { noseOutline } from './noseOutline.ts';
import { noseRibSolid } from './noseRib.ts';
import { setback, type Slant, type WebHole } from './pressed.ts';
import { rivetSolid } from './rivet.ts';
import { type EndName, type RibPlace, type Skeleton, sparOf } from './skeleton.ts';
import { skinSolid } from './skin.ts';
import { insideOf, onRing, ringAt, type SparRing, type SparShape, sparSolid, stripSolid, webDoublerSolid } from './spar.ts';
import { bendRadius, type Drawn, drawnSizes, inWing, sparRings, type Stance, stancesOf, stripsAt } from './stance.ts';
import { tipRibSolid } from './tipRib.ts';

/*
 * The whole skeleton as solids in measured size and measured place, every deviation enlarged by `magnify` (1 draws it true).
 *
 * Wing frame, mm. Ribs stand as the panel file's `stand` says: against the rear web, against the front web, or clamped, when
 * the rear spar comes to the rib. What is not known is drawn as on the drawing; what no drawing gives (bow, twist, lean) as
 * none. Assumed, where the file is silent: flanges are cut back clear of the spar's inside radius; joggles stay down as far
 * as the cap reaches and 2 mm more; a doubler is centred on the tab; a channel doubler fits its rib end exactly; a rib
 * stands in the middle of the room between the caps unless read otherwise. Tabs, flanges and thin pieces follow the web and
 * caps they lie on (`lie.ts`); a bracket is stiff and rests on the web's high spots.
 */

export type PartKind = 'spar' | 'main' | 'nose' | 'tip' | 'doubler' | 'strip' | 'bracket' | 'skin' | 'rivet';

export interface PlacedSolid {
  /** Part id, or 'front' and 'rear' for the spars. */
  readonly id: string;
  readonly kind: PartKind;
  /** What is written beside it. */
  readonly mark: string;
  readonly station?: string;
  readonly solid: Solid;
}

export interface SolidOptions {
  readonly magnify: number;
  readonly skin?: boolean;
  /** Rivets where every layer of a hole is at its final size. */
  readonly rivets?: boolean;
}

const made = new WeakMap<Skeleton, Map<string, readonly PlacedSolid[]>>();

/** Every part of the skeleton. The same skeleton and options give the same objects, so a kernel's memory of them holds. */
export function solidsOf(skeleton: Skeleton, options: SolidOptions): readonly PlacedSolid[] {
  const key = `${options.magnify} ${options.skin ?? false} ${options.rivets ?? false}`;
  const byKey = made.get(skeleton) ?? new Map<string, readonly PlacedSolid[]>();
  made.set(skeleton, byKey);
  let parts = byKey.get(key);
  if (parts === undefined) {
    parts = assemble(skeleton, options);
    byKey.set(key, parts);
  }
  return parts;
}

/** A hole of one layer of a joint: where it is in its station's section, and how large. */
interface LayerHole {
  readonly stance: Stance;
  readonly end: EndName;
  /** Along the span from the station's web face, and up from the chord line. */
  readonly y: number;
  readonly z: number;
  readonly diameter: number;
}

interface Build {
  readonly skeleton: Skeleton;
  readonly model: Model;
  readonly drawn: Drawn;
  readonly magnify: number;
  readonly stances: readonly Stance[];
  readonly byStation: ReadonlyMap<string, Stance>;
  readonly spars: Readonly<Partial<Record<SparName, SparFaces>>>;
  readonly outward: (y: number) => 1 | -1;
  readonly holes: ReadonlyMap<string, readonly LayerHole[]>;
}

function assemble(skeleton: Skeleton, { magnify, skin, rivets }: SolidOptions): PlacedSolid[] {
  const { model } = skeleton;
  const drawn = drawnSizes(skeleton, magnify);
  const right = model.stations.reduce((sum, s) => sum + s.y, 0) >= 0 ? 1 : -1;
  const outward = (y: number) => (model.hand === 'both' ? (y < 0 ? -1 : 1) : right);
  const at = (stances: readonly Stance[]): Build => ({ skeleton, model, drawn, magnify, outward, stances, byStation: new Map(stances.map((s) => [s.bay.station.id, s])), spars: {}, holes: new Map() });
  const free = at(stancesOf(skeleton, magnify));
  const standing = model.stand === 'clamped' ? at(free.stances.map((s) => clamped(free, s))) : free;
  const build: Build = { ...standing, spars: { ...sparFaces(standing, 'front'), ...sparFaces(standing, 'rear') }, holes: holesByPart(standing) };
  const parts = [
    ...(['front', 'rear'] as const).flatMap((name) => sparParts(build, name)),
    ...build.stances.flatMap((stance) => ribParts(build, stance)),
    ...skeleton.places.flatMap((place) => doublerParts(build, place)),
    ...bracketParts(build),
  ];
  if (skin && model.skin) parts.push(...skinParts(build));
  if (rivets) parts.push(...rivetParts(build));
  return parts;
}

const sheetOf = ({ drawn }: Build, sheet: string): number => Math.max(drawn(`sheet.${sheet}`) ?? 1, 0.05);
const turnsOf = (b: Build, rib: Rib, y: number): 1 | -1 => (rib.turns === 'outboard' ? b.outward(y) : b.outward(y) === 1 ? -1 : 1);
const hasWeb = (d: Doubler): boolean => d.form === 'channel' || d.on === 'web';

/** Which way the metal of a rib goes from the web it meets: aft of the front web, forward of the rear web and at a tail. */
const sideOf = (end: EndName): 1 | -1 => (end === 'front' ? 1 : -1);

/** The face of a spar's web, or of a doubler on it, that a rib end stands against before any packer, in the section's x. */
function webFace(b: Build, stance: Stance, end: EndName): number {
  const name: SparName = end === 'rear' ? 'rear' : 'front';
  const spar = b.model.spars[name];
  if (end === 'tail' || spar === undefined) return stance.front;
  const plates = spar.webDoublers.filter((d) => stance.bay.station.y >= d.from && stance.bay.station.y <= d.to).reduce((sum, d) => sum + sheetOf(b, d.sheet), 0);
  return end === 'rear' ? stance.rear - plates : stance.front + sheetOf(b, spar.sheet) + plates;
}

const packed = (b: Build, rib: Rib, end: EndName): number =>
  b.skeleton.doublersAt(rib.id, end).filter(hasWeb).reduce((sum, d) => sum + sheetOf(b, d.sheet), 0);

const lengthOf = (b: Build, rib: Rib): number => Math.max(b.drawn(`${rib.id}.length`) ?? rib.length, 10);

/** The x a rib's own zero stands at: a main rib's front face, a nose rib's tail face, where a tip rib passes the front web. */
function standsAt(b: Build, stance: Stance, rib: Rib): number {
  if (rib.kind === 'nose') return webFace(b, stance, 'tail') - packed(b, rib, 'tail');
  if (rib.kind === 'tip') return stance.front;
  if (b.model.stand === 'rear' && b.model.spars.rear) return webFace(b, stance, 'rear') - packed(b, rib, 'rear') - lengthOf(b, rib);
  return webFace(b, stance, 'front') + packed(b, rib, 'front');
}

/** The section with its rear spar drawn up to the main rib that stands against the front web. */
function clamped(b: Build, stance: Stance): Stance {
  const { main } = stance.bay;
  if (!main || !b.model.spars.rear) return stance;
  const plates = stance.rear - webFace(b, stance, 'rear');
  return { ...stance, rear: standsAt(b, stance, main) + lengthOf(b, main) + packed(b, main, 'rear') + plates };
}

/** Where a tip rib's rear face stands, from the front web's forward face. */
function tipBack(b: Build, stance: Stance, rib: Rib & { kind: 'tip' }): number {
  if (rib.registered === 'front' && rib.clip) return lengthOf(b, rib) - rib.clip.forward - (b.drawn(`${rib.id}.clip`) ?? rib.clip.noseToHole);
  return webFace(b, stance, 'rear') - packed(b, rib, 'rear') - stance.front;
}

function holesByPart(b: Build): Map<string, LayerHole[]> {
  const byPart = new Map<string, LayerHole[]>();
  for (const joint of b.model.joints) {
    for (const { part, hole } of layerHoles(b, joint)) {
      const list = byPart.get(part);
      if (list) list.push(hole);
      else byPart.set(part, [hole]);
    }
  }
  return byPart;
}

function layerHoles(b: Build, joint: Joint): { part: string; hole: LayerHole; id: string; final: boolean }[] {
  const stance = b.byStation.get(joint.station);
  const place = b.skeleton.placesAt(joint.station).find((p) => (joint.end === 'rear') === (p.spar === 'rear') && joint.layers.includes(p.rib.id));
  if (stance === undefined || place === undefined) return [];
  const row = turnsOf(b, place.rib, stance.bay.station.y) * (b.drawn(`${place.rib.id}.${place.end}.row`) ?? place.spec.row);
  return joint.holes.flatMap((hole) =>
    hole.layers.filter((l) => l.state !== 'none' && l.size > 0).map((layer) => {
      const off = (what: string) => b.drawn(`${joint.id}/${hole.id}.${layer.part}.${what}`) ?? 0;
      const end = b.skeleton.placesAt(joint.station).find((p) => p.rib.id === layer.part && (p.spar === 'rear') === (joint.end === 'rear'))?.end ?? place.end;
      return {
        part: layer.part, id: hole.id, final: hole.layers.every((l) => l.state === 'final'),
        hole: { stance, end, y: row + hole.along + off('along'), z: hole.up + off('up'), diameter: layer.size },
      };
    }),
  );
}

/** A hole square through a web, in the wing frame: `x` is where the web's metal is, in the section. */
function holeInWing(hole: LayerHole, x: number, reach: number): HoleShape {
  const { stance, y, z, diameter } = hole;
  const at = inWing(stance, x, z);
  return { at: [at.x, stance.bay.station.y + y, at.z], axis: [Math.cos(stance.pitch), 0, -Math.sin(stance.pitch)], diameter, reach };
}

/** The same hole in a part's own axes, whatever they are. */
function holesIn(frame: Frame, holes: readonly HoleShape[]): HoleShape[] {
  const [x, y, z] = frame.axes;
  const own = (d: Vec3): Vec3 => [d[0] * x[0] + d[1] * x[1] + d[2] * x[2], d[0] * y[0] + d[1] * y[1] + d[2] * y[2], d[0] * z[0] + d[1] * z[1] + d[2] * z[2]];
  return holes.map((h) => ({ ...h, at: own(subtract(h.at, frame.origin)), axis: own(h.axis) }));
}

/** A spar's surfaces, from its first ring to its last. */
function sparFaces(b: Build, name: SparName): Partial<Record<SparName, SparFaces>> {
  const spar = b.model.spars[name];
  if (spar === undefined) return {};
  const { from, to } = clearOfTips(b, spar.from, spar.to);
  const rings = sparRings(b.skeleton, name, b.stances, { magnify: b.magnify, from, to, seat: (stance) => seatOf(b, stance) });
  return { [name]: { rings, thickness: sheetOf(b, spar.sheet), radius: bendRadius(b.skeleton, name, b.drawn), opens: spar.opens } };
}

/** How far from its web a rib's flanges, tabs and doublers reach along the span, and a little more. */
function seatOf(b: Build, { bay }: Stance): number {
  const ribs = [bay.main, bay.nose, bay.tip].flatMap((rib) => (rib ? [rib.flange] : []));
  const ends = b.skeleton.placesAt(bay.station.id).flatMap(({ spec, doublers }) => [spec.tab, ...doublers.map((d) => (spec.tab + d.width) / 2)]);
  return Math.max(10, ...ribs, ...ends) + 2;
}

function sparParts(b: Build, name: SparName): PlacedSolid[] {
  const spar = b.model.spars[name];
  const faces = b.spars[name];
  if (spar === undefined || faces === undefined) return [];
  const { thickness } = faces;
  const [from, to] = [faces.rings[0]?.y ?? spar.from, faces.rings[faces.rings.length - 1]?.y ?? spar.to];
  const x = (hole: LayerHole) => (name === 'front' ? hole.stance.front : hole.stance.rear) + thickness / 2;
  const ends = [...spar.strips, ...spar.webDoublers].flatMap((p) => [p.from, p.to]).filter((y) => y > from && y < to);
  const shape: SparShape = {
    thickness, radius: faces.radius, opens: spar.opens,
    stations: withRingsAt(faces.rings, ends),
    holes: (b.holes.get(name) ?? []).map((hole) => holeInWing(hole, x(hole), 2 * thickness)),
  };
  const clip = (p: { from: number; to: number }) => ({ from: Math.max(p.from, from), to: Math.min(p.to, to) });
  const strips = spar.strips.flatMap((strip, i) => {
    const caps = strip.caps === 'both' ? (['top', 'bottom'] as const) : [strip.caps];
    const under = spar.strips.slice(0, i).filter((s) => s.from < strip.to && s.to > strip.from && (s.caps === 'both' || strip.caps === 'both' || s.caps === strip.caps));
    const laid = { thickness: sheetOf(b, strip.sheet), under: under.reduce((sum, s) => sum + sheetOf(b, s.sheet), 0), ...clip(strip) };
    return laid.to > laid.from ? caps.map((cap): PlacedSolid => ({ id: `${name}-strip${i + 1}-${cap}`, kind: 'strip', mark: `${name} strip`, solid: stripSolid(shape, { cap, ...laid }) })) : [];
  });
  const plates = spar.webDoublers.flatMap((d, i): PlacedSolid[] => {
    const laid = { thickness: sheetOf(b, d.sheet), height: d.height, side: name === 'front' ? 1 : -1, ...clip(d) } as const;
    return laid.to > laid.from ? [{ id: `${name}-plate${i + 1}`, kind: 'strip', mark: `${name} web doubler`, solid: webDoublerSolid(shape, laid) }] : [];
  });
  return [{ id: name, kind: 'spar', mark: `${name} spar`, solid: sparSolid(shape) }, ...strips, ...plates];
}

/** The rings with more put in at the ends of strips, so that both are straight between the same places. */
function withRingsAt(rings: readonly SparRing[], ys: readonly number[]): SparRing[] {
  const more = [...new Set(ys)].filter((y) => rings.every((r) => r.y !== y)).map((y) => ringAt(rings, y));
  return [...rings, ...more].sort((p, q) => p.y - q.y);
}

/** A spar runs up to the web of the tip rib that closes it, not through it. */
function clearOfTips(b: Build, from: number, to: number): { from: number; to: number } {
  let [low, high] = [from, to];
  for (const { bay } of b.stances) {
    if (!bay.tip) continue;
    const { y } = bay.station;
    const t = turnsOf(b, bay.tip, y) * sheetOf(b, bay.tip.sheet);
    const [least, most] = [Math.min(y, y + t), Math.max(y, y + t)];
    if (least < low + 1 && most > low) low = most;
    if (most > high - 1 && least < high) high = least;
  }
  return high > low ? { from: low, to: high } : { from, to };
}

function endShape(b: Build, rib: Rib, end: EndName, spec: RibEnd): EndShape {
  const name = sparAt(end);
  const spar = b.model.spars[name];
  const of = (what: string, drawing: number) => b.drawn(`${rib.id}.${end}.${what}`) ?? drawing;
  const nests = spec.ends === 'nests' && spar !== undefined;
  const y = b.byStation.get(rib.station)?.bay.station.y ?? 0;
  const capWidth = spar ? Math.max(alongAt(spar.capWidth, y), b.drawn(`${name}.cap@${rib.station}`) ?? 0) : 0;
  const cap = spar ? capWidth - sheetOf(b, spar.sheet) - packed(b, rib, end) : 0;
  const bends = b.skeleton.doublersAt(rib.id, end).map((d) => (d.form === 'channel' ? (b.drawn(`${d.id}.radius`) ?? d.radius ?? 0) : 0));
  return {
    height: Math.max(of('height', spec.height), 8 * (rib.radius + 1)), joggle: of('joggle', spec.joggle), flat: nests ? Math.max(cap + 2, 0) : 0,
    tab: Math.max(of('tab', spec.tab), rib.radius + sheetOf(b, rib.sheet) + 1), corner: nests ? Math.max(bendRadius(b.skeleton, name, b.drawn), ...bends) : 0,
    ...(spec.relief ? { relief: { diameter: spec.relief.diameter, fromEnd: of('relief', spec.relief.fromEnd) } } : {}),
  };
}

const sparAt = (end: EndName): SparName => (end === 'rear' ? 'rear' : 'front');

function bodyOf(b: Build, stance: Stance, rib: Rib) {
  const thickness = sheetOf(b, rib.sheet);
  return { thickness, radius: rib.radius, flange: Math.max(rib.flange, thickness + rib.radius + 1), turns: turnsOf(b, rib, stance.bay.station.y) };
}

/** A rib end in place: its shape with its tab lying on the web. */
function lyingEnd(b: Build, rib: Rib, standing: StandingRib, { end, spec, x }: { end: EndName; spec: RibEnd; x: number }): EndShape {
  const shape = endShape(b, rib, end, spec);
  const spar = b.spars[sparAt(end)];
  if (spar === undefined) return shape;
  const lie = webLie(spar, standing, { x, width: shape.tab, half: shape.height / 2 - shape.corner });
  if (spec.ends !== 'nests') return { ...shape, lie };
  // Where web or caps close in along the flanges, the corner is cut back by as much.
  const cap = capSlant(spar, standing, { x, flange: rib.flange, face: 'inside' });
  const closing = Math.max(0, sideOf(end) * lie.bevel) + Math.max(0, -cap.top, cap.bottom);
  return { ...shape, lie, corner: shape.corner + closing * Math.max(rib.flange, shape.tab) };
}

/** How a rib's flanges lie: along the caps at each end, as far as they reach, and straight between. */
function slantsOf(b: Build, rib: Rib, standing: StandingRib, ends: readonly { end: EndName; spec: RibEnd; x: number; reach: number }[]): Slant[] {
  const slants = ends.flatMap(({ end, spec, x, reach }): Slant[] => {
    const spar = b.spars[sparAt(end)];
    if (spar === undefined) return [];
    const face = spec.ends === 'nests' ? 'inside' : 'outside';
    const open = b.drawn(`${rib.id}.${end}.open`) ?? 0;
    return [x, x + reach].map((at) => ({ ...capSlant(spar, standing, { x: at, flange: rib.flange, face }), open }));
  });
  return slants.sort((p, q) => p.x - q.x);
}

/** What lies inside the top cap less what lies inside the bottom one, halved: how far the room's middle is below the spar's. */
function roomMid(b: Build, place: RibPlace): number {
  if (place.spec.ends !== 'nests') return 0;
  const strips = stripsAt(b.skeleton, place.spar, place.bay.station.y, b.drawn);
  return (strips.bottom - strips.top) / 2;
}

/** How far a rib end is held above the spar's mid height. */
const liftOf = (b: Build, place: RibPlace): number => (b.drawn(`${place.key}.bias`) ?? 0) + roomMid(b, place);

/** Where a rib stands and how a main or tip rib leans: lean is top against bottom, skew rear against front, mm, outboard positive. */
function ribFrame(b: Build, stance: Stance, rib: Rib): Frame {
  const { id, y } = stance.bay.station;
  const x = standsAt(b, stance, rib);
  const ends = b.skeleton.placesAt(id).filter((p) => p.rib === rib);
  const lift = (p: RibPlace | undefined) => (p ? liftOf(b, p) : 0);
  const rear = ends.find((p) => p.end === 'rear');
  const lifted = lift(ends.find((p) => p.end !== 'rear') ?? rear);
  const tilt = rear && rib.kind === 'main' ? (lifted - lift(rear)) / lengthOf(b, rib) : 0;
  const at = inWing(stance, x, lifted);
  const upright = sectionFrame([at.x, y, at.z], stance.pitch + tilt);
  const height = b.skeleton.book.readingsOf(`lean@${id}`).at(-1)?.over ?? Math.max(...ends.map((p) => p.spec.height), 1);
  const read = (what: 'lean' | 'skew') => (rib.kind === 'nose' ? 0 : (b.drawn(`${what}@${id}`) ?? 0) * b.outward(y));
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

function ribParts(b: Build, stance: Stance): PlacedSolid[] {
  const { main, nose, tip, station } = stance.bay;
  return [main, nose, tip].flatMap((rib): PlacedSolid[] => {
    if (rib === undefined) return [];
    const frame = ribFrame(b, stance, rib);
    const holes = holesIn(frame, (b.holes.get(rib.id) ?? []).map((hole) => {
      const face = hole.end === 'rear' && rib.kind === 'main' ? standsAt(b, stance, rib) + lengthOf(b, rib)
        : hole.end === 'rear' && rib.kind === 'tip' ? stance.front + tipBack(b, stance, rib) : standsAt(b, stance, rib);
      return holeInWing(hole, face, 3 * sheetOf(b, rib.sheet));
    }));
    return [{ id: rib.id, kind: rib.kind, mark: rib.id, station: station.id, solid: placed(ribSolid(b, stance, rib, frame, holes), frame) }];
  });
}

function ribSolid(b: Build, stance: Stance, rib: Rib, frame: Frame, holes: readonly HoleShape[]): Solid {
  const length = lengthOf(b, rib);
  const body = { ...bodyOf(b, stance, rib), holes };
  const standing: StandingRib = { frame, turns: body.turns };
  const webHoles = (nose: number): WebHole[] => rib.holes.map((h) => ({ x: nose + h.fromFront, z: h.above, diameter: h.diameter }));
  const lying = (end: EndName, spec: RibEnd, x: number) => lyingEnd(b, rib, standing, { end, spec, x });
  const reachOf = (end: EndShape) => Math.min(Math.max(end.flat, 10), 0.4 * length);
  switch (rib.kind) {
    case 'main': {
      const [front, rear] = [lying('front', rib.front, 0), lying('rear', rib.rear, length)];
      const slants = slantsOf(b, rib, standing, [{ end: 'front', spec: rib.front, x: 0, reach: reachOf(front) }, { end: 'rear', spec: rib.rear, x: length, reach: -reachOf(rear) }]);
      const shape: MainRibShape = { ...body, length, front, rear, slants, webHoles: webHoles(0) };
      return mainRibSolid(shape);
    }
    case 'nose': {
      const tail = lying('tail', rib.tail, 0);
      const slants = slantsOf(b, rib, standing, [{ end: 'tail', spec: rib.tail, x: 0, reach: -reachOf(tail) }, { end: 'tail', spec: { ...rib.tail, ends: 'butts' }, x: -length, reach: 0.1 * length }]);
      return noseRibSolid({ ...body, outline: outlineOf(b, stance, rib), tail, slants, webHoles: webHoles(-length) });
    }
    case 'tip': {
      const back = tipBack(b, stance, rib);
      const rear = lying('rear', rib.rear, back);
      const over: RibEnd = { ...rib.rear, ends: 'butts' };
      const slants = slantsOf(b, rib, standing, [{ end: 'front', spec: over, x: back - length, reach: length - back }, { end: 'rear', spec: rib.rear, x: back, reach: -reachOf(rear) }]);
      return tipRibSolid({ ...body, back, outline: outlineOf(b, stance, rib), rear, slants, webHoles: webHoles(back - length), ...passing(b, stance, rib) });
    }
  }
}

/** A nose or tip rib's contour ahead of the front spar, in its own axes. */
function outlineOf(b: Build, stance: Stance, rib: Rib & { kind: 'nose' | 'tip' }): Vec2[] {
  const { nose, y } = stance.bay.station;
  if (rib.kind === 'tip') {
    const length = Math.max(lengthOf(b, rib) - tipBack(b, stance, rib), 5);
    return noseOutline(rib.profile, { length, height: rib.height, cut: nose > 0 ? nose : rib.length - alongAt(b.model.webToWeb, y) });
  }
  const tail = endShape(b, rib, 'tail', rib.tail);
  return noseOutline(rib.profile, { length: lengthOf(b, rib), height: tail.height + 2 * tail.joggle, cut: rib.length });
}

/** The gap in a tip rib's flanges for the front spar, where they turn over it. */
function passing(b: Build, stance: Stance, rib: Rib & { kind: 'tip' }): { passes?: readonly [number, number] } {
  const { y } = stance.bay.station;
  const { front } = b.model.spars;
  const reach = y + turnsOf(b, rib, y) * rib.flange;
  if (Math.max(y, reach) <= front.from || Math.min(y, reach) >= front.to) return {};
  const cap = alongAt(front.capWidth, y);
  return { passes: front.opens === 'aft' ? [-1, cap + 2] : [sheetOf(b, front.sheet) - cap - 2, sheetOf(b, front.sheet) + 1] };
}

/** Everything between one rib end and its spar, laid from the spar's web towards the rib. */
function doublerParts(b: Build, place: RibPlace): PlacedSolid[] {
  const { rib, end, spec, bay, doublers } = place;
  const stance = b.stances[bay.index];
  const spar = b.spars[place.spar];
  if (stance === undefined || spar === undefined || doublers.length === 0) return [];
  const { y } = bay.station;
  const side = sideOf(end);
  const shape = endShape(b, rib, end, spec);
  const turns = turnsOf(b, rib, y);
  const standing: StandingRib = { frame: ribFrame(b, stance, rib), turns };
  const heel = end === 'rear' ? (rib.kind === 'tip' ? tipBack(b, stance, rib) : lengthOf(b, rib)) : 0;
  const channels = doublers.filter((d) => d.form === 'channel').reduce((sum, d) => sum + 2 * sheetOf(b, d.sheet), 0);
  let around = channels;
  let x = webFace(b, stance, end);
  const over = { top: shape.height / 2 + channels / 2, bottom: shape.height / 2 + channels / 2 };
  const datum = place.spar === 'front' ? stance.front : stance.rear;
  return doublers.map((d): PlacedSolid => {
    const thickness = sheetOf(b, d.sheet);
    const cap = d.on === 'top' ? 'top' : 'bottom';
    if (!hasWeb(d)) over[cap] += thickness;
    const middle = hasWeb(d) ? 0 : cap === 'top' ? over.top : -over.bottom;
    const centre = y + turns * (shape.tab / 2);
    const at = inWing(stance, x, 0);
    const frame = sectionFrame([at.x, centre, at.z], stance.pitch);
    const lies = doublerLies({ b, rib, end, spar, frame, standing, heel, face: x - datum, middle, half: shape.height / 2, side }, d.width);
    const metal = holesIn(frame, (b.holes.get(d.id) ?? []).map((hole) => holeInWing(hole, x, 2 * thickness)));
    const solid = placed(doublerSolid({ ...doublerShape(b, place, d, { thickness, side, height: shape.height + around }), lies, holes: metal }), frame);
    if (hasWeb(d)) x += side * thickness;
    if (d.form === 'channel') around -= 2 * thickness;
    return { id: d.id, kind: 'doubler', mark: d.id, station: bay.station.id, solid };
  });
}

interface DoublerSeat {
  readonly b: Build;
  readonly rib: Rib;
  readonly end: EndName;
  readonly spar: SparFaces;
  /** The piece's own axes. */
  readonly frame: Frame;
  readonly standing: StandingRib;
  /** x of the rib end's face in the rib, and half its height there. */
  readonly heel: number;
  readonly half: number;
  /** Aft of the spar's datum face, and above the rib end's middle, where the piece has its zero. */
  readonly face: number;
  readonly middle: number;
  readonly side: 1 | -1;
}

/** A thin piece lies along the web at every place, with its legs as far from the caps there as at the rib's station. */
function doublerLies({ b, rib, end, spar, frame, standing, heel, half, face, middle, side }: DoublerSeat, width: number): DoublerLie[] {
  const { y } = b.byStation.get(rib.station)?.bay.station ?? { y: frame.origin[1] };
  const { turns } = standing;
  const open = b.drawn(`${rib.id}.${end}.open`) ?? 0;
  const straight = sheetOf(b, rib.sheet) + rib.radius;
  const [low, high] = [frame.origin[1] - width / 2, frame.origin[1] + width / 2];
  const bends = open === 0 ? [] : [y + turns * straight, y + turns * rib.flange];
  const ys = [low, ...new Set([...spar.rings.map((r) => r.y), ...bends].filter((q) => q > low + 1e-6 && q < high - 1e-6)), high].sort((p, q) => p - q);
  const ends = [half, -half].map((z) => ribInSection(spar, standing, [heel, 0, z]));
  const [top, bottom] = [ends[0]?.up ?? half, ends[1]?.up ?? -half];
  const further = ribInSection(spar, standing, [heel + side * 10, 0, half]);
  const heelAft = ends[0]?.aft ?? face;
  const tilt = (further.up - top) / (further.aft - heelAft || 1);
  const own = ringAt(spar.rings, y);
  const raised = (top + bottom) / 2;
  return ys.map((q): DoublerLie => {
    const ring = ringAt(spar.rings, q);
    const [px, , pz] = toPart(frame, wingPoint(...onRing(ring, face, raised + middle + tilt * (face - heelAft))));
    const along = Math.min(Math.max((q - y) * turns, straight), rib.flange);
    const grows = (insideOf(ring, spar.thickness) - insideOf(own, spar.thickness)) / 2 + (open * (along - straight)) / Math.max(rib.flange - straight, 1);
    const stretched = (top - bottom) / 2 - half;
    return { y: q - frame.origin[1], x: px, z: pz, pitch: (ring.pitch ?? 0) - Math.atan2(-frame.axes[0][2], frame.axes[0][0]), top: grows + stretched, bottom: -grows - stretched, tilt };
  });
}

function doublerShape(b: Build, { rib, end, spar: name, bay, spec }: RibPlace, d: Doubler, laid: { thickness: number; side: 1 | -1; height: number }): DoublerShape {
  const { thickness, side, height } = laid;
  const spar = sparOf(b.skeleton, name);
  const cap = alongAt(spar.capWidth, bay.station.y) - sheetOf(b, spar.sheet);
  const own = { thickness, width: d.width, side };
  if (d.form === 'channel') {
    const radius = Math.max(b.drawn(`${d.id}.radius`) ?? d.radius ?? spar.radius, 0);
    const leg = Math.max(d.leg ?? cap, thickness + radius + 1);
    return { ...own, form: 'channel', radius, height: Math.max(height, 2 * (thickness + radius) + 1), leg };
  }
  if (d.on === 'web') return { ...own, form: 'packer', height: d.height ?? spec.height - 2 * setback(bendRadius(b.skeleton, name, b.drawn), sheetOf(b, rib.sheet), rib.radius) };
  // A shim stops short of the bends beside the web.
  const bends = b.skeleton.doublersAt(rib.id, end).filter((o) => o.form === 'channel').map((o) => sheetOf(b, o.sheet) + (b.drawn(`${o.id}.radius`) ?? o.radius ?? 0));
  const start = Math.max(bendRadius(b.skeleton, name, b.drawn), ...bends);
  return { ...own, form: 'shim', start, length: Math.max((d.leg ?? cap) - start, 2), under: d.on === 'top' ? 'top' : 'bottom' };
}

function bracketParts(b: Build): PlacedSolid[] {
  return b.model.brackets.flatMap((bracket): PlacedSolid[] => {
    const stance = b.byStation.get(bracket.station);
    const spar = b.spars[bracket.spar];
    if (stance === undefined || spar === undefined) return [];
    const side = spar.opens === 'aft' ? -1 : 1;
    const face = (side === 1 ? spar.thickness : 0) + side * under(b, bracket);
    const thickness = sheetOf(b, bracket.sheet);
    const frame = bracketFrame(b, { bracket, stance, spar, side, face });
    const x = (bracket.spar === 'front' ? stance.front : stance.rear) + face;
    const holes = holesIn(frame, (b.holes.get(bracket.id) ?? []).map((h) => holeInWing(h, x, 2 * thickness)));
    const shape = { thickness, width: bracket.width, height: bracket.height, edge: Math.max(2 * bracket.edge, 4 * thickness), side, holes } as const;
    return [{ id: bracket.id, kind: 'bracket', mark: bracket.id, station: bracket.station, solid: placed(bracketSolid(shape), frame) }];
  });
}

/** A bracket stands on its joint's hole row, along the line between its edges on the web, resting on the high spots. */
function bracketFrame(b: Build, { bracket, stance, spar, side, face }: { bracket: Model['brackets'][number]; stance: Stance; spar: SparFaces; side: 1 | -1; face: number }): Frame {
  const { y } = stance.bay.station;
  const joint = b.model.joints.find((j) => j.station === bracket.station && j.layers.includes(bracket.id));
  const place = b.skeleton.placesAt(bracket.station).find((p) => p.spar === bracket.spar && joint?.layers.includes(p.rib.id));
  const centre = y + (place ? turnsOf(b, place.rib, y) * (b.drawn(`${place.key}.row`) ?? place.spec.row) : 0);
  const on = (q: number): Vec3 => onRing(ringAt(spar.rings, q), face, 0);
  const [low, mid, high] = [on(centre - bracket.width / 2), on(centre), on(centre + bracket.width / 2)];
  const upright = sectionFrame(mid, ringAt(spar.rings, centre).pitch ?? 0);
  const along = alongWeb(upright, (high[0] - low[0]) / bracket.width);
  const off = restingAt(spar, along, { face, side, width: bracket.width, height: bracket.height });
  return { ...along, origin: wingPoint(...add(along.origin, scale(along.axes[0], off))) };
}

/** A section frame turned in plan so that its y runs along a web that gains `slope` of x for each mm of y. */
function alongWeb({ origin, axes: [x, y] }: Frame, slope: number): Frame {
  return frameFrom(origin, subtract(x, scale(y, slope)), y);
}

/** Thickness of what a joint lists between a bracket and its spar. */
function under(b: Build, bracket: Model['brackets'][number]): number {
  const layers = b.model.joints.find((j) => j.station === bracket.station && j.layers.includes(bracket.id))?.layers ?? [];
  const [i, j] = [layers.indexOf(bracket.id), layers.indexOf(bracket.spar)];
  if (i < 0 || j < 0) return 0;
  return layers.slice(Math.min(i, j) + 1, Math.max(i, j)).reduce((sum, part) => sum + sheetOf(b, sheetOfPart(b.model, part)), 0);
}

function skinParts(b: Build): PlacedSolid[] {
  const { skin } = b.model;
  if (!skin) return [];
  const stations = b.stances.flatMap((stance) => {
    const { nose, main, tip, station } = stance.bay;
    const ahead = tip ?? nose;
    if (ahead === undefined) return [];
    const behind = tip?.rear ?? main?.rear;
    const half = behind ? behind.height / 2 + behind.joggle : 0;
    const zero = standsAt(b, stance, ahead);
    const round = outlineOf(b, stance, ahead).map(([x, z]): Vec2 => [zero + x, z]);
    const whole: Vec2[] = b.model.spars.rear && half > 0 ? [[stance.rear, half], ...round, [stance.rear, -half]] : round;
    return [{ y: station.y, outline: whole.map(([x, z]): Vec2 => { const at = inWing(stance, x, z); return [at.x, at.z]; }) }];
  });
  if (stations.length < 2) return [];
  return [{ id: 'skin', kind: 'skin', mark: 'skin', solid: skinSolid({ thickness: sheetOf(b, skin.sheet), stations }) }];
}

function rivetParts(b: Build): PlacedSolid[] {
  return b.model.joints.flatMap((joint) => {
    const first = new Map<string, LayerHole>();
    for (const { id, hole, final } of layerHoles(b, joint)) if (final && !first.has(id)) first.set(id, hole);
    return [...first].map(([id, hole]): PlacedSolid => {
      const thick = joint.layers.reduce((sum, part) => sum + sheetOf(b, sheetOfPart(b.model, part)), 0);
      const side = joint.end === 'rear' ? -1 : 1;
      const x = joint.end === 'rear' ? hole.stance.rear + (b.model.spars.rear ? sheetOf(b, b.model.spars.rear.sheet) : 0) : hole.stance.front - nosePack(b, joint);
      const { at, axis } = holeInWing(hole, x, 1);
      const solid = rivetSolid({ from: at, axis: scale(axis, side), diameter: joint.rivet.diameter, grip: thick, set: true });
      return { id: `${joint.id}/${id}`, kind: 'rivet', mark: `${joint.id} ${id}`, station: joint.station, solid };
    });
  });
}

/** Thickness of a joint's layers ahead of the front web. */
function nosePack(b: Build, joint: Joint): number {
  const before = joint.layers.slice(0, Math.max(joint.layers.indexOf('front'), 0));
  return before.reduce((sum, part) => sum + sheetOf(b, sheetOfPart(b.model, part)), 0);
}

function sheetOfPart(model: Model, part: string): string {
  if (part === 'front' || part === 'rear') return model.spars[part]?.sheet ?? '';
  return [...model.ribs, ...model.doublers, ...model.brackets].find((p) => p.id === part)?.sheet ?? '';
}
