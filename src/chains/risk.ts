import { NEAR } from '../units/near.ts';
import { chance, chanceBoth } from './normal.ts';

/*
 * How likely a verdict is to be of no use, now and after one more reading: unsettled, or settled and wrong. All
 * closed form for normal sizes. A verdict is drawn from the interval best ± 2u against two thresholds a side: wholly
 * inside the inner band it fits, wholly outside the outer one it must be acted on, inside the outer one it is to be
 * watched, else it is unsettled. Settled and wrong: said to fit and beyond the inner band, to watch and beyond the
 * outer, to act and inside.
 */

/** Lower and upper bound; null is open. */
type Bounds = readonly [number | null, number | null];

export interface Thresholds {
  readonly fits: Bounds;
  readonly act: Bounds;
}

/** What one more reading would do to a value known as best ± u. */
export interface Outlook {
  /** Its standard uncertainty afterwards. */
  readonly u: number;
  /** Variance of where its best value will lie, seen from now. */
  readonly spread: number;
  /**
   * Covariance of that with the true value. `spread` again where the reading is weighed with what was known; less
   * where it replaces it.
   */
  readonly tied: number;
}

const low = (b: Bounds): number => b[0] ?? Number.NEGATIVE_INFINITY;
const high = (b: Bounds): number => b[1] ?? Number.POSITIVE_INFINITY;

/** Chance that a standard normal lies between two places. */
const within = (a: number, b: number): number => (b > a ? chance(b) - chance(a) : 0);

/** Loss of a value known as best ± u: 1 when unsettled, else the chance that its verdict is wrong. */
export function lossNow(best: number, u: number, limit: Thresholds): number {
  const [lo, hi] = [best - 2 * u, best + 2 * u];
  const inside = (b: Bounds): number => {
    if (u > 0) return within((low(b) - best) / u, (high(b) - best) / u);
    return best >= low(b) && best <= high(b) ? 1 : 0;
  };
  if (hi < low(limit.act) - NEAR || lo > high(limit.act) + NEAR) return inside(limit.act);
  if (lo >= low(limit.fits) - NEAR && hi <= high(limit.fits) + NEAR) return 1 - inside(limit.fits);
  if (lo >= low(limit.act) - NEAR && hi <= high(limit.act) + NEAR) return 1 - inside(limit.act);
  return 1;
}

/** Chance that a verdict will be settled after the reading, right or wrong. */
export function chanceSettled(best: number, limit: Thresholds, after: Outlook): number {
  const s = Math.sqrt(after.spread);
  const z = (x: number): number => {
    if (s > 0) return (x - best) / s;
    return x > best ? Number.POSITIVE_INFINITY : Number.NEGATIVE_INFINITY;
  };
  const g = 2 * after.u;
  let settled = chance(z(low(limit.act) - g)) + 1 - chance(z(high(limit.act) + g));
  settled += within(z(low(limit.act) + g), z(high(limit.act) - g));
  return Math.min(1, settled);
}

/**
 * Expected loss after the reading. `best` and `u` are of now.
 *
 * @example a value 0.00 ± 0.27 with act beyond ±0.20 is unsettled (loss 1); felt to 0.03 it settles but for a strip of
 * ±0.06 about each threshold: loss 0.27
 */
export function lossAfter(best: number, u: number, limit: Thresholds, after: Outlook): number {
  const s = Math.sqrt(after.spread);
  if (!(s > NEAR * u) || !(u > 0)) return lossNow(best, u, limit);
  const r = Math.min(1, after.tied / (s * u));
  const g = 2 * after.u;
  const below = (m: number, t: number): number => chanceBoth((m - best) / s, (t - best) / u, r);
  const strip = (m0: number, m1: number): number => within((m0 - best) / s, (m1 - best) / s);
  /**
   * Chance of the new best in (m0, m1) and the truth in (t0, t1); nothing where the new best hardly ever gets there.
   */
  const box = (m0: number, m1: number, t0: number, t1: number): number =>
    m1 > m0 && t1 > t0 && strip(m0, m1) > 1e-6 ? below(m1, t1) - below(m0, t1) - below(m1, t0) + below(m0, t0) : 0;
  const [a, b] = [low(limit.act), high(limit.act)];
  const [f0, f1] = [low(limit.fits) + g, high(limit.fits) - g];
  const [w0, w1] = [a + g, b - g];
  const no = Number.NEGATIVE_INFINITY;
  const yes = Number.POSITIVE_INFINITY;
  let wrong = box(no, a - g, a, b) + box(b + g, yes, a, b);
  let settled = strip(no, a - g) + strip(b + g, yes) + strip(w0, w1);
  /** Chance of the new best in (m0, m1) and the truth outside (t0, t1). */
  const miss = (m0: number, m1: number, t0: number, t1: number): number =>
    strip(m0, m1) > 1e-6 ? strip(m0, m1) - box(m0, m1, t0, t1) : 0;
  if (f1 > f0) {
    wrong += miss(f0, f1, low(limit.fits), high(limit.fits)) + miss(w0, f0, a, b) + miss(f1, w1, a, b);
    if (w1 <= w0) settled += strip(f0, f1);
  } else wrong += miss(w0, w1, a, b);
  settled = Math.min(1, settled);
  return Math.max(0, 1 - settled + wrong);
}
