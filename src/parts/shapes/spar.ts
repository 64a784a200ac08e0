import { partPoint, toWing } from '../../geometry/frame.ts';
import { channelSection } from '../../geometry/outline.ts';
import { loft, type Solid, sectionFrame } from '../../geometry/solids.ts';
import { between2, type Vec2, type Vec3 } from '../../geometry/vector.ts';
import { drilled, type HoleShape } from './drilled.ts';

/*
 * A spar: one channel bent from sheet, web and two caps, and the strips and web doublers inside it.
 *
 * Wing frame, mm: x aft, y along the span, z up. The web's forward face is its datum, at x of each ring, whichever
 * way the channel opens; the web is in [x, x + thickness]. Opening aft, caps run from x to x + capWidth; opening
 * forward, from x + thickness back to x + thickness − capWidth. Depth is over the caps, cap width over the web. Rings
 * are cuts across y, straight between them; bow moves a ring in x, camber in z, taper changes depth and cap width,
 * twist turns it by `pitch` about its datum (radians, nose up positive). Assumed: both bends alike; caps square to
 * the web but for their droop, which runs straight from the end of the bend to the cap's edge.
 */

export type Opens = 'aft' | 'forward';

/** The channel's section at one place along the span. `z` is its mid height. */
export interface SparRing {
  readonly y: number;
  readonly x: number;
  readonly z: number;
  readonly pitch?: number;
  /** Over the caps. */
  readonly depth: number;
  readonly capWidth: number;
  /** Between the caps' insides, at the web; depth less two sheets unless told. The caps' flats take up what is left. */
  readonly inside?: number;
  /** How much closer the caps are at their edges than at the web, both together; below nothing when they gape. */
  readonly droop?: number;
}

export interface SparShape {
  readonly thickness: number;
  /** Inside bend radius. */
  readonly radius: number;
  readonly opens: Opens;
  /** Two or more, by rising y. */
  readonly stations: readonly SparRing[];
  readonly holes?: readonly HoleShape[];
  /** Facets of each bend; 6 unless told. */
  readonly facets?: number;
}

/**
 * A strip inside one cap from y `from` to `to`, lying on the flat of the cap from the end of the bend to the cap's
 * edge.
 */
export interface StripShape {
  readonly cap: 'top' | 'bottom';
  readonly thickness: number;
  readonly from: number;
  readonly to: number;
  /** Strips already between this one and the cap. */
  readonly under?: number;
}

/**
 * A plate on the web from y `from` to `to`, centred on the web's mid height, aft of it (`side` 1) or forward of it
 * (−1).
 */
export interface WebDoublerShape {
  readonly thickness: number;
  readonly from: number;
  readonly to: number;
  readonly height: number;
  readonly side: 1 | -1;
}

/**
 * Names round `channelSection`, edge by edge from the lower cap's free edge: with legs to +x, the web's outside on x
 * = 0.
 */
export function channelSides(
  radius: number,
  facets: number,
  named: { web: string; inside: string; top: string; bottom: string },
): string[] {
  const { web, inside, top, bottom } = named;
  const bend = (n: number) => Array.from({ length: n }, () => 'bend');
  const inner = bend(radius > 0 ? facets : 0);
  return [
    `${bottom} edge`,
    `${bottom} inside`,
    ...inner,
    inside,
    ...inner,
    `${top} inside`,
    `${top} edge`,
    top,
    ...bend(facets),
    web,
    ...bend(facets),
    bottom,
  ];
}

/**
 * Pieces a twisted web is divided into from cap to cap, so that its facets stay within a few microns of the true
 * warp.
 */
const WARP = 8;
const CAP_WARP = 2;

/**
 * The spar, faces named 'web' (the flat outside), 'web inside', 'top cap', 'bottom cap', their 'inside' and 'edge'
 * faces, 'bend', 'start' and 'end'. Example: depth 80, cap 20, 0.8 thick, radius 3, 1000 long holds 92 385 mm³.
 */
