import { type Frame, frameFrom, wingPoint } from '../geometry/frame.ts';
import { placed, sectionFrame, type Solid } from '../geometry/solids.ts';
import { add, cross, scale, subtract, unit, type Vec2, type Vec3 } from '../geometry/vector.ts';
import { alongAt } from '../model/along.ts';
import type { Doubler, Joint, Model, Rib, RibEnd, SparName } from '../model/schema.ts';
import { bracketSolid } from './bracket.ts';
import { type DoublerShape, doublerSolid } from './doubler.ts';
import type { HoleShape } from './drilled.ts';
import { type EndShape, type MainRibShape, mainRibSolid } from './mainRib.ts';
import { noseOutline } from './noseOutline.ts';
import { noseRibSolid } from './noseRib.ts';
import { setback, type WebHole } from './pressed.ts';
import { rivetSolid } from './rivet.ts';
import { type EndName, type RibPlace, type Skeleton, sparOf } from './skeleton.ts';
import { skinSolid } from './skin.ts';
import { ringAt, type SparRing, type SparShape, sparSolid, stripSolid, webDoublerSolid } from './spar.ts';
import { type Drawn, drawnSizes, inWing, sparRings, type Stance, stancesOf } from './stance.ts';
import { tipRibSolid } from './tipRib.ts';

/*
 * The whole skeleton as solids in measured size and measured place, every deviation enlarged by `magnify` (1 draws it true).
 *
 * Wing frame, mm. Ribs stand as the panel file's `stand` says: against the rear web, against the front web, or clamped, when
 * the rear spar comes to the rib. What is not known is drawn as on the drawing; what no drawing gives (bow, twist, lean) as
 * none. Assumed, where the file is silent: flanges are cut back clear of the spar's inside radius; joggles stay down as far
 * as the cap reaches and 2 mm more; a doubler is centred on the tab; a channel doubler fits its rib end exactly.
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
  readonly outward: (y: number) => 1 | -1;
  readonly holes: ReadonlyMap<string, readonly LayerHole[]>;
}

function assemble(skeleton: Skeleton, { magnify, skin, rivets }: SolidOptions): PlacedSolid[] {
  const { model } = skeleton;
  const drawn = drawnSizes(skeleton, magnify);
  const right = model.stations.reduce((sum, s) => sum + s.y, 0) >= 0 ? 1 : -1;
  const outward = (y: number) => (model.hand === 'both' ? (y < 0 ? -1 : 1) : right);
  const at = (stances: readonly Stance[]): Build => ({ skeleton, model, drawn, magnify, outward, stances, byStation: new Map(stances.map((s) => [s.bay.station.id, s])), holes: new Map() });
  const free = at(stancesOf(skeleton, magnify));
  const standing = model.stand === 'clamped' ? at(free.stances.map((s) => clamped(free, s))) : free;
  const build: Build = { ...standing, holes: holesByPart(standing) };
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

function sparParts(b: Build, name: SparName): PlacedSolid[] {
  const spar = b.model.spars[name];
  if (spar === undefined) return [];
  const { from, to } = clearOfTips(b, spar.from, spar.to);
  const thickness = sheetOf(b, spar.sheet);
  const x = (hole: LayerHole) => (name === 'front' ? hole.stance.front : hole.stance.rear) + thickness / 2;
  const ends = [...spar.strips, ...spar.webDoublers].flatMap((p) => [p.from, p.to]).filter((y) => y > from && y < to);
  const shape: SparShape = {
    thickness, radius: spar.radius, opens: spar.opens,
    stations: withRingsAt(sparRings(b.skeleton, name, b.stances, { magnify: b.magnify, from, to }), ends),
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

/**
 * How the section changes along the span on the side a rib's flanges turn to, mm for each mm along them: x of each web,
 * how that grows with z, and half the depth of each spar. It is what tabs and flanges are bevelled by in a tapered wing.
 */
function slopesAt(b: Build, stance: Stance, way: 1 | -1) {
  const { index, station: { y } } = stance.bay;
  const next = b.stances[index + way] ?? b.stances[index - way];
  if (next === undefined || next.bay.station.y === y) return { front: 0, rear: 0, twist: 0, half: { front: 0, rear: 0 } };
  const per = (what: (s: Stance) => number) => ((what(next) - what(stance)) / (next.bay.station.y - y)) * way;
  const half = (name: SparName) => per((s) => (b.drawn(`${name}.depth@${s.bay.station.id}`) ?? 0) / 2);
  const turn = (x: number) => per((s) => inWing(s, x, 0).z - inWing({ ...s, pitch: stance.pitch }, x, 0).z);
  const web = (pick: 'front' | 'rear') => per((s) => inWing({ ...s, pitch: stance.pitch }, s[pick], 0).x) * Math.cos(stance.pitch) - turn(stance[pick]) * Math.sin(stance.pitch);
  return { front: web('front'), rear: web('rear'), twist: per((s) => s.pitch), half: { front: half('front'), rear: half('rear') } };
}

