/*
 * What do its neighbours say of a reading? A line through the nearest of them by repeated medians, which up to half
 * of them may spoil (A. F. Siegel, Robust regression using repeated medians, Biometrika 69, 1982), and how surely it
 * is known.
 */

/** One reading of a row of like ones. */
export interface Told {
  /** Where it stands in the row, mm. */
  readonly at: number;
  readonly value: number;
  /** Its own standard uncertainty. */
  readonly u: number;
}

/** A value expected, and one standard doubt of it. */
export interface Expected {
  readonly value: number;
  readonly u: number;
}

/** So many neighbours are asked, the nearest. */
const NEAREST = 8;
/** From so many on a line is laid through them; fewer are taken to be alike. */
const FOR_A_LINE = 4;
/** The median of departures to one standard deviation, for a normal distribution. */
const TO_SIGMA = 1.4826;

/** The middle value; of an even number the mean of the two in the middle. */
export function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const half = Math.floor(sorted.length / 2);
  const [low, high] = [sorted[half - 1] ?? 0, sorted[half] ?? 0];
  return sorted.length % 2 === 1 ? high : (low + high) / 2;
}

/** Slope by repeated medians: of each point's slopes to the others the middle one, and of these the middle one. */
function slopeOf(told: readonly Told[]): number {
  const slopes = told.flatMap((p) => {
    const own = told.filter((q) => q.at !== p.at).map((q) => (q.value - p.value) / (q.at - p.at));
    return own.length > 0 ? [median(own)] : [];
  });
  return slopes.length > 0 ? median(slopes) : 0;
}

/** Spread of departures from what is common to them; `free` is how many numbers were fitted. */
function spreadOf(departures: readonly number[], free: number): number {
  const n = departures.length;
  const small = n / Math.max(n - free, 1);
  return TO_SIGMA * small * median(departures.map(Math.abs));
}

/**
 * What the others say of a place in the row, and how surely: `smooth` is how far an honest row departs from smooth, one
 * standard deviation; at least two others must have something to say. Two that differ leave much doubt, three or more
 * outvote one.
 *
 * @example of 60.1, 60.3 and 601 at 0, 300 and 900 with `smooth` 0.5 at 600 they say 60.3 ± 0.7.
 */
export function saidByOthers(at: number, others: readonly Told[], smooth: number): Expected | undefined {
  if (others.length < 2) return undefined;
  const near = [...others].sort((a, b) => Math.abs(a.at - at) - Math.abs(b.at - at)).slice(0, NEAREST);
  const isLine = near.length >= FOR_A_LINE;
  const slope = isLine ? slopeOf(near) : 0;
  const level = median(near.map((t) => t.value - slope * t.at));
  const value = level + slope * at;
  const spread = spreadOf(
    near.map((t) => t.value - level - slope * t.at),
    isLine ? 2 : 1,
  );
  const middle = near.reduce((sum, t) => sum + t.at, 0) / near.length;
  const reach = near.reduce((sum, t) => sum + (t.at - middle) ** 2, 0);
  const lever = isLine && reach > 0 ? (at - middle) ** 2 / reach : 0;
  const one = Math.hypot(smooth, spread, median(near.map((t) => t.u)));
  return { value, u: one * Math.sqrt(1 + 1 / near.length + lever) };
}

/** How many of its own doubts a reading is off what is expected of it. */
export const doubtsOff = (told: Told, expected: Expected): number =>
  Math.abs(told.value - expected.value) / Math.hypot(expected.u, told.u);
