import { leastSquares, minimax } from '../mechanics/minimax.ts';
import type { Model } from '../model/schema.ts';
import { skeletonOf } from '../parts/layout/skeleton.ts';
import { NEAR } from '../units/near.ts';
import { attitudeOf, continuousPacks } from './attitude.ts';
import { bestFrom, leftOf, thick } from './drawer.ts';
import type { Pack, PackingPlan } from './packingPlan.ts';
import { packingSentences } from './packingWords.ts';
import { movedBy, type PackSide, packableOf, type Scaled, scaled, squaresOf } from './residuals.ts';
import { AS_GOOD, WORTH_PLANING } from './slack.ts';

/*
 * Asks: what goes under which support so that the panel lies true? What is made least is the largest residual: twist
 * at each station and end to end, and straightness of the lifted edge, each against its own first limit. Packs come
 * from those on hand, each piece once, a few in one place; nothing can be taken away by packing.
 */

/**
 * The packs to put under one spar's blocks, exact over the pieces on hand: least largest residual, and among choices
 * that leave the same, the least sum of squares. Each piece of `stock.packs` is used once; at most `most` (3) in one
 * place.
 */
export function packsUnder(model: Model, side: PackSide, most = 3): PackingPlan | undefined {
  const skeleton = skeletonOf(model);
  const packable = packableOf(skeleton, side);
  if (!packable) return undefined;
  const { supports, residuals } = packable;
  const all = scaled(residuals);
  const { choice, bound, proven } = chosen(all, model.stock.packs, supports.length, most);
  const packs = supports.map((station, j): Pack => {
    const pieces = choice[j] ?? [];
    return { station, pieces: [...pieces].sort((x, y) => y - x), total: thick(pieces) };
  });
  const totals = packs.map((p) => p.total);
  const plan = {
    side,
    packs,
    before: attitudeOf(skeleton, packable, []),
    after: attitudeOf(skeleton, packable, totals),
    bound,
    proven,
    left: leftOf(model.stock.packs, choice.flat()),
    planing: isBetterPlaned(all, bound) ? planingOf(model, side, packs) : [],
  };
  return { ...plan, sentences: packingSentences(model, plan) };
}

/** Residuals with the first supports filled, and what the others still can do. */
const filled = ({ a, m }: Scaled, packs: readonly number[]): Scaled => ({
  a: m.map((row, i) => movedBy(row.slice(0, packs.length), packs, a[i])),
  m: m.map((row) => row.slice(packs.length)),
});

/** The pieces that leave the least largest residual, and of those the ones that leave the least sum of squares. */
function chosen(all: Scaled, pieces: readonly number[], supports: number, most: number) {
  const first = bestFrom(pieces, supports, most, (packs) => {
    const now = filled(all, packs);
    const { r, p } = minimax(now.a, now.m);
    return { least: r, next: p[0] ?? 0 };
  });
  const second = bestFrom(pieces, supports, most, (packs) => {
    const now = filled(all, packs);
    if (minimax(now.a, now.m).r > first.value + AS_GOOD) return { least: Number.POSITIVE_INFINITY, next: 0 };
    const p = leastSquares(now.a, now.m);
    return { least: squaresOf(now, p), next: p[0] ?? 0 };
  });
  return {
    choice: second.choice.length === supports ? second.choice : first.choice,
    bound: minimax(all.a, all.m).r,
    proven: first.proven,
  };
}

/** Whether taking metal off the blocks as well would leave less than packs of any thickness alone do. */
const isBetterPlaned = ({ a, m }: Scaled, packedOnly: number): boolean =>
  minimax(a, m, true).r < packedOnly - WORTH_PLANING;

/**
 * Where nothing goes under and the jig asks for less than nothing, by more than the thinnest piece (0.1 mm where
 * there is none).
 */
function planingOf(model: Model, side: PackSide, packs: readonly Pack[]): PackingPlan['planing'] {
  const asked = continuousPacks(model, side) ?? [];
  const worth = model.stock.packs.length > 0 ? Math.min(...model.stock.packs) : 0.1;
  return packs.flatMap(({ station, total }, j) => {
    const wanted = asked[j] ?? 0;
    return total === 0 && wanted < -worth ? [{ station, amount: -wanted }] : [];
  });
}

/**
 * The better of packing the front and packing the rear; undefined where no heights were read or there are no blocks.
 */
export function packing(model: Model, most = 3): PackingPlan | undefined {
  const [front, rear] = [packsUnder(model, 'front', most), packsUnder(model, 'rear', most)];
  if (!front || !rear) return front ?? rear;
  return rear.after.largest < front.after.largest - NEAR ? rear : front;
}
