import { checkAll } from '../checks/checkAll.ts';
import type { Finding } from '../checks/finding.ts';
import type { Model } from '../model/schema.ts';
import { type Effect, effectOf, type FindingChange } from './effect.ts';
import { remediesFor } from './offers/offers.ts';
import { type Level, levelOf, reachOf } from './reach.ts';
import type { Remedy } from './remedy.ts';
import { finished } from './steps.ts';

/*
 * Every remedy for a finding tried on the whole skeleton, and put in order.
 */

/** A remedy tried: what it leaves and what it moves. */
export interface Offer {
  readonly remedy: Remedy;
  readonly effect: Effect;
  /** Findings whose verdict it betters, and worsens. */
  readonly better: readonly FindingChange[];
  readonly worse: readonly FindingChange[];
  /** The finding it was asked for, afterwards. */
  readonly after: Finding | undefined;
}

/** How much is wrong with a finding by its verdict: at act one and its chance, unsettled its chance alone. */
function wrong({ verdict, chance, echoOf }: Finding): number {
  if (echoOf) return 0;
  if (verdict === 'act') return 1 + chance;
  return verdict === 'unsettled' ? chance : 0;
}

const wrongIn = (model: Model): number => checkAll(model).reduce((sum, f) => sum + wrong(f), 0);

const price = ({ cost, askDesigner }: Remedy): number =>
  cost.pieces + 3 * cost.remade + 0.3 * cost.holesLost + (askDesigner ? 0.5 : 0);

type Weighed = Offer & { readonly left: number; readonly home: boolean };

const level = (f: Finding | undefined): Level => (f ? levelOf(reachOf(f.value, f.limits)) : 0);

/** Whether a change takes something beyond act, by its best value, that was not. */
const spoils = ({ before, after }: FindingChange): boolean =>
  after !== undefined && !after.echoOf && level(after) === 2 && level(before) < 2;

/**
 * Marks that say where a finding is, whichever side of it; a rib that goes to another station takes its findings
 * along.
 */
const WHERE = ['from', 'to', 'part', 'end', 'spar', 'doubler', 'joint', 'hole', 'layer', 'way'] as const;

/** Whether two findings answer one question at one place, its sides together. */
const samePlace = (a: Finding, b: Finding): boolean => a.check === b.check && WHERE.every((k) => a.at[k] === b.at[k]);

/**
 * Whether the place of a finding lies between its limits then, by its best value, and nothing else has come beyond
 * act for it: one gap is not cured by making another.
 */
function bringsHome(f: Finding, { model, changes }: Effect): boolean {
  const there = checkAll(model).filter((x) => samePlace(x, f));
  return there.every((x) => level(x) === 0) && !changes.some(spoils);
}

/**
 * Whether a remedy moves nothing and is meant to: something is to be measured, and somebody asked, before metal is
 * touched.
 */
const isAsking = (remedy: Remedy): boolean => remedy.kind === 'strip';

function tried(model: Model, f: Finding, remedy: Remedy): Weighed | undefined {
  const done = effectOf(model, [remedy]);
  if (!done.ok || (done.effect.changes.length === 0 && !isAsking(remedy))) return undefined;
  const { changes } = done.effect;
  return {
    remedy,
    effect: done.effect,
    better: changes.filter((c) => c.worse < 0),
    worse: changes.filter((c) => c.worse > 0),
    after: checkAll(done.effect.model).find((x) => x.id === f.id),
    left: wrongIn(done.effect.model),
    home: bringsHome(f, done.effect),
  };
}

/**
 * What to measure first; then what leaves the place between its limits; among equals what leaves least wrong, then
 * the cheaper.
 */
const inOrder = (a: Weighed, b: Weighed): number =>
  Number(isAsking(b.remedy)) - Number(isAsking(a.remedy)) ||
  Number(b.home) - Number(a.home) ||
  Math.round((a.left - b.left) * 20) ||
  price(a.remedy) - price(b.remedy);

/**
 * Every remedy for a finding tried on the whole skeleton, one a step. The value at the end has those first that ask
 * for a measurement, then those that leave its place between the limits and push nothing else past act; among these,
 * and among the others, the one that leaves least wrong first, the cheaper first among equals.
 */
export function* offering(
  model: Model,
  f: Finding,
): Generator<{ readonly done: number; readonly of: number }, Offer[]> {
  const remedies = remediesFor(model, f);
  const offers: Weighed[] = [];
  for (const [done, remedy] of remedies.entries()) {
    yield { done, of: remedies.length };
    const offer = tried(model, f, remedy);
    if (offer) offers.push(offer);
  }
  return offers.sort(inOrder).map(({ left: _, home: __, ...o }) => o);
}

/** The same in one go. */
export const offersFor = (model: Model, f: Finding): Offer[] => finished(offering(model, f));
