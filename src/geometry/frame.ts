import { add, cross, dot, scale, subtract, unit, type Vec3 } from './vector.ts';

declare const inWing: unique symbol;
declare const inPart: unique symbol;

/** A point of the whole panel, mm: x aft, y to the right along the span, z up. */
export type WingPoint = Vec3 & { readonly [inWing]: true };
/** A point in a part's own drawing, mm: what its axes mean is the part's word. */
export type PartPoint = Vec3 & { readonly [inPart]: true };

// The brand has no value at run time, so these two casts are the only way in.
export const wingPoint = (x: number, y: number, z: number): WingPoint => [x, y, z] as unknown as WingPoint;
export const partPoint = (x: number, y: number, z: number): PartPoint => [x, y, z] as unknown as PartPoint;

/**
 * Where a part lies: its origin, and which way its own x, y and z run, both told in the wing frame.
 * The axes are square to each other and one long; a mirrored part (the left of a pair) has left-handed axes.
 */
export interface Frame {
  readonly origin: WingPoint;
  readonly axes: readonly [x: Vec3, y: Vec3, z: Vec3];
}

/**
 * A frame from an origin and two directions. y is squared up to x, z follows right-handed (or left-handed when
 * asked). Example: a rib drawn x aft, y up: `frameFrom(wingPoint(0, 400, 0), [1, 0, 0], [0, 0, 1])` has its z along
 * -y of the wing. Throws RangeError when the two directions lie along each other.
 */
export function frameFrom(origin: WingPoint, x: Vec3, y: Vec3, hand: 'right' | 'left' = 'right'): Frame {
  const first = unit(x);
  const towards = unit(y);
  const square = subtract(towards, scale(first, dot(towards, first)));
  if (dot(square, square) < 1e-18)
    throw new RangeError('A frame needs two directions that do not lie along each other.');
  const second = unit(square);
  const third = cross(first, second);
  return { origin, axes: [first, second, hand === 'right' ? third : scale(third, -1)] };
}

/** The same place seen in the mirror through the wing's root plane y = 0: right panel to left panel, and back. */
export function mirrored(frame: Frame): Frame {
  const flip = ([x, y, z]: Vec3): Vec3 => [x, -y, z];
  const [x, y, z] = frame.axes;
  const [ox, oy, oz] = frame.origin;
  return { origin: wingPoint(ox, -oy, oz), axes: [flip(x), flip(y), flip(z)] };
}

/** 1 for right-handed axes, -1 for a mirrored part. */
export function handOf({ axes: [x, y, z] }: Frame): 1 | -1 {
  return dot(cross(x, y), z) < 0 ? -1 : 1;
}

/** From the part's drawing to the panel. Example: origin y = 400, axes as the wing's: (1, 2, 3) is at (1, 402, 3). */
export function toWing(frame: Frame, p: PartPoint): WingPoint {
  const [x, y, z] = add(frame.origin, directionToWing(frame, p));
  return wingPoint(x, y, z);
}

/** From the panel to the part's drawing; undoes `toWing`. */
export function toPart(frame: Frame, p: WingPoint): PartPoint {
  const [x, y, z] = directionToPart(frame, subtract(p, frame.origin));
  return partPoint(x, y, z);
}

/** Turns a direction, such as a face's outward normal, without moving it; lengths and angles stay. */
export function directionToWing({ axes: [x, y, z] }: Frame, d: Vec3): Vec3 {
  return add(add(scale(x, d[0]), scale(y, d[1])), scale(z, d[2]));
}

export function directionToPart({ axes: [x, y, z] }: Frame, d: Vec3): Vec3 {
  return [dot(x, d), dot(y, d), dot(z, d)];
}
