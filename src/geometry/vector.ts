/**
 * Plain triples and pairs; whose frame they are in is said by the types of `frame.ts`. Nothing here changes its
 * input.
 */
export type Vec2 = readonly [x: number, y: number];
export type Vec3 = readonly [x: number, y: number, z: number];

export const add = (a: Vec3, b: Vec3): Vec3 => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
export const subtract = (a: Vec3, b: Vec3): Vec3 => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
export const scale = (a: Vec3, factor: number): Vec3 => [a[0] * factor, a[1] * factor, a[2] * factor];
export const dot = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

/** Right-handed: x cross y is z. */
export const cross = (a: Vec3, b: Vec3): Vec3 => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];

export const norm = (a: Vec3): number => Math.hypot(a[0], a[1], a[2]);
export const distance = (a: Vec3, b: Vec3): number => norm(subtract(a, b));

/**
 * The same way, length one; a direction of no length is refused: `unit([0, 0, 4])` is `[0, 0, 1]`. Throws RangeError.
 */
export function unit(a: Vec3): Vec3 {
  const length = norm(a);
  if (!(length > 0) || !Number.isFinite(length)) throw new RangeError('A direction needs a length above nothing.');
  return scale(a, 1 / length);
}

/** The point a share of the way from a to b: `between([0, 0, 0], [10, 0, 0], 0.3)` is `[3, 0, 0]`. */
export const between = (a: Vec3, b: Vec3, share: number): Vec3 => [
  a[0] + (b[0] - a[0]) * share,
  a[1] + (b[1] - a[1]) * share,
  a[2] + (b[2] - a[2]) * share,
];

export const distance2 = (a: Vec2, b: Vec2): number => Math.hypot(b[0] - a[0], b[1] - a[1]);

/** Above nothing when b lies counterclockwise of a. */
export const cross2 = (a: Vec2, b: Vec2): number => a[0] * b[1] - a[1] * b[0];

/** The point a share of the way from a to b, in the plane. */
export const between2 = (a: Vec2, b: Vec2, share: number): Vec2 => [
  a[0] + (b[0] - a[0]) * share,
  a[1] + (b[1] - a[1]) * share,
];
