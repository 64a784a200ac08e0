import { type Chain, combine, uncertainty } from '../../chains/chain.ts';
import { chanceWithin, type Wander } from '../../chains/circular.ts';
import { BLOCK, Sampler } from '../../chains/sampling.ts';
import { smallestHolding } from '../../geometry/circle.ts';
import { NEAR } from '../../units/near.ts';
import { chainOf, type HoleCircle } from './cleanUpDrill.ts';

/*
 * How likely does one drill clean up every layer's hole? Each hole is a circle that may lie anywhere its uncertainty lets it.
 *
 * Following the guide, each layer must stay within half of what the drill adds: where the layers move by themselves that is
 * the product of their chances, each the plane normal over a disc (Rayleigh, Rice, Hoyt). On the best axis two holes are one
 * such disc again. More than two, or layers that move together (one lean turns them all), are sampled.
 */

/** Sampled points: enough for 1 in 100 (0.5 √(1/n) and better, for they are spread evenly). */
const POINTS = 4096;
const SEED = 20;

function apart(a: HoleCircle, b: HoleCircle): Wander {
  const [along, up] = [
    combine([1, chainOf(a, 'along')], [-1, chainOf(b, 'along')]),
    combine([1, chainOf(a, 'up')], [-1, chainOf(b, 'up')]),
  ];
  return {
    along: a.along.best - b.along.best,
    up: a.up.best - b.up.best,
    uAlong: uncertainty(along),
    uUp: uncertainty(up),
  };
}

const keysOf = (c: HoleCircle): string[] =>
  [...chainOf(c, 'along'), ...chainOf(c, 'up')].filter((t) => t.size.u > 0).map((t) => t.size.key);

/** Whether no doubt enters two of the circles. */
function unrelated(circles: readonly HoleCircle[]): boolean {
  const all = circles.flatMap((c) => [...new Set(keysOf(c))]);
  return new Set(all).size === all.length;
}

/** Circles that are surely in one place count as their largest: one drill made them. */
function distinct(circles: readonly HoleCircle[]): HoleCircle[] {
  const kept: HoleCircle[] = [];
  for (const c of circles) {
    const at = kept.findIndex((k) => {
      const w = apart(k, c);
      return w.uAlong === 0 && w.uUp === 0 && Math.hypot(w.along, w.up) < NEAR;
    });
    if (at < 0) kept.push(c);
    else if (c.diameter > kept[at]!.diameter) kept[at] = c;
  }
  return kept;
}

/** Chance that a drill on the guide's axis cleans every layer up. */
export function chanceFollowing(circles: readonly HoleCircle[], guide: HoleCircle, final: number): number {
  if (guide.diameter > final + NEAR) return 0;
  const others = circles.filter((c) => c !== guide);
  if (unrelated(circles))
    return others.reduce((p, c) => p * chanceWithin((final - c.diameter) / 2, apart(c, guide)), 1);
  return sampled(circles, final, circles.indexOf(guide));
}

/** Chance that some axis cleans every layer up: that all circles lie in one of the final size. */
export function chanceBestAxis(circles: readonly HoleCircle[], final: number): number {
  if (circles.some((c) => c.diameter > final + NEAR)) return 0;
  const [a, b, ...more] = distinct(circles);
  if (!a || !b) return 1;
  if (more.length === 0) return chanceWithin(final - (a.diameter + b.diameter) / 2, apart(a, b));
  return sampled([a, b, ...more], final, -1);
}

const remembered = new Map<string, number>();

/** A circle as sums of numbered causes. */
interface Row {
  readonly best: number;
  readonly terms: readonly (readonly [cause: number, weight: number])[];
}

function rowsOf(circles: readonly HoleCircle[]): {
  readonly rows: readonly (readonly [Row, Row])[];
  readonly causes: number;
} {
  const numbers = new Map<string, number>();
  const row = (f: Chain, best: number): Row => ({
    best,
    terms: f
      .filter((t) => t.size.u > 0)
      .map((t) => {
        let k = numbers.get(t.size.key);
        if (k === undefined) numbers.set(t.size.key, (k = numbers.size));
        return [k, t.c * t.size.u] as const;
      }),
  });
  return {
    rows: circles.map((c) => [row(chainOf(c, 'along'), c.along.best), row(chainOf(c, 'up'), c.up.best)] as const),
    causes: numbers.size,
  };
}

/**
 * Share of evenly spread samples in which one circle of the final size holds all. With a guide given (0 or more) that circle
 * stands on its axis. The same holes always get the same points, so that nothing flickers; asked once for each set of holes.
 */
function sampled(circles: readonly HoleCircle[], final: number, guide: number): number {
  const { rows, causes } = rowsOf(circles);
  const rooms = circles.map((c) => (final - c.diameter) / 2);
  const sign = JSON.stringify([guide, rooms.map((r) => r.toFixed(9)), rows]);
  const had = remembered.get(sign);
  if (had !== undefined) return had;
  const sampler = new Sampler({ count: causes, rectangular: new Uint8Array(causes) }, { seed: SEED });
  const values = new Float64Array(causes * BLOCK);
  const n = circles.length;
  const [xs, ys] = [new Float64Array(n), new Float64Array(n)];
  const at = ({ best, terms }: Row, i: number): number =>
    terms.reduce((sum, [k, w]) => sum + w * values[k * BLOCK + i]!, best);
  let good = 0;
  for (let from = 0; from < POINTS; from += BLOCK) {
    sampler.fill(values, 0, from, BLOCK);
    for (let i = 0; i < BLOCK; i++) {
      rows.forEach(([x, y], k) => {
        xs[k] = at(x, i);
        ys[k] = at(y, i);
      });
      if (guide >= 0 ? within(xs, ys, rooms, xs[guide]!, ys[guide]!) : oneHolds(xs, ys, rooms, final)) good++;
    }
  }
  if (remembered.size > 5000) remembered.clear();
  remembered.set(sign, good / POINTS);
  return good / POINTS;
}

/** Whether a drill centred at (x, y) leaves each circle its room. */
function within(xs: Float64Array, ys: Float64Array, rooms: readonly number[], x: number, y: number): boolean {
  for (let k = 0; k < rooms.length; k++)
    if ((xs[k]! - x) ** 2 + (ys[k]! - y) ** 2 > rooms[k]! ** 2 + 1e-12) return false;
  return true;
}

/** Whether some drill of the final size holds every circle: no pair reaches further, and a centre is found. */
function oneHolds(xs: Float64Array, ys: Float64Array, rooms: readonly number[], final: number): boolean {
  const n = rooms.length;
  let [tight, a, b] = [Number.POSITIVE_INFINITY, 0, 0];
  for (let p = 0; p < n; p++) {
    for (let q = p + 1; q < n; q++) {
      const left = rooms[p]! + rooms[q]! - Math.sqrt((xs[p]! - xs[q]!) ** 2 + (ys[p]! - ys[q]!) ** 2);
      if (left < 0) return false;
      if (left < tight) [tight, a, b] = [left, p, q];
    }
  }
  // The middle of what the tightest pair leaves often does for all.
  const d = Math.hypot(xs[b]! - xs[a]!, ys[b]! - ys[a]!);
  const t = d > 0 ? Math.min(1, Math.max(0, (rooms[a]! - tight / 2) / d)) : 0;
  if (within(xs, ys, rooms, xs[a]! + t * (xs[b]! - xs[a]!), ys[a]! + t * (ys[b]! - ys[a]!))) return true;
  return (
    2 * smallestHolding(rooms.map((room, k) => ({ x: xs[k]!, y: ys[k]!, r: final / 2 - room }))).r <= final + 1e-12
  );
}