export function sparSolid(shape: SparShape): Solid {
  const { thickness, radius, opens, stations, facets = 6 } = shape;
  const named = channelSides(radius, facets, {
    web: 'web',
    inside: 'web inside',
    top: 'top cap',
    bottom: 'bottom cap',
  });
  const twisted = isTwisted(stations);
  const rings = stations.map((ring) => {
    const outline = drooped(
      ring,
      thickness,
      channelSection({ depth: ring.depth, cap: ring.capWidth, thickness, radius, facets }),
    );
    return placedRing(
      ring,
      (twisted ? warpable(outline, named).outline : outline).map(
        ([x, z]): Vec2 => [opens === 'aft' ? x : thickness - x, z],
      ),
    );
  });
  const sides = twisted ? warpable([], named).sides : named;
  return drilled(loft(rings, { sides, start: 'start', end: 'end' }), shape.holes ?? []);
}

/** The section with its inside at the height it was read, and its cap edges closed or open. */
function drooped(ring: SparRing, thickness: number, outline: readonly Vec2[]): Vec2[] {
  const inner = insideOf(ring, thickness) / 2 - (ring.depth / 2 - thickness);
  const edge = (ring.droop ?? 0) / 2;
  // Outline order: lower cap's edge, its inside, bend, web inside, bend, the upper cap's inside, its edge; then the
  // outside back.
  const last = outline.findIndex(([x, z], i) => i > 1 && x === ring.capWidth && z > 0);
  return outline.map(([x, z], i): Vec2 => {
    const side = Math.sign(z);
    return [x, z + side * ((i >= 1 && i <= last ? inner : 0) - (x === ring.capWidth ? edge : 0))];
  });
}

/** Between the caps' insides at the web, mm. */
export const insideOf = (ring: SparRing, thickness: number): number => ring.inside ?? ring.depth - 2 * thickness;

const isTwisted = (stations: readonly SparRing[]): boolean =>
  stations.some((ring) => (ring.pitch ?? 0) !== (stations[0]?.pitch ?? 0));

/** Names of the edges of a section that lie along a web, and along a cap. */
const WEBS = /^(web|to (spar|part|web)|face)/;
const CAPS = /^((top|bottom) (cap|leg)( inside)?|to cap|inside)$/;

/**
 * A section with the edges of its web and caps divided, and their names with them: its facets can then follow a
 * twist.
 */
export function warpable(outline: readonly Vec2[], sides: readonly string[]): { outline: Vec2[]; sides: string[] } {
  const pieces = (k: number): number => {
    const side = sides[k] ?? '';
    if (WEBS.test(side)) return WARP;
    return CAPS.test(side) ? CAP_WARP : 1;
  };
  return {
    outline: outline.flatMap((p, k) => {
      const q = outline[(k + 1) % outline.length] ?? p;
      return Array.from({ length: pieces(k) }, (_, i) => between2(p, q, i / pieces(k)));
    }),
    sides: sides.flatMap((name, k) => Array.from({ length: pieces(k) }, () => name)),
  };
}

export function stripSolid(spar: SparShape, strip: StripShape): Solid {
  const { thickness: t, radius, opens } = spar;
  const up = strip.cap === 'top' ? 1 : -1;
  const sides = ['to cap', 'edge', 'inside', 'bend side'];
  const twisted = isTwisted(spar.stations);
  const rings = ringsBetween(spar.stations, strip.from, strip.to).map((ring) => {
    const outer = insideOf(ring, t) / 2 - (strip.under ?? 0);
    const edge = outer - (ring.droop ?? 0) / 2;
    const corners: Vec2[] = [
      [t + radius, outer],
      [ring.capWidth, edge],
      [ring.capWidth, edge - strip.thickness],
      [t + radius, outer - strip.thickness],
    ];
    // Divided as the cap it lies on, so that both have the same facets.
    const laid = (twisted ? warpable(corners, sides).outline : corners).map(
      ([x, z]): Vec2 => [opens === 'aft' ? x : t - x, up * z],
    );
    return placedRing(ring, laid);
  });
  return loft(rings, { sides: twisted ? warpable([], sides).sides : sides, start: 'start', end: 'end' });
}

