import type { Frame } from '../geometry/frame.ts';
import { add, scale, type Vec3 } from '../geometry/vector.ts';
import { flangesPoint } from '../model/hand.ts';
import type { Doubler, Rib, SparName, TipRib } from '../model/schema.ts';
import { once } from '../once.ts';
import type { EndName, RibPlace, Skeleton } from '../parts/layout/layout.ts';
import { lengthOf, sheetOf } from '../parts/placed/build.ts';
import { solidsOf } from '../parts/placed/solids.ts';
import { type DrawnSize, drawnSizes, inWing, type Stance, sparRings, stancesOf } from '../parts/placed/stance.ts';
import { ringAt, type SparRing } from '../parts/shapes/spar.ts';

/*
 * Where the drawn parts stand, so that gaps, lines and labels sit exactly on the solids: rib and doubler places are
 * read from the solids' own frames, spar faces from the same rings the spars are made of. Wing frame, mm, deviations
 * enlarged.
 */

export interface DrawnPlaces {
  readonly skeleton: Skeleton;
  readonly magnify: number;
  readonly drawn: DrawnSize;
  readonly stances: ReadonlyMap<string, Stance>;
  /** Frame of a part's own axes by part id. */
  readonly frames: Frames;
  readonly rings: Readonly<Partial<Record<SparName, readonly SparRing[]>>>;
}

type Frames = ReadonlyMap<string, Frame>;

/** By how far deviations are enlarged. */
const placesByScale = once((_: Skeleton) => new Map<number, DrawnPlaces>());

/** Frames of the parts by id, from the recipes. */
function framesOf(skeleton: Skeleton, magnify: number): Frames {
  return new Map(
    solidsOf(skeleton, { magnify }).flatMap((part): [string, Frame][] =>
      part.solid.kind === 'placed' ? [[part.id, part.solid.frame]] : [],
    ),
  );
}

/**
 * Where parts stand. Whoever has the frames of the solids at hand may give them, which saves writing the recipes
 * again.
 */
export function drawnPlacesOf(skeleton: Skeleton, magnify: number, frames?: Frames): DrawnPlaces {
  const byScale = placesByScale(skeleton);
  let drawnPlaces = byScale.get(magnify);
  if (!drawnPlaces || (frames && drawnPlaces.frames !== frames)) {
    drawnPlaces = assemble(skeleton, magnify, frames ?? framesOf(skeleton, magnify));
    byScale.set(magnify, drawnPlaces);
  }
  return drawnPlaces;
}

function assemble(skeleton: Skeleton, magnify: number, frames: Frames): DrawnPlaces {
  const list = stancesOf(skeleton, magnify);
  const rings: Partial<Record<SparName, readonly SparRing[]>> = {};
  for (const name of ['front', 'rear'] as const) {
    const spar = skeleton.model.spars[name];
    if (spar) rings[name] = sparRings(skeleton, name, list, { magnify, from: spar.from, to: spar.to });
  }
  return {
    skeleton,
    magnify,
    drawn: drawnSizes(skeleton, magnify),
    stances: new Map(list.map((s) => [s.bay.station.id, s])),
    frames,
    rings,
  };
}

/** +1 where a rib's flanges turn to the right along the span, −1 to the left. */
export const placeTurns = ({ skeleton: { model } }: DrawnPlaces, place: RibPlace): 1 | -1 =>
  flangesPoint(model, place.rib, place.bay.station.y);

/** From a part's own axes to the wing. */
export function fromPart(frame: Frame, [x, y, z]: Vec3): Vec3 {
  const [ax, ay, az] = frame.axes;
  return add(frame.origin, add(add(scale(ax, x), scale(ay, y)), scale(az, z)));
}

/** From a station's section (x aft of the drawn web, z up from mid height) to the wing, at a place y along the span. */
export function fromSection(stance: Stance, x: number, z: number, y = stance.bay.station.y): Vec3 {
  const at = inWing(stance, x, z);
  return [at.x, y, at.z];
}

