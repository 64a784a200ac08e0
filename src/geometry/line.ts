/**
 * Straight lines y = a + b x through readings along the span: x is the station, y what was read there (mm, or any one
 * unit). A residual is reading minus line: above nothing where the reading stands higher. Inputs need equal counts.
 */
export interface Line {
  /** Height at x = 0. */
  readonly a: number;
  /** Rise for each unit of x. */
  readonly b: number;
}

/** A fitted line and how well it is known; with no reading to spare the scatter cannot be judged and is NaN. */
export interface LineFit extends Line {
  readonly se_a: number;
  readonly se_b: number;
  readonly residualSd: number;
  readonly r2: number;
}

export const valueAt = (line: Line, x: number): number => line.a + line.b * x;

/**
 * The line through two points: `lineThrough([0, 1], [2, 5])` is a = 1, b = 2. Throws RangeError when it stands
 * upright.
 */
export function lineThrough(p: readonly [number, number], q: readonly [number, number]): Line {
  const b = (q[1] - p[1]) / (q[0] - p[0]);
  if (!Number.isFinite(b)) throw new RangeError('A line needs two points at different stations.');
  return { a: p[1] - b * p[0], b };
}

/** Reading minus line at every station, in the order given. */
export function residuals(line: Line, xs: readonly number[], ys: readonly number[]): number[] {
  return xs.map((x, i) => (ys[i] ?? NaN) - valueAt(line, x));
}

interface Centred {
  readonly n: number;
  readonly xMean: number;
  readonly yMean: number;
  readonly sxx: number;
  readonly sxy: number;
  readonly syy: number;
}

function mean(values: readonly number[]): number {
  const rough = values.reduce((sum, v) => sum + v, 0) / values.length;
  // A second pass takes back what rounding lost in the first.
  return rough + values.reduce((sum, v) => sum + (v - rough), 0) / values.length;
}

function centred(xs: readonly number[], ys: readonly number[]): Centred {
  if (xs.length !== ys.length)
    throw new RangeError(`A line needs one reading a station: ${xs.length} stations, ${ys.length} readings.`);
  if (xs.length < 2) throw new RangeError('A line needs at least two readings.');
  const xMean = mean(xs);
  const yMean = mean(ys);
  let sxx = 0;
  let sxy = 0;
  let syy = 0;
  xs.forEach((x, i) => {
    const dx = x - xMean;
    const dy = (ys[i] ?? NaN) - yMean;
    sxx += dx * dx;
    sxy += dx * dy;
    syy += dy * dy;
  });
  return { n: xs.length, xMean, yMean, sxx, sxy, syy };
}

/** NaN when nothing is left over to judge scatter by. */
const scatter = (sumOfSquares: number, spare: number): number => (spare > 0 ? Math.sqrt(sumOfSquares / spare) : NaN);

/**
 * The line with the least sum of squared residuals: how a spar lies when held straight on average.
 * Assumes the stations are exact and all readings equally good. Throws RangeError for fewer than two stations.
 * Example: heights 0, 1, 1, 2 at 0, 1, 2, 3 give a = 0.1, b = 0.6. Checked with NIST StRD Norris.
 */
export function leastSquaresLine(xs: readonly number[], ys: readonly number[]): LineFit {
  const { n, xMean, yMean, sxx, sxy, syy } = centred(xs, ys);
  if (!(sxx > 0)) throw new RangeError('A line needs readings at two different stations.');
  const b = sxy / sxx;
  const a = yMean - b * xMean;
  let sse = 0;
  xs.forEach((x, i) => {
    sse += ((ys[i] ?? NaN) - yMean - b * (x - xMean)) ** 2;
  });
  const residualSd = scatter(sse, n - 2);
  return {
    a,
    b,
    residualSd,
    se_a: residualSd * Math.sqrt(1 / n + (xMean * xMean) / sxx),
    se_b: residualSd / Math.sqrt(sxx),
    r2: syy > 0 ? 1 - sse / syy : 1,
  };
}

/**
 * The least-squares line held at y = 0 where x = 0, as when the root is the datum. r2 compares with zero, not the mean.
 * Example: 2, 4 at 1, 2 give b = 2. Checked with NIST StRD NoInt1. Throws RangeError when every station is at 0.
 */
export function leastSquaresThroughOrigin(xs: readonly number[], ys: readonly number[]): LineFit {
  if (xs.length !== ys.length)
    throw new RangeError(`A line needs one reading a station: ${xs.length} stations, ${ys.length} readings.`);
  const sum = (term: (x: number, y: number) => number): number =>
    xs.reduce((total, x, i) => total + term(x, ys[i] ?? NaN), 0);
  const sxx = sum((x) => x * x);
  if (!(sxx > 0)) throw new RangeError('A line through the origin needs a reading away from it.');
  const b = sum((x, y) => x * y) / sxx;
  const sse = sum((x, y) => (y - b * x) ** 2);
  const syy = sum((_, y) => y * y);
  const residualSd = scatter(sse, xs.length - 1);
  return { a: 0, b, se_a: 0, se_b: residualSd / Math.sqrt(sxx), residualSd, r2: syy > 0 ? 1 - sse / syy : 1 };
}

/**
 * The line with the least sum of squared distances square to itself: for points whose x and y are equally doubtful
 * and in the same unit, such as hole centres (Pearson 1901). Example: (0,0), (1,1), (2,2) give b = 1.
 * Throws RangeError when the points run upright or lie equally every way, for then y = a + b x has no answer.
 */
export function totalLeastSquaresLine(xs: readonly number[], ys: readonly number[]): Line {
  const { xMean, yMean, sxx, sxy, syy } = centred(xs, ys);
  const steep = syy - sxx;
  const reach = Math.hypot(steep, 2 * sxy);
  // Two forms of one root; each is used where it does not subtract like from like.
  const b = steep < 0 ? (2 * sxy) / (reach - steep) : (steep + reach) / (2 * sxy);
  if (!Number.isFinite(b))
    throw new RangeError('The points run upright or have no direction, so no line y = a + b x fits them.');
  return { a: yMean - b * xMean, b };
}
