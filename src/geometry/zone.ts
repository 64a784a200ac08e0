import { type Line, lineThrough } from './line.ts';

/** The middle line of the narrowest straight lane that holds every point. */
export interface Zone extends Line {
  /** Edge to edge. Measured along y for `vertical`, square to the lane for `perpendicular`. */
  readonly width: number;
  /** The places in the input of the two points on one edge and the one on the other: what the width hangs on. */
  readonly edge: readonly [number, number];
  readonly opposite: number;
}

/** A straight edge laid on top of the points. */
export interface Touching extends Line {
  /** The places in the input of the points it rests on. */
  readonly rests: readonly [number, number];
  /** Sum of the heights of the line above the points. */
  readonly total: number;
  /** Set when the balance falls on this one point, so that the edge can rock on it; the flatter rest is returned. */
  readonly rocksOn: number | undefined;
}

interface Placed {
  readonly x: number;
  readonly y: number;
  readonly i: number;
}

/** The points from left to right, one a station: the highest there, or the lowest. Sorts only what is not sorted. */
function leftToRight(xs: readonly number[], ys: readonly number[], side: 1 | -1): Placed[] {
  if (xs.length !== ys.length)
    throw new RangeError(`A line needs one reading a station: ${xs.length} stations, ${ys.length} readings.`);
  const placed = xs.map((x, i): Placed => ({ x, y: ys[i] ?? NaN, i }));
  if (placed.some((p) => !Number.isFinite(p.x) || !Number.isFinite(p.y)))
    throw new RangeError('A line needs finite stations and readings.');
  if (xs.some((x, i) => x < (xs[i - 1] ?? -Infinity))) placed.sort((p, q) => p.x - q.x);
  const kept: Placed[] = [];
  for (const p of placed) {
    const last = kept.at(-1);
    if (last === undefined || last.x !== p.x) kept.push(p);
    else if (side * p.y > side * last.y) kept[kept.length - 1] = p;
  }
  return kept;
}

/** The corners a string takes when drawn tight over the points (side 1) or under them (side -1), left to right. */
function hull(xs: readonly number[], ys: readonly number[], side: 1 | -1): Placed[] {
  const corners: Placed[] = [];
  for (const p of leftToRight(xs, ys, side)) {
    for (;;) {
      const b = corners.at(-1);
      const a = corners.at(-2);
      if (a === undefined || b === undefined) break;
      if (side * ((b.y - a.y) * (p.x - a.x) - (p.y - a.y) * (b.x - a.x)) > 0) break;
      corners.pop();
    }
    corners.push(p);
  }
  if (corners.length < 2) throw new RangeError('A line needs readings at two different stations.');
  return corners;
}

/**
 * The minimum zone of straightness: how crooked a nose line or cap is at the very least. Exact: the narrowest lane has
 * an edge of the points' hull on one side and a corner on the other, and every such pair is tried, in n log n steps.
 * Perpendicular zones are taken among lines y = a + b x, which an upright row of points has not.
 * Example: 0, .004, .003, .012, .006 at 0, 6, 12, 18, 24 give .0075 (row SL-1). Definition: ISO 12780-1.
 * Throws RangeError for fewer than two stations.
 */
export function minimumZone(xs: readonly number[], ys: readonly number[], sense: 'vertical' | 'perpendicular'): Zone {
  const over = hull(xs, ys, 1);
  const under = hull(xs, ys, -1);
  const above = narrowest(over, under, 1, sense);
  const below = narrowest(under, over, -1, sense);
  return below.width < above.width ? below : above;
}

/** The narrowest lane with an edge on `corners`; the far corner only ever moves left as the edges go right. */
function narrowest(
  corners: readonly Placed[],
  facing: readonly Placed[],
  side: 1 | -1,
  sense: 'vertical' | 'perpendicular',
): Zone {
  let best: Zone | undefined;
  let far = facing.length - 1;
  for (let k = 1; k < corners.length; k++) {
    const p = corners[k - 1]!;
    const q = corners[k]!;
    const { b } = lineThrough([p.x, p.y], [q.x, q.y]);
    const depth = (r: Placed): number => side * (p.y - r.y - b * (p.x - r.x));
    while (far > 0 && depth(facing[far - 1]!) >= depth(facing[far]!)) far--;
    const opposite = facing[far]!;
    const tall = Math.max(0, depth(opposite));
    const width = sense === 'vertical' ? tall : tall / Math.hypot(1, b);
    if (best === undefined || width < best.width) {
      best = { a: p.y - b * p.x - (side * tall) / 2, b, width, edge: [p.i, q.i], opposite: opposite.i };
    }
  }
  return best!;
}

/**
 * A straight edge lying on or above all the points with the least total height above them: how a stiff spar rests on
 * uneven rib ends. Turned upside down (negate y) it is the edge that hangs below. Exact: the total is the count times
 * the line's height over the mean station, so the answer is the hull's edge across that station.
 * When the mean station is a corner, both edges and all between them do equally well: the flatter is returned, the left
 * one if they are equally steep, and `rocksOn` names the corner.
 * Example: 0, 3, 1 at 0, 10, 40 rest on the last two: b = -1/15, total 3.667. Throws RangeError for fewer than two
 * stations.
 */
export function touchingLine(xs: readonly number[], ys: readonly number[]): Touching {
  const corners = hull(xs, ys, 1);
  const left = corners[0]!.x;
  const reach = corners.at(-1)!.x - left;
  const balance = left + xs.reduce((sum, x) => sum + (x - left), 0) / xs.length;
  const edgeFrom = (k: number): Line & { readonly rests: readonly [number, number] } => {
    const p = corners[k]!;
    const q = corners[k + 1]!;
    return { ...lineThrough([p.x, p.y], [q.x, q.y]), rests: [p.i, q.i] };
  };
  let at = 0;
  while (at + 2 < corners.length && corners[at + 1]!.x < balance) at++;
  // The mean of rounded stations may miss a corner by rounding alone.
  const near = [at, at + 1].find(
    (k) => k > 0 && k + 1 < corners.length && Math.abs(corners[k]!.x - balance) <= 1e-12 * reach,
  );
  let chosen = edgeFrom(at);
  if (near !== undefined) {
    const before = edgeFrom(near - 1);
    const after = edgeFrom(near);
    chosen = Math.abs(after.b) < Math.abs(before.b) ? after : before;
  }
  const p = chosen.rests[0];
  const total = xs.reduce((sum, x, i) => sum + Math.max(0, ys[p]! + chosen.b * (x - xs[p]!) - ys[i]!), 0);
  return { ...chosen, total, rocksOn: near === undefined ? undefined : corners[near]!.i };
}
