import { type Chain, combine, uncertainty } from '../../chains/chain.ts';
import { chanceWithin, type Wander } from '../../chains/circular.ts';
import { type DrawnRow, shareWhere } from '../../chains/drawnRows.ts';
import { cleansFrom, cleansSomehow } from '../../geometry/oneDrill.ts';
import { NEAR } from '../../units/near.ts';
import { chainOf, type HoleCircle } from './cleanUpDrill.ts';

/*
 * How likely does one drill clean up every layer's hole? Each hole is a circle that may lie anywhere its uncertainty
 * lets it.
 *
 * Following the guide, each layer must stay within half of what the drill adds: where the layers move by themselves
 * that is the product of their chances, each the plane normal over a disc (Rayleigh, Rice, Hoyt). On the best axis
 * two holes are one such disc again. More than two, or layers that move together (one lean turns them all), are
 * sampled.
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

/** Whether two circles are surely in one place. */
function isSurelyAt(a: HoleCircle, b: HoleCircle): boolean {
  const w = apart(a, b);
  return w.uAlong === 0 && w.uUp === 0 && Math.hypot(w.along, w.up) < NEAR;
}

/** Circles that are surely in one place count as their largest: one drill made them. */
function distinct(circles: readonly HoleCircle[]): HoleCircle[] {
  const kept: { largest: HoleCircle }[] = [];
  for (const c of circles) {
    const had = kept.find((k) => isSurelyAt(k.largest, c));
    if (!had) kept.push({ largest: c });
    else if (c.diameter > had.largest.diameter) had.largest = c;
  }
  return kept.map((k) => k.largest);
}

/** Chance that a drill on the guide's axis cleans every layer up. */
export function chanceFollowing(circles: readonly HoleCircle[], guide: HoleCircle, final: number): number {
  if (guide.diameter > final + NEAR) return 0;
  const others = circles.filter((c) => c !== guide);
  if (unrelated(circles))
    return others.reduce((p, c) => p * chanceWithin((final - c.diameter) / 2, apart(c, guide)), 1);
  return sampled(circles, final, guide);
}

/** Chance that some axis cleans every layer up: that all circles lie in one of the final size. */
export function chanceBestAxis(circles: readonly HoleCircle[], final: number): number {
  if (circles.some((c) => c.diameter > final + NEAR)) return 0;
  const [a, b, ...more] = distinct(circles);
  if (!a || !b) return 1;
  if (more.length === 0) return chanceWithin(final - (a.diameter + b.diameter) / 2, apart(a, b));
  return sampled([a, b, ...more], final);
}

/** Chances by what they rest on: the same holes are asked again at every keystroke. */
const remembered = new Map<string, number>();
const MOST_REMEMBERED = 5000;

/** Where circles lie, as rows over numbered causes: along and up of each by turns. */
function rowsOf(circles: readonly HoleCircle[]): { readonly rows: readonly DrawnRow[]; readonly causes: number } {
  const numbers = new Map<string, number>();
  const numberOf = (key: string): number => {
    const k = numbers.get(key) ?? numbers.size;
    numbers.set(key, k);
    return k;
  };
  const row = (f: Chain, best: number): DrawnRow => ({
    best,
    terms: f.filter((t) => t.size.u > 0).map((t) => [numberOf(t.size.key), t.c * t.size.u] as const),
  });
  const all = circles.flatMap((c) => [row(chainOf(c, 'along'), c.along.best), row(chainOf(c, 'up'), c.up.best)]);
  return { rows: eitherHand(all), causes: numbers.size };
}

const times = (k: number, { best, terms }: DrawnRow): DrawnRow => ({
  best: k * best,
  terms: terms.map(([cause, c]) => [cause, k * c] as const),
});

/**
 * The same rows whichever hand the panel is: the first circle that lies off along the span lies outboard, and every
 * cause enters first with a plus. One drill cleans up a row of holes and its mirror alike, and a doubt is as likely
 * to be over as under; so both hands are drawn from the same points and get the same share.
 */
function eitherHand(rows: readonly DrawnRow[]): DrawnRow[] {
  const off = rows.find((r, i) => i % 2 === 0 && Math.abs(r.best) > NEAR)?.best ?? 1;
  const turned = rows.map((r, i) => (i % 2 === 0 ? times(Math.sign(off), r) : r));
  const signs = new Map<number, number>();
  for (const { terms } of turned)
    for (const [cause, c] of terms) if (c !== 0 && !signs.has(cause)) signs.set(cause, Math.sign(c));
  return turned.map(({ best, terms }) => ({
    best,
    terms: terms.map(([cause, c]) => [cause, c * (signs.get(cause) ?? 1)] as const),
  }));
}

/**
 * Share of evenly spread samples in which one circle of the final size holds all. With a guide given that circle
 * stands on its axis. The same holes always get the same points, so that nothing flickers; asked once for each set of
 * holes.
 */
function sampled(circles: readonly HoleCircle[], final: number, guide?: HoleCircle): number {
  const { rows, causes } = rowsOf(circles);
  const rooms = circles.map((c) => (final - c.diameter) / 2);
  const lead = guide ? circles.indexOf(guide) : -1;
  const sign = JSON.stringify([lead, rooms.map((r) => r.toFixed(9)), rows]);
  const had = remembered.get(sign);
  if (had !== undefined) return had;
  const cleans = (centres: Float64Array): boolean => {
    const [x, y] = [centres[2 * lead], centres[2 * lead + 1]];
    if (x === undefined || y === undefined) return cleansSomehow(centres, rooms, final / 2);
    return cleansFrom(centres, rooms, x, y);
  };
  const share = shareWhere(rows, causes, { points: POINTS, seed: SEED }, cleans);
  if (remembered.size > MOST_REMEMBERED) remembered.clear();
  remembered.set(sign, share);
  return share;
}
