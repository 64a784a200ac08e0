import { expose } from 'comlink';
import type { Model } from '../../model/schema.ts';
import type { Named } from '../../remedies/decision.ts';
import type { Remedy } from '../../remedies/remedy.ts';
import { leastWork } from '../../remedies/search/leastWork.ts';
import type { Outcome, PlanCounts, Progress, Proof } from '../../remedies/search/outcome.ts';
import { placementsOf } from '../../remedies/search/placement.ts';
import type { Plan, PlanTally } from '../../remedies/search/plan.ts';

/*
 * Searches for the least work away from the screen. It listens for being called off after every turn, and hands out
 * plain data: what a plan does is the panel with it done.
 */

/** A plan as plain data. */
export interface FoundPlan {
  readonly id: string;
  readonly name: string;
  readonly remedies: readonly Named[];
  readonly model: Model;
  readonly tally: PlanTally;
  readonly proof?: Proof | undefined;
}

export interface FoundConflict {
  readonly finding: string;
  readonly station: string | null;
  readonly short: string;
}

export interface Found {
  readonly plans: readonly FoundPlan[];
  readonly conflicts: readonly FoundConflict[];
  readonly combinations: number;
}

/** How far the search is: the best so far, and what no plan can do better than. */
export interface Told {
  readonly phase: Progress['phase'];
  readonly done: number;
  readonly of: number;
  readonly best?: PlanTally | undefined;
  readonly bound?: PlanCounts | undefined;
}

export type FindAnswer = { readonly state: 'found'; readonly found: Found } | { readonly state: 'called off' };

/** Work in one go before the worker listens, ms. */
const TURN = 60;

let latest = 0;
const rest = (): Promise<void> => new Promise((done) => setTimeout(done, 0));

export const named = ({ id, kind, name, station, part, askDesigner, cost, note }: Remedy): Named => ({
  id,
  kind,
  name,
  station,
  part,
  askDesigner,
  cost,
  ...(note === undefined ? {} : { note }),
});

const plain = ({ id, name, remedies, model, tally }: Plan, proof?: Proof): FoundPlan => ({
  id,
  name,
  remedies: remedies.map(named),
  model,
  tally,
  proof,
});

const plainOutcome = ({ plans, proofs, conflicts, combinations }: Outcome): Found => ({
  plans: plans.map((p) => plain(p, proofs.get(p.id))),
  conflicts: conflicts.map((c) => ({ finding: c.finding.id, station: c.finding.station, short: c.short })),
  combinations,
});

/** The least work for a panel; `tell` hears how far it is. */
async function find(model: Model, tell: (told: Told) => void): Promise<FindAnswer> {
  const mine = ++latest;
  const search = leastWork(model);
  let since = performance.now();
  for (let step = search.next(); ; step = search.next()) {
    if (step.done) return { state: 'found', found: plainOutcome(step.value) };
    if (performance.now() - since < TURN) continue;
    const { phase, done, of, best, bound } = step.value;
    tell({ phase, done, of, best: best?.tally, bound });
    await rest();
    if (mine !== latest) return { state: 'called off' };
    since = performance.now();
  }
}

/** Where like ribs stand best: all placements, and one exchange. */
export interface FoundPlaces {
  readonly kind: 'main' | 'nose';
  readonly best?: FoundPlan | undefined;
  readonly swap?: FoundPlan | undefined;
  readonly sentence: string;
}

/**
 * The best place for each of the like ribs; it does not listen meanwhile, so whoever waits no longer ends this
 * worker.
 */
function places(model: Model): readonly FoundPlaces[] {
  return placementsOf(model).map(({ kind, best, swap, sentence }) => ({
    kind,
    sentence,
    ...(best ? { best: plain(best) } : {}),
    ...(swap ? { swap: plain(swap) } : {}),
  }));
}

/** Calls the search off. */
function cancel(): void {
  latest++;
}

const service = { find, places, cancel };
export type PlansService = typeof service;

expose(service);
