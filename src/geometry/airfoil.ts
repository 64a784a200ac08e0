import { between2, type Vec2 } from './vector.ts';

/**
 * The outside of a section, x aft from the nose and y up: one path from the trailing edge over the top to the nose and
 * back underneath. Of chord one unless it was `sized`. Its x never turns back between the nose and an end.
 */
export interface AirfoilProfile {
  readonly points: readonly Vec2[];
  /** The place in `points` of the foremost point. */
  readonly nose: number;
}

/** A four-digit section in shares of the chord: greatest camber, where that lies, and greatest thickness. */
export interface NacaDigits {
  readonly camber: number;
  readonly at: number;
  readonly thickness: number;
}

/** `nacaDigits('2412')` is camber .02 at .4, thickness .12. Undefined for text that names no such section. */
export function nacaDigits(code: string): NacaDigits | undefined {
  const found = /^(\d)(\d)(\d\d)$/.exec(code);
  if (found === null) return undefined;
  const digits = { camber: Number(found[1]) / 100, at: Number(found[2]) / 10, thickness: Number(found[3]) / 100 };
  return digits.thickness === 0 || (digits.camber > 0 && digits.at === 0) ? undefined : digits;
}

export interface NacaPlace {
  readonly upper: Vec2;
  readonly lower: Vec2;
  /** Half the thickness, laid off square to the camber line. */
  readonly half: number;
  readonly camber: number;
  /** Of the camber line. */
  readonly slope: number;
}

/**
 * Both surfaces at a place x (0 to 1) of the camber line, by the published formula (NACA Report 460). The open trailing
 * edge is the formula's own; closed changes its last figure from .1015 to .1036, which is usual but from memory.
 * Example: 2412 at 0.2 has its upper point at (0.197135, 0.072304), row 4.6.
 */
export function nacaAt(
  { camber: m, at: p, thickness }: NacaDigits,
  x: number,
  trailingEdge: 'open' | 'closed' = 'open',
): NacaPlace {
  const last = trailingEdge === 'open' ? 0.1015 : 0.1036;
  const shape = 0.2969 * Math.sqrt(x) - x * (0.126 + x * (0.3516 - x * (0.2843 - x * last)));
  const half = trailingEdge === 'closed' && x === 1 ? 0 : (thickness / 0.2) * shape;
  const ahead = x < p;
  const room = ahead ? p : 1 - p;
  const share = m === 0 ? 0 : m / (room * room);
  const camber = share * (ahead ? 2 * p * x - x * x : 1 - 2 * p + 2 * p * x - x * x);
  const slope = share * 2 * (p - x);
  const cos = 1 / Math.hypot(1, slope);
  const sin = slope * cos;
  return {
    upper: [x - half * sin, camber + half * cos],
    lower: [x + half * sin, camber - half * cos],
    half,
    camber,
    slope,
  };
}

/**
 * A four-digit section of chord one with `count` points a surface, close together at nose and trailing edge (cosine
 * spacing). Closed, its first and last points fall together. Example: 0012 is 0.120 thick at three tenths.
 */
export function nacaProfile(
  digits: NacaDigits,
  options: { readonly count?: number; readonly trailingEdge?: 'open' | 'closed' } = {},
): AirfoilProfile {
  const { count = 81, trailingEdge = 'closed' } = options;
  if (!(count >= 3)) throw new RangeError('A section needs three points a surface or more.');
  const places = Array.from({ length: count }, (_, i) =>
    nacaAt(digits, (1 - Math.cos((Math.PI * i) / (count - 1))) / 2, trailingEdge),
  );
  return profileOf([...places.map((place) => place.upper).reverse(), ...places.slice(1).map((place) => place.lower)]);
}

/** A path with its foremost point found, the first of them when several are. */
export function profileOf(points: readonly Vec2[]): AirfoilProfile {
  let nose = 0;
  points.forEach((p, i) => {
    if (p[0] < points[nose]![0]) nose = i;
  });
  return { points, nose };
}

/** The profile at another size, as for a chord of 300 mm: `sized(profile, 300)`. */
export function sized({ points, nose }: AirfoilProfile, factor: number): AirfoilProfile {
  return { points: points.map(([x, y]): Vec2 => [x * factor, y * factor]), nose };
}

/** The point where one surface crosses a station x, and the first place fore of it; undefined beyond the surface. */
function crossing(
  { points, nose }: AirfoilProfile,
  x: number,
  way: 1 | -1,
): { readonly at: Vec2; readonly fore: number } | undefined {
  for (let i = nose; points[i + way] !== undefined; i += way) {
    const [fore, aft] = [points[i]!, points[i + way]!];
    if (fore[0] > x || x > aft[0]) continue;
    const share = aft[0] === fore[0] ? 0 : (x - fore[0]) / (aft[0] - fore[0]);
    return { at: [x, between2(fore, aft, share)[1]], fore: fore[0] < x ? i : i - way };
  }
  return undefined;
}

/**
 * How high each surface stands at x, straight between points; undefined before the nose or behind the trailing edge.
 */
export function heightsAt(
  profile: AirfoilProfile,
  x: number,
): { readonly upper: number; readonly lower: number } | undefined {
  const [top, bottom] = [crossing(profile, x, -1), crossing(profile, x, 1)];
  return top === undefined || bottom === undefined ? undefined : { upper: top.at[1], lower: bottom.at[1] };
}

/**
 * The outside of a nose rib: the profile ahead of a cut at x, from the upper cut point round the nose to the lower one.
 * Undefined when the cut misses the section. Example: `frontPart(profile, 0.2)` of a 0012 is 0.115 high at its ends.
 */
export function frontPart(profile: AirfoilProfile, xCut: number): Vec2[] | undefined {
  const [top, bottom] = [crossing(profile, xCut, -1), crossing(profile, xCut, 1)];
  const nose = profile.points[profile.nose];
  if (top === undefined || bottom === undefined || nose === undefined || !(xCut > nose[0])) return undefined;
  return [top.at, ...profile.points.slice(top.fore, bottom.fore + 1), bottom.at];
}

export interface EllipseFront {
  /** Nose point to cut. */
  readonly length: number;
  /** Upper cut point to lower. */
  readonly height: number;
  readonly count: number;
}

/**
 * Half an ellipse as a nose: from (length, height/2) round (0, 0) to (length, -height/2). An odd count has the nose
 * point itself.
 */
export function ellipseFront({ length, height, count }: EllipseFront): Vec2[] {
  return Array.from({ length: count }, (_, i): Vec2 => {
    if (i === 0 || i === count - 1) return [length, i === 0 ? height / 2 : -height / 2];
    const turn = Math.PI * (0.5 - i / (count - 1));
    return [length * (1 - Math.cos(turn)), (height / 2) * Math.sin(turn)];
  });
}