export function webDoublerSolid(spar: SparShape, plate: WebDoublerShape): Solid {
  const half = plate.height / 2;
  const near = plate.side === 1 ? spar.thickness : 0;
  const far = near + plate.side * plate.thickness;
  const sides = ['top edge', 'face', 'bottom edge', 'to web'];
  const twisted = isTwisted(spar.stations);
  const rings = ringsBetween(spar.stations, plate.from, plate.to).map((ring) => {
    const corners: Vec2[] = [
      [near, half],
      [far, half],
      [far, -half],
      [near, -half],
    ];
    return placedRing(ring, twisted ? warpable(corners, sides).outline : corners);
  });
  return loft(rings, { sides: twisted ? warpable([], sides).sides : sides, start: 'start', end: 'end' });
}

/** The spar's section at any y, straight between rings and carried on straight beyond the ends. */
export function ringAt(stations: readonly SparRing[], y: number): SparRing {
  const first = stations[0];
  const last = stations[stations.length - 1];
  if (first === undefined || last === undefined || first === last)
    throw new RangeError('a spar needs two rings or more');
  // The first ring at y or beyond, by halving; past the last, the last.
  let [low, after] = [0, stations.length - 1];
  while (low < after) {
    const middle = (low + after) >> 1;
    if ((stations[middle]?.y ?? y) < y) low = middle + 1;
    else after = middle;
  }
  after = Math.max(after, 1);
  const a = stations[after - 1] ?? first;
  const b = stations[after] ?? last;
  const s = b.y === a.y ? 0 : (y - a.y) / (b.y - a.y);
  return mixedRing(a, b, s, y);
}

/** The section a share of the way from ring a to ring b. */
export function mixedRing(a: SparRing, b: SparRing, share: number, y: number): SparRing {
  const mix = (p: number, q: number) => p + (q - p) * share;
  return {
    y,
    x: mix(a.x, b.x),
    z: mix(a.z, b.z),
    pitch: mix(a.pitch ?? 0, b.pitch ?? 0),
    depth: mix(a.depth, b.depth),
    capWidth: mix(a.capWidth, b.capWidth),
    ...(a.inside !== undefined && b.inside !== undefined ? { inside: mix(a.inside, b.inside) } : {}),
    ...(a.droop || b.droop ? { droop: mix(a.droop ?? 0, b.droop ?? 0) } : {}),
  };
}

/** The rings of a piece that runs along part of the spar: its two ends and every ring between. */
function ringsBetween(stations: readonly SparRing[], from: number, to: number): SparRing[] {
  return [ringAt(stations, from), ...stations.filter((s) => s.y > from && s.y < to), ringAt(stations, to)];
}

/** A point of a spar's section (x aft of its datum face, z above mid height) in the wing frame. */
export function onRing(ring: SparRing, x: number, z: number): Vec3 {
  const frame = sectionFrame([ring.x, ring.y, ring.z], ring.pitch ?? 0);
  return toWing(frame, partPoint(x, 0, z));
}

/** The wing point in the axes of the section at its own y: aft of the spar's datum face, above its mid height. */
export function toRing(ring: SparRing, [x, , z]: Vec3): Vec2 {
  const [c, s] = [Math.cos(ring.pitch ?? 0), Math.sin(ring.pitch ?? 0)];
  const [dx, dz] = [x - ring.x, z - ring.z];
  return [dx * c - dz * s, dx * s + dz * c];
}

function placedRing(ring: SparRing, outline: readonly Vec2[]): Vec3[] {
  const frame = sectionFrame([ring.x, ring.y, ring.z], ring.pitch ?? 0);
  return outline.map(([x, z]) => toWing(frame, partPoint(x, 0, z)));
}
