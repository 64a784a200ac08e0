import { signedArea } from '../../geometry/outline.ts';
import { distance2, type Vec2 } from '../../geometry/vector.ts';
import type { FlatPattern, FlatPoint } from './flatPattern.ts';

/*
 * Measures of a flat outline with arcs, and the easing of its inside corners. mm.
 */

/** Centre, radius and angles of a side's arc; `turn` is signed, counterclockwise positive. */
export interface SideArc {
  readonly centre: Vec2;
  readonly radius: number;
  readonly from: number;
  readonly turn: number;
}

/** The arc of a side from a to b. Example: (1, 0) to (0, 1) with bulge tan(pi/8) is a quarter about (0, 0). */
export function sideArc(a: Vec2, b: Vec2, bulge: number): SideArc {
  const turn = 4 * Math.atan(bulge);
  const chord = distance2(a, b);
  const radius = chord / (2 * Math.sin(Math.abs(turn) / 2));
  const [mx, my] = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
  // From the chord's middle to the centre, left of the way when the arc is a short counterclockwise one.
  const off = chord / 2 / Math.tan(turn / 2);
  const centre: Vec2 = [mx - ((b[1] - a[1]) / chord) * off, my + ((b[0] - a[0]) / chord) * off];
  return { centre, radius, from: Math.atan2(a[1] - centre[1], a[0] - centre[0]), turn };
}

const sides = (outline: readonly FlatPoint[]): { a: Vec2; b: Vec2; bulge: number }[] =>
  outline.map((p, i) => ({ a: p.at, b: (outline[i + 1] ?? outline[0] ?? p).at, bulge: p.bulge ?? 0 }));

/** Area held by an outline, arcs counted exactly, mm²; below nothing when clockwise. */
export function outlineArea(outline: readonly FlatPoint[]): number {
  const segments = sides(outline)
    .filter((s) => s.bulge !== 0)
    .reduce((sum, { a, b, bulge }) => {
      const { radius, turn } = sideArc(a, b, bulge);
      return sum + (radius * radius * (turn - Math.sin(turn))) / 2;
    }, 0);
  return signedArea(outline.map((p) => p.at)) + segments;
}

/** Metal of a flat piece, mm³: its holes taken out, holes of its rows not. */
export function flatVolume({ outline, holes, thickness }: FlatPattern): number {
  return thickness * (outlineArea(outline) - holes.reduce((sum, h) => sum + (Math.PI * h.diameter ** 2) / 4, 0));
}

export interface FlatBounds {
  readonly low: Vec2;
  readonly high: Vec2;
}

export function flatBounds(points: readonly Vec2[]): FlatBounds {
  const [xs, ys] = [points.map(([x]) => x), points.map(([, y]) => y)];
  return { low: [Math.min(...xs), Math.min(...ys)], high: [Math.max(...xs), Math.max(...ys)] };
}

/** An outline as straight sides, its arcs in chords that stand off by `sag` at most. */
export function polygonOf(outline: readonly FlatPoint[], sag = 0.01): Vec2[] {
  return sides(outline).flatMap(({ a, b, bulge }) => {
    if (bulge === 0) return [a];
    const { centre, radius, from, turn } = sideArc(a, b, bulge);
    const many = Math.max(2, Math.ceil(Math.abs(turn) / (2 * Math.acos(Math.max(1 - sag / radius, 0)))));
    return Array.from(
      { length: many },
      (_, i): Vec2 =>
        i === 0
          ? a
          : [
              centre[0] + radius * Math.cos(from + (turn * i) / many),
              centre[1] + radius * Math.sin(from + (turn * i) / many),
            ],
    );
  });
}

/** Widest and tallest of a flat piece: what a rectangle round it measures. */
export function flatSize({ outline }: FlatPattern): { readonly width: number; readonly height: number } {
  const { low, high } = flatBounds(polygonOf(outline));
  return { width: high[0] - low[0], height: high[1] - low[1] };
}

/** The same outline the other way round. */
export function reversed(outline: readonly FlatPoint[]): FlatPoint[] {
  const n = outline.length;
  return outline.map((_, k): FlatPoint => {
    const p = outline[n - 1 - k];
    const bulge = outline[(2 * n - 2 - k) % n]?.bulge;
    return { at: p?.at ?? [0, 0], ...(bulge ? { bulge: -bulge } : {}) };
  });
}

/** Counterclockwise, whichever way it was told. */
export const counterclockwise = (outline: readonly FlatPoint[]): FlatPoint[] =>
  outlineArea(outline) < 0 ? reversed(outline) : [...outline];

/**
 * An inside corner a → q → b drilled out by a hole that holds q: the way goes round the hole's rim, through the metal.
 * Throws RangeError when the hole does not hold q, or reaches past a or b.
 */
export function easedCorner(
  a: Vec2,
  q: Vec2,
  b: Vec2,
  hole: { readonly at: Vec2; readonly diameter: number },
): FlatPoint[] {
  const round = roundCorner(a, q, b, hole);
  if (!round) throw new RangeError('a relief hole must hold its corner and leave both edges beside it');
  return round;
}

/** The same, and the sharp corner where no such hole goes between a and b: the metal there is too short for one. */
export const easedOrSharp = (
  a: Vec2,
  q: Vec2,
  b: Vec2,
  hole: { readonly at: Vec2; readonly diameter: number },
): FlatPoint[] => roundCorner(a, q, b, hole) ?? [{ at: q }];

function roundCorner(
  a: Vec2,
  q: Vec2,
  b: Vec2,
  hole: { readonly at: Vec2; readonly diameter: number },
): FlatPoint[] | undefined {
  const [p1, p2] = [rimCrossing(a, q, hole), rimCrossing(b, q, hole)];
  if (!p1 || !p2) return undefined;
  const [cx, cy] = hole.at;
  const [from, to] = [Math.atan2(p1[1] - cy, p1[0] - cx), Math.atan2(p2[1] - cy, p2[0] - cx)];
  // The metal is on the far side of the corner from the two edges.
  const away = Math.atan2(cy - (p1[1] + p2[1]) / 2, cx - (p1[0] + p2[0]) / 2);
  const turned = (angle: number): number => ((angle % (2 * Math.PI)) + 2 * Math.PI) % (2 * Math.PI);
  const ccw = turned(to - from);
  const turn = turned(away - from) < ccw ? ccw : ccw - 2 * Math.PI;
  return [{ at: p1, bulge: Math.tan(turn / 4) }, { at: p2 }];
}

/** Where the way from a point outside a hole to one inside crosses its rim; undefined where it does not. */
function rimCrossing(
  out: Vec2,
  inside: Vec2,
  { at: [cx, cy], diameter }: { readonly at: Vec2; readonly diameter: number },
): Vec2 | undefined {
  const r = diameter / 2;
  const [dx, dy] = [inside[0] - out[0], inside[1] - out[1]];
  const [fx, fy] = [out[0] - cx, out[1] - cy];
  const [p, h, c] = [dx * dx + dy * dy, fx * dx + fy * dy, fx * fx + fy * fy - r * r];
  const root = h * h - p * c;
  const s = (-h - Math.sqrt(Math.max(root, 0))) / p;
  if (!(root >= 0 && s >= 0 && s <= 1)) return undefined;
  return [out[0] + s * dx, out[1] + s * dy];
}
