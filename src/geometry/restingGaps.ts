/** Many draws of the same row of points, point by point: draw i of point p is at p × stride + i. */
export interface Draws {
  readonly values: Float64Array;
  readonly stride: number;
}

/** The mean of rounded stations may miss a corner by rounding alone: this share of the whole row. */
const BALANCED = 1e-12;

/**
 * For draw i: how far each point lies under a straight edge laid on the highest of them with the least total height
 * above them all (as `touchingLine`), into `out`, laid out alike. `ys` are the stations, rising; `corners` is room
 * for as many numbers as there are points and one more, and its content means nothing before or after.
 *
 * @example stations 0, 10, 40 with points at 0, 3, 1: the edge rests on the last two, the first lies 3.667 under it
 */
export function restingGaps(out: Draws, points: Draws, ys: readonly number[], i: number, corners: Int32Array): void {
  const { values, stride } = points;
  const n = ys.length;
  let top = 0;
  let mean = 0;
  for (let p = 0; p < n; p++) {
    mean += ys[p]! / n;
    const u = values[p * stride + i]!;
    while (top >= 2) {
      const [b, a] = [corners[top - 1]!, corners[top - 2]!];
      const [ub, ua] = [values[b * stride + i]!, values[a * stride + i]!];
      if ((ub - ua) * (ys[p]! - ys[a]!) - (u - ua) * (ys[b]! - ys[a]!) > 0) break;
      top--;
    }
    corners[top++] = p;
  }
  const slopeFrom = (e: number): number => {
    const [a, b] = [corners[e]!, corners[e + 1]!];
    return (values[b * stride + i]! - values[a * stride + i]!) / (ys[b]! - ys[a]!);
  };
  let e = 0;
  while (e + 2 < top && ys[corners[e + 1]!]! < mean) e++;
  // Balanced on one corner, both edges do equally well: the flatter.
  const slack = BALANCED * (ys[n - 1]! - ys[0]!);
  const corner = [e, e + 1].find((k) => k > 0 && k + 1 < top && Math.abs(ys[corners[k]!]! - mean) <= slack);
  if (corner !== undefined) e = Math.abs(slopeFrom(corner)) < Math.abs(slopeFrom(corner - 1)) ? corner : corner - 1;
  const a = corners[e]!;
  const ua = values[a * stride + i]!;
  const slope = slopeFrom(e);
  for (let p = 0; p < n; p++) {
    const gap = ua + slope * (ys[p]! - ys[a]!) - values[p * stride + i]!;
    out.values[p * out.stride + i] = Math.max(0, gap);
  }
}
