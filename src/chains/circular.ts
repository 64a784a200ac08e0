import { NEAR } from '../units/near.ts';
import { chance } from './normal.ts';

/*
 * How likely a hole that wanders both ways stays inside a circle: the plane normal distribution over a disc. Rayleigh
 * (no offset, equal), Rice (an offset) and Hoyt (unequal) are its special cases; one integral serves all.
 */

/** A wandering point: mean and standard uncertainty along two square axes, mm. */
export interface Wander {
  readonly along: number;
  readonly up: number;
  readonly uAlong: number;
  readonly uUp: number;
}

// Gauss-Legendre, 16 points on [-1, 1] (Abramowitz and Stegun, table 25.4).
const NODES = [
  0.0950125098376374, 0.2816035507792589, 0.4580167776572274, 0.6178762444026438, 0.755404408355003, 0.8656312023878318,
  0.9445750230732326, 0.9894009349916499,
];
const WEIGHTS = [
  0.1894506104550685, 0.1826034150449236, 0.1691565193950025, 0.1495959888165767, 0.1246289712555339,
  0.0951585116824928, 0.0622535239386479, 0.0271524594117541,
];
const PANELS = 8;

function integrate(f: (t: number) => number, a: number, b: number): number {
  const half = (b - a) / PANELS / 2;
  let sum = 0;
  for (let k = 0; k < PANELS; k++) {
    const mid = a + half * (2 * k + 1);
    for (let i = 0; i < 8; i++) sum += WEIGHTS[i]! * (f(mid - half * NODES[i]!) + f(mid + half * NODES[i]!));
  }
  return sum * half;
}

/** Chance that a normal value lies between two others. */
function between(low: number, high: number, mean: number, u: number): number {
  if (u > 0) return chance((high - mean) / u) - chance((low - mean) / u);
  return mean >= low && mean <= high ? 1 : 0;
}

/**
 * Where the chance across turns from one to nothing, in standard uncertainties about the rim: each piece between is
 * smooth.
 */
const TURNS = [-7, -2, 2, 7];

/**
 * Chance that a wandering point lies within `radius` of the origin. No offset and equal u: 1 - exp(-R²/2u²) (Rayleigh).
 *
 * @example `chanceWithin(1, { along: 0, up: 0, uAlong: 1, uUp: 1 })` = 0.3935
 */
export function chanceWithin(radius: number, wander: Wander): number {
  const { along, up, uAlong, uUp } = wander;
  if (uAlong === 0 && uUp === 0) return Math.hypot(along, up) <= radius + NEAR ? 1 : 0;
  if (!(radius > 0)) return 0;
  if (along === 0 && up === 0 && uAlong === uUp) return -Math.expm1((-radius * radius) / (2 * uUp * uUp));
  // Integrated along the surer axis: across it, the chance turns no faster than the less sure one lets it.
  if (uAlong > uUp) return chanceWithin(radius, { along: up, up: along, uAlong: uUp, uUp: uAlong });
  if (uAlong === 0) {
    const reach = Math.sqrt(Math.max(0, radius * radius - along * along));
    return Math.abs(along) > radius ? 0 : between(-reach, reach, up, uUp);
  }
  const low = Math.max(-radius, along - 9 * uAlong);
  const high = Math.min(radius, along + 9 * uAlong);
  if (low >= high) return 0;
  // x = R sin t takes the square root at the rim out of the integrand.
  const inner = (t: number): number => {
    const x = radius * Math.sin(t);
    const reach = radius * Math.cos(t);
    const z = (x - along) / uAlong;
    return (Math.exp(-0.5 * z * z) / (uAlong * Math.sqrt(2 * Math.PI))) * between(-reach, reach, up, uUp) * reach;
  };
  const [from, to] = [Math.asin(low / radius), Math.asin(high / radius)];
  const turns = TURNS.map((k) => (Math.abs(up) + k * uUp) / radius).filter((c) => c > 0 && c < 1);
  const edges = turns.map(Math.acos).flatMap((t) => [-t, t]);
  const cuts = [from, ...edges.filter((t) => t > from && t < to).sort((p, q) => p - q), to];
  let sum = 0;
  for (let i = 1; i < cuts.length; i++) sum += integrate(inner, cuts[i - 1]!, cuts[i]!);
  return Math.min(1, Math.max(0, sum));
}

/**
 * The radius a wandering point stays within, with chance p: found by halving. No offset, equal u: u √(-2 ln(1 - p)).
 */
export function radiusWithin(p: number, wander: Wander): number {
  let low = 0;
  let high = Math.hypot(wander.along, wander.up) + 9 * Math.max(wander.uAlong, wander.uUp);
  for (let i = 0; i < 60; i++) {
    const mid = (low + high) / 2;
    if (chanceWithin(mid, wander) < p) low = mid;
    else high = mid;
  }
  return (low + high) / 2;
}
