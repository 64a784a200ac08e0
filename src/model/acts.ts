import { once } from '../once.ts';
import type { Act, Model, Reading, Tick } from './schema.ts';

/*
 * Acts that move metal, numbered as they are done. A reading carries the number of the last one before it, so that it
 * is known without any clock, and in whatever order the lists stand, whether it still holds.
 */

/**
 * How far an act moved one size: in its own unit where that is known, and the doubt of the work, one standard
 * uncertainty.
 */
export interface Move {
  readonly n: number;
  readonly by: number | undefined;
  readonly u: number | undefined;
}

const NONE: readonly Move[] = [];

const listed = once((acts: readonly Act[]): ReadonlyMap<string, readonly Move[]> => {
  const map = new Map<string, Move[]>();
  for (const act of [...acts].sort((a, b) => a.n - b.n))
    for (const { size, by, u } of act.moves) {
      const list = map.get(size) ?? [];
      list.push({ n: act.n, by, u });
      map.set(size, list);
    }
  return map;
});

/** Every act that moved a size, in their order. */
export const movesOf = (model: Pick<Model, 'acts'>, size: string): readonly Move[] =>
  model.acts ? (listed(model.acts).get(size) ?? NONE) : NONE;

/** Number of the last act; 0 before any. */
export const lastAct = (model: Pick<Model, 'acts'>): number =>
  (model.acts ?? []).reduce((most, act) => Math.max(most, act.n), 0);

/** What a reading or a tick carries of it: nothing before the first act. */
export function afterLast(model: Pick<Model, 'acts'>): { after?: number } {
  const n = lastAct(model);
  return n > 0 ? { after: n } : {};
}

/** A move counts once it is over this share of the reading's uncertainty. */
const COUNTS = 0.5;

/**
 * Whether something read or ticked still holds: nothing done since moved it, all together, by more than half its
 * uncertainty. A move of unknown size always counts. Two packs of 0.05 under a height read to 0.15 do: 0.10 is over
 * 0.075.
 */
export function stillHolds(moves: readonly Move[], taken: Pick<Reading | Tick, 'after'>, u: number): boolean {
  const since = moves.filter((m) => m.n > (taken.after ?? 0));
  if (since.some((m) => m.by === undefined)) return false;
  const by = since.reduce((sum, m) => sum + (m.by ?? 0), 0);
  return Math.abs(by) <= COUNTS * u;
}

/** A model with one more act, numbered after the last. */
export function acted(model: Model, act: Omit<Act, 'n'>): Model {
  return { ...model, acts: [...(model.acts ?? []), { n: lastAct(model) + 1, ...act }] };
}