function endShape(b: Build, rib: Rib, end: EndName, spec: RibEnd): EndShape {
  const name: SparName = end === 'rear' ? 'rear' : 'front';
  const spar = b.model.spars[name];
  const of = (what: string, drawing: number) => b.drawn(`${rib.id}.${end}.${what}`) ?? drawing;
  const nests = spec.ends === 'nests' && spar !== undefined;
  const stance = b.byStation.get(rib.station);
  const slopes = stance && slopesAt(b, stance, turnsOf(b, rib, stance.bay.station.y));
  const cap = spar ? alongAt(spar.capWidth, stance?.bay.station.y ?? 0) - sheetOf(b, spar.sheet) - packed(b, rib, end) : 0;
  const bends = b.skeleton.doublersAt(rib.id, end).map((d) => d.radius ?? 0);
  const joggle = of('joggle', spec.joggle);
  return {
    height: Math.max(of('height', spec.height), 8 * (rib.radius + 1)), joggle, flat: nests ? Math.max(cap + 2, 0) : 0,
    tab: Math.max(of('tab', spec.tab), rib.radius + sheetOf(b, rib.sheet) + 1), corner: nests ? Math.max(spar.radius, ...bends) : 0,
    bevel: slopes?.[name] ?? 0, twist: slopes?.twist ?? 0,
    ...(spec.relief ? { relief: { diameter: spec.relief.diameter, fromEnd: of('relief', spec.relief.fromEnd) } } : {}),
  };
}

function bodyOf(b: Build, stance: Stance, rib: Rib) {
  const { y } = stance.bay.station;
  const thickness = sheetOf(b, rib.sheet);
  const turns = turnsOf(b, rib, y);
  const slopes = slopesAt(b, stance, turns);
  const taper = -(rib.kind === 'nose' || b.model.spars.rear === undefined ? slopes.half.front : (slopes.half.front + slopes.half.rear) / 2);
  return { thickness, radius: rib.radius, flange: Math.max(rib.flange, thickness + rib.radius + 1), turns, taper };
}

/** Where a rib stands and how it leans: lean is top against bottom, skew rear against front, mm, outboard positive. */
function ribFrame(b: Build, stance: Stance, rib: Rib, x: number): Frame {
  const { id, y } = stance.bay.station;
  const ends = b.skeleton.placesAt(id).filter((p) => p.rib === rib);
  const bias = (p: RibPlace | undefined) => (p && b.drawn(`${rib.id}.${p.end}.bias`)) ?? 0;
  const rear = ends.find((p) => p.end === 'rear');
  const lifted = bias(ends.find((p) => p.end !== 'rear') ?? rear);
  const tilt = rear && rib.kind === 'main' ? (lifted - bias(rear)) / lengthOf(b, rib) : 0;
  const at = inWing(stance, x, lifted);
  const upright = sectionFrame([at.x, y, at.z], stance.pitch + tilt);
  const height = Math.max(...ends.map((p) => p.spec.height), 1);
  const lean = ((b.drawn(`lean@${id}`) ?? 0) * b.outward(y)) / height;
  const skew = ((b.drawn(`skew@${id}`) ?? 0) * b.outward(y)) / Math.max(stance.rear - stance.front, 1);
  if (lean === 0 && skew === 0) return upright;
  const [ax, ay, az] = upright.axes;
  const x1 = unit(add(ax, scale(ay, skew)));
  const y1 = cross(unit(add(az, scale(ay, lean))), x1);
  return frameFrom(wingPoint(at.x, y, at.z), x1, y1);
}

function ribParts(b: Build, stance: Stance): PlacedSolid[] {
  const { main, nose, tip, station } = stance.bay;
  return [main, nose, tip].flatMap((rib): PlacedSolid[] => {
    if (rib === undefined) return [];
    const frame = ribFrame(b, stance, rib, standsAt(b, stance, rib));
    const holes = holesIn(frame, (b.holes.get(rib.id) ?? []).map((hole) => {
      const face = hole.end === 'rear' && rib.kind === 'main' ? standsAt(b, stance, rib) + lengthOf(b, rib)
        : hole.end === 'rear' && rib.kind === 'tip' ? stance.front + tipBack(b, stance, rib) : standsAt(b, stance, rib);
      return holeInWing(hole, face, 3 * sheetOf(b, rib.sheet));
    }));
    return [{ id: rib.id, kind: rib.kind, mark: rib.id, station: station.id, solid: placed(ribSolid(b, stance, rib, holes), frame) }];
  });
}

