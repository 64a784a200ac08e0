import { NEAR } from '../units/near.ts';

/*
 * Which pieces of a drawer go where: every piece is used once, a few in one place.
 */

/** Thickness of pieces on one another, mm. */
export const thick = (pieces: readonly number[]): number => pieces.reduce((sum, t) => sum + t, 0);

/**
 * Pieces that can go in one place, thinnest stack first: every different choice of up to `most` of those on hand,
 * which are in order.
 */
function stacks(pieces: readonly number[], most: number): number[][] {
  const all: number[][] = [[]];
  const grow = (from: number, taken: readonly number[]): void => {
    if (taken.length === most) return;
    for (const [i, piece] of pieces.entries()) {
      const alike = i > from && piece === pieces[i - 1];
      if (i < from || alike) continue;
      const next = [...taken, piece];
      all.push(next);
      grow(i + 1, next);
    }
  };
  grow(0, []);
  return all.sort((a, b) => thick(a) - thick(b) || a.length - b.length);
}

/** What is left of some pieces once others of them are taken. */
export function leftOf(pieces: readonly number[], taken: readonly number[]): number[] {
  const left = [...pieces];
  for (const t of taken) left.splice(left.indexOf(t), 1);
  return left;
}

/**
 * The least that can be reached with the first supports filled, whatever goes under the others, and the next pack
 * that does it.
 */
export interface Bound {
  readonly least: number;
  readonly next: number;
}

export interface DrawerChoice {
  readonly value: number;
  /** The pieces under each support. */
  readonly choice: readonly (readonly number[])[];
  /** Whether every choice was looked at or shown to be no better. */
  readonly proven: boolean;
}

/** Choices looked at, at most: some seconds of work. */
const MOST_LOOKS = 60_000;

/**
 * The best choice of pieces for each of some supports: branch and bound. `bound` is convex in the next pack, so once
 * it passes the best known the thicker (or thinner) ones can all be left out.
 */
export function bestFrom(
  pieces: readonly number[],
  supports: number,
  most: number,
  bound: (packs: readonly number[]) => Bound,
): DrawerChoice {
  let value = Number.POSITIVE_INFINITY;
  let choice: number[][] = [];
  let looks = 0;
  const fill = (packs: readonly number[], taken: readonly number[][], left: readonly number[], aim: number): void => {
    if (packs.length === supports) return;
    /** Whether the next stack beyond this one can still better what is known. */
    const tryOne = (stack: number[]): boolean => {
      if (looks++ > MOST_LOOKS) return false;
      const now = [...packs, thick(stack)];
      const { least, next } = bound(now);
      if (least >= value - NEAR) return false;
      if (now.length < supports) fill(now, [...taken, stack], leftOf(left, stack), next);
      else [value, choice] = [least, [...taken, stack]];
      return true;
    };
    const options = stacks(left, most);
    options
      .filter((o) => thick(o) < aim)
      .reverse()
      .every(tryOne);
    options.filter((o) => thick(o) >= aim).every(tryOne);
  };
  const inOrder = [...pieces].sort((a, b) => a - b);
  fill([], [], inOrder, bound([]).next);
  return { value, choice, proven: looks <= MOST_LOOKS };
}