/**
 * A point of a spar's section at y: `aft` of its web's forward face, `inside` the top (side 1) or bottom (−1) of its
 * cap.
 */
export function onSpar(
  s: DrawnPlaces,
  name: SparName,
  y: number,
  at: { readonly aft: number; readonly inside: number; readonly side: 1 | -1 | 0 },
): Vec3 {
  const rings = s.rings[name];
  if (!rings || rings.length < 2) return [0, y, 0];
  const ring = ringAt(rings, y);
  const z = at.side * (ring.depth / 2 - at.inside);
  const [c, k] = [Math.cos(ring.pitch ?? 0), Math.sin(ring.pitch ?? 0)];
  return [ring.x + at.aft * c + z * k, y, ring.z - at.aft * k + z * c];
}

/** Metal between a spar cap's outside and the room inside it: its sheet and any strip running past y. */
export function capStack(s: DrawnPlaces, name: SparName, y: number, side: 1 | -1): number {
  const spar = s.skeleton.model.spars[name];
  if (!spar) return 0;
  const here = spar.strips.filter(
    (p) => y >= p.from && y <= p.to && (p.caps === 'both' || p.caps === (side === 1 ? 'top' : 'bottom')),
  );
  return sheetOf(s, spar.sheet) + here.reduce((sum, p) => sum + sheetOf(s, p.sheet), 0);
}

/** Which way a rib goes from the end's face: aft from a front end, forward from a rear end or a tail. */
export const inwardOf = (end: EndName): 1 | -1 => (end === 'front' ? 1 : -1);

const hasWeb = (d: Doubler): boolean => d.form === 'channel' || d.on === 'web';

/** Thickness of all that lies between a rib end and the web it meets. */
export const packedBehind = (s: DrawnPlaces, place: RibPlace): number => packs(s, place.doublers);

const packs = (s: DrawnPlaces, doublers: readonly Doubler[]): number =>
  doublers.filter(hasWeb).reduce((sum, d) => sum + sheetOf(s, d.sheet), 0);

/** Thickness of all that lies over (or under) a rib end, inside the cap. */
export function capped(s: DrawnPlaces, place: RibPlace, side: 1 | -1): number {
  const over = place.doublers.filter((d) => d.form === 'channel' || d.on === (side === 1 ? 'top' : 'bottom'));
  return over.reduce((sum, d) => sum + sheetOf(s, d.sheet), 0);
}

/** A rib's height on the drawing, at its front end or where it is tallest. */
export function heightOf(rib: Rib): number {
  switch (rib.kind) {
    case 'main':
      return rib.front.height;
    case 'nose':
      return rib.tail.height;
    case 'tip':
      return rib.height;
  }
}

/** x of an end's face in its rib's own axes. */
export function faceOf(s: DrawnPlaces, { rib, end }: RibPlace): number {
  if (rib.kind === 'nose' || end === 'front') return 0;
  return rib.kind === 'main' ? lengthOf(s, rib) : drawnTipBack(s, rib);
}

/** x of a tip rib's rear face, from its zero at the front web: where its clip puts it, else where the rear web is. */
export function drawnTipBack(s: DrawnPlaces, tip: TipRib): number {
  if (tip.registered === 'front' && tip.clip)
    return lengthOf(s, tip) - tip.clip.forward - (s.drawn(`${tip.id}.clip`) ?? tip.clip.noseToHole);
  const stance = s.stances.get(tip.station);
  if (!stance) return tip.length;
  return stance.rear - stance.front - packs(s, s.skeleton.doublersAt(tip.id, 'rear'));
}

/** Half the height of a rib end over its flanges, as drawn. */
export function halfHeight(s: DrawnPlaces, place: RibPlace): number {
  return Math.max(s.drawn(`${place.rib.id}.${place.end}.height`) ?? place.spec.height, 8 * (place.rib.radius + 1)) / 2;
}