function ribSolid(b: Build, stance: Stance, rib: Rib, holes: readonly HoleShape[]): Solid {
  const length = lengthOf(b, rib);
  const body = { ...bodyOf(b, stance, rib), holes };
  const webHoles = (nose: number): WebHole[] => rib.holes.map((h) => ({ x: nose + h.fromFront, z: h.above, diameter: h.diameter }));
  switch (rib.kind) {
    case 'main': {
      const shape: MainRibShape = { ...body, length, front: endShape(b, rib, 'front', rib.front), rear: endShape(b, rib, 'rear', rib.rear), webHoles: webHoles(0) };
      return mainRibSolid(shape);
    }
    case 'nose':
      return noseRibSolid({ ...body, outline: outlineOf(b, stance, rib), tail: endShape(b, rib, 'tail', rib.tail), webHoles: webHoles(-length) });
    case 'tip': {
      const back = tipBack(b, stance, rib);
      return tipRibSolid({
        ...body, back, outline: outlineOf(b, stance, rib), rear: endShape(b, rib, 'rear', rib.rear), webHoles: webHoles(back - length), ...passing(b, stance, rib),
      });
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
  if (stance === undefined || doublers.length === 0) return [];
  const side = sideOf(end);
  const shape = endShape(b, rib, end, spec);
  const turns = turnsOf(b, rib, bay.station.y);
  const centre = bay.station.y + turns * (shape.tab / 2);
  const slope = turns * (shape.bevel ?? 0);
  const lifted = b.drawn(`${rib.id}.${end}.bias`) ?? 0;
  const channels = doublers.filter((d) => d.form === 'channel').reduce((sum, d) => sum + 2 * sheetOf(b, d.sheet), 0);
  let around = channels;
  let x = webFace(b, stance, end);
  const over = { top: shape.height / 2 + channels / 2, bottom: shape.height / 2 + channels / 2 };
  return doublers.map((d): PlacedSolid => {
    const thickness = sheetOf(b, d.sheet);
    const cap = d.on === 'top' ? 'top' : 'bottom';
    if (!hasWeb(d)) over[cap] += thickness;
    const at = inWing(stance, x + (slope * turns * shape.tab) / 2, hasWeb(d) ? lifted : lifted + (cap === 'top' ? over.top : -over.bottom));
    const frame = alongWeb(sectionFrame([at.x, centre, at.z], stance.pitch), slope);
    const metal = holesIn(frame, (b.holes.get(d.id) ?? []).map((hole) => holeInWing(hole, x, 2 * thickness)));
    const solid = placed(doublerSolid({ ...doublerShape(b, place, d, { thickness, side, height: shape.height + around }), holes: metal }), frame);
    if (hasWeb(d)) x += side * thickness;
    if (d.form === 'channel') around -= 2 * thickness;
    return { id: d.id, kind: 'doubler', mark: d.id, station: bay.station.id, solid };
  });
}

/** A section frame turned in plan so that its y runs along a web that gains `slope` of x for each mm of y. */
function alongWeb({ origin, axes: [x, y] }: Frame, slope: number): Frame {
  return frameFrom(origin, subtract(x, scale(y, slope)), y);
}

function doublerShape(b: Build, { rib, spar: name, bay, spec }: RibPlace, d: Doubler, laid: { thickness: number; side: 1 | -1; height: number }): DoublerShape {
  const { thickness, side, height } = laid;
  const spar = sparOf(b.skeleton, name);
  const cap = alongAt(spar.capWidth, bay.station.y) - sheetOf(b, spar.sheet);
  if (d.form === 'channel') {
    const radius = Math.max(b.drawn(`${d.id}.radius`) ?? d.radius ?? spar.radius, 0);
    const leg = Math.max(d.leg ?? cap, thickness + radius + 1);
    return { form: 'channel', thickness, radius, height: Math.max(height, 2 * (thickness + radius) + 1), leg, width: d.width, side };
  }
  if (d.on === 'web') return { form: 'packer', thickness, height: d.height ?? spec.height - 2 * setback(spar.radius, sheetOf(b, rib.sheet), rib.radius), width: d.width, side };
  return { form: 'shim', thickness, length: Math.max(d.leg ?? cap, 2), width: d.width, side, under: d.on === 'top' ? 'top' : 'bottom' };
}

function bracketParts(b: Build): PlacedSolid[] {
  return b.model.brackets.flatMap((bracket): PlacedSolid[] => {
    const stance = b.byStation.get(bracket.station);
    const spar = b.model.spars[bracket.spar];
    if (stance === undefined || spar === undefined) return [];
    const side = spar.opens === 'aft' ? -1 : 1;
    const x = (bracket.spar === 'front' ? stance.front : stance.rear) + (side === 1 ? sheetOf(b, spar.sheet) : 0) + side * under(b, bracket);
    const at = inWing(stance, x, 0);
    const holes = b.holes.get(bracket.id) ?? [];
    const rib = stance.bay.main ?? stance.bay.nose ?? stance.bay.tip;
    const { y } = stance.bay.station;
    const centre = y + (rib ? turnsOf(b, rib, y) * (rib.flange / 2) : 0);
    const frame = sectionFrame([at.x, centre, at.z], stance.pitch);
    const thickness = sheetOf(b, bracket.sheet);
    const shape = { thickness, width: bracket.width, height: bracket.height, edge: Math.max(2 * bracket.edge, 4 * thickness), side } as const;
    const solid = placed(bracketSolid({ ...shape, holes: holesIn(frame, holes.map((h) => holeInWing(h, x, 2 * thickness))) }), frame);
    return [{ id: bracket.id, kind: 'bracket', mark: bracket.id, station: bracket.station, solid }];
  });
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
