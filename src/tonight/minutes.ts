import type { Remedy } from '../remedies/remedy.ts';
import { workOf } from '../remedies/search/plan.ts';

/*
 * About how long an act takes. Picked, no source: what one person with hand tools needs, walking and looking
 * included. What a reading takes stands with its kind of size, what a remedy takes with the search for the least
 * work.
 */

/** Minutes, picked, no source: for the act itself, and for each thing it is done to. */
export const MINUTES = {
  stand: { once: 15, each: 3 },
  straighten: { once: 10, each: 10 },
  square: { once: 5, each: 4 },
  pack: { once: 10, each: 5 },
  clamp: { once: 5, each: 1 },
  through: { once: 2, each: 2 },
  drill: { once: 5, each: 1.5 },
  deburr: { once: 5, each: 5 },
  bring: { once: 10, each: 4 },
  prime: { once: 20, each: 3 },
  rivet: { once: 10, each: 1 },
  ask: { once: 15, each: 2 },
  show: { once: 30, each: 2 },
} as const satisfies Readonly<Record<string, { readonly once: number; readonly each: number }>>;

/** Minutes of a kind of work done to so many things. */
export function minutesOf(work: keyof typeof MINUTES, things: number): number {
  const { once, each } = MINUTES[work];
  return once + each * things;
}

const QUARTER_HOUR = 15;
/** Minutes to ask the designer are the asking's own. */
const unasked = (r: Remedy): Remedy => ({ ...r, askDesigner: false });

/** Minutes that remedies take, by what the search for the least work counts for them. */
export const minutesFor = (remedies: readonly Remedy[]): number => QUARTER_HOUR * workOf(remedies.map(unasked));
