import { best } from '../../chains/chain.ts';
import { findingsAt } from '../../checks/checkAll.ts';
import type { Finding } from '../../checks/finding.ts';
import { fromNominal, nosesOf } from '../../checks/fit/noseLine.ts';
import type { Model } from '../../model/schema.ts';
import type { Bay, Skeleton } from '../../parts/layout/layout.ts';
import { chordGapChain } from '../../parts/layout/meeting.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { NEAR } from '../../units/near.ts';
import { rebag } from '../offers/bag.ts';
import { gramsAdded } from '../pieceMass.ts';
import { type Before, type Left, leftBy, levelIn } from '../reach.ts';
import type { Cost, Remedy } from '../remedy.ts';
import { applied } from './endOptions.ts';
import type { Ends } from './leftover.ts';
import type { NoseAim } from './noseAims.ts';
import { offeredAt, type RemedySet } from './offered.ts';
import { costOf, workOf } from './plan.ts';

/*
 * What may be done at one station, and what does each leave there? Every choice is a set of remedies (`offered.ts`),
 * applied to the station and asked again. The bag of rivets follows by itself. Doing nothing is always among them,
 * with the bag as it is.
 */

/** One finding that does not fit by its best value. */
interface Over {
  readonly id: string;
  readonly level: 1 | 2;
}

/** One thing that may be done at a station, and what it leaves there; the chord gap with the spars held straight. */
export interface Choice extends Left, Ends {
  readonly remedies: readonly Remedy[];
  readonly cost: Cost;
  /** Quarter hours. */
  readonly work: number;
  /** Grams added. */
  readonly mass: number;
  readonly over: readonly Over[];
  /** Whether the nose or tip rib itself was bent, trimmed or made again. */
  readonly noseTouched: boolean;
}

/** The one bay of a station by itself, and its findings. */
function onlyBay(alone: Model): { skeleton: Skeleton; bay: Bay | undefined; findings: Finding[] } {
  const skeleton = skeletonOf(alone);
  const [bay] = skeleton.bays;
  return { skeleton, bay, findings: bay ? findingsAt(skeleton, bay) : [] };
}

/** Bags that grip the layers, where those there are do not. */
function bagsFor(alone: Model, before: Before): Remedy[] {
  const { skeleton, findings } = onlyBay(alone);
  return findings
    .filter((f) => f.check === 'grip' && levelIn(f, before) > 0)
    .flatMap((f) => rebag(skeleton, f.at.joint).slice(0, 1));
}

/** What a set of remedies, done already, leaves at a station. */
function asked(alone: Model, after: Model, remedies: readonly Remedy[], before: Before): Choice {
  const { skeleton, bay, findings } = onlyBay(after);
  const over = findings.flatMap((f): Over[] => {
    const level = levelIn(f, before);
    return level === 0 ? [] : [{ id: f.id, level }];
  });
  const [nose] = nosesOf(skeleton, 'straight');
  const own = bay?.nose ?? bay?.tip;
  return {
    ...leftBy(findings, before),
    remedies,
    cost: costOf(remedies),
    work: workOf(remedies),
    mass: gramsAdded(alone, after),
    over,
    noseTouched: remedies.some((r) => r.part === own?.id && r.cost.reformed + r.cost.remade > 0),
    nose: nose && fromNominal(nose),
    chord: bay?.main && after.spars.rear ? best(chordGapChain(skeleton, bay, bay.main, 'straight')) : undefined,
  };
}

/** What a station leaves with nothing done to it. */
export const asItStands = (alone: Model, before: Before): Choice => asked(alone, alone, [], before);

/** One set of remedies at a station, asked; the bag of rivets follows the layers. */
function askChoice(alone: Model, remedies: readonly Remedy[], before: Before): Choice {
  const done = applied(alone, remedies);
  const bags = bagsFor(done, before);
  return asked(alone, applied(done, bags), [...remedies, ...bags], before);
}

const COUNTS: readonly ((c: Choice) => number)[] = [
  (c) => c.beyond,
  (c) => c.outside,
  (c) => c.off,
  (c) => c.work,
  (c) => c.mass,
  (c) => c.cost.pieces,
  (c) => c.cost.remade,
  (c) => c.cost.reformed,
  (c) => c.cost.moved,
  (c) => c.cost.holesLost,
  (c) => Number(c.noseTouched),
];
const alike = (a: number | undefined, b: number | undefined): boolean =>
  a === b || (a !== undefined && b !== undefined && Math.abs(a - b) < NEAR);

/** Choices that no other of the same nose and the same chord gap beats on every count; doing nothing stays. */
function unbeatenChoices(all: readonly Choice[]): Choice[] {
  const beaten = (c: Choice, i: number): boolean =>
    all.some((d, j) => {
      if (i === j || !alike(c.nose, d.nose) || !alike(c.chord, d.chord)) return false;
      const better = COUNTS.some((f) => f(d) < f(c) - NEAR);
      return COUNTS.every((f) => f(d) <= f(c) + NEAR) && (better || j < i);
    });
  return all.filter((c, i) => c.remedies.length === 0 || !beaten(c, i));
}

/**
 * What a choice adds to or changes in the joints of its station: choices alike in this differ the same way whatever
 * stands before the spar.
 */
const layersTouched = (remedies: readonly Remedy[]): string =>
  remedies
    .filter((r) => r.layers)
    .map((r) => r.id)
    .sort()
    .join();

/** A set of remedies about the main rib, and what it leaves with the nose left alone. */
interface MainChoice {
  readonly own: readonly Remedy[];
  readonly choice: Choice;
}

/** What a nose's set of remedies changes: asked beside a main rib's choice, `without` it and `withIt`. */
interface NoseChange {
  readonly nose: readonly Remedy[];
  readonly without: Choice;
  readonly withIt: Choice;
}

/**
 * A choice about the main rib and one about the nose together: alike in layers, all else the two do apart from each
 * other.
 */
function together({ own, choice: main }: MainChoice, { nose, without, withIt }: NoseChange): Choice {
  const bags = withIt.remedies.filter((r) => r.kind === 'bag');
  const remedies = [...own, ...nose, ...bags];
  const gone = new Set(without.over.map((o) => o.id));
  const had = new Set(main.over.map((o) => o.id));
  const over = [
    ...main.over.filter((o) => !gone.has(o.id)),
    ...withIt.over.filter((o) => gone.has(o.id) === had.has(o.id)),
  ];
  const sum = (of: (c: Choice) => number): number => of(main) - of(without) + of(withIt);
  return {
    remedies,
    cost: costOf(remedies),
    work: workOf(remedies),
    over,
    noseTouched: withIt.noseTouched,
    nose: withIt.nose,
    chord: main.chord,
    mass: sum((c) => c.mass),
    beyond: sum((c) => c.beyond),
    outside: sum((c) => c.outside),
    off: sum((c) => c.off),
  };
}

/** Groups of the main rib's choices that touch the same layers, each choice asked; yields once a choice. */
function* mainGroups(alone: Model, mains: readonly RemedySet[], before: Before): Generator<void, MainChoice[][]> {
  const groups = new Map<string, MainChoice[]>();
  for (const own of mains) {
    const key = layersTouched(own);
    groups.set(key, [...(groups.get(key) ?? []), { own, choice: askChoice(alone, own, before) }]);
    yield;
  }
  return [...groups.values()];
}

/** Every choice at a station, one asked at each step; the last step returns those that are worth keeping. */
export function* choicesAt(alone: Model, aim: NoseAim, before: Before): Generator<void, Choice[]> {
  const { mains, noses, mayJoin } = offeredAt(alone, aim, before);
  yield;
  const all: Choice[] = [asItStands(alone, before)];
  for (const group of yield* mainGroups(alone, mains, before)) {
    // Beaten with the nose left alone, and alike in layers: beaten whatever is done to the nose.
    const worth = new Set(unbeatenChoices(group.map((g) => g.choice)));
    const kept = group.filter((g) => worth.has(g.choice));
    all.push(...kept.map((g) => g.choice).filter((c) => c.remedies.length > 0));
    const [first] = kept;
    if (!first) continue;
    for (const nose of noses.slice(1)) {
      if (!mayJoin(first.own, nose)) continue;
      const withIt = askChoice(alone, [...first.own, ...nose], before);
      all.push(...kept.map((g) => together(g, { nose, without: first.choice, withIt })));
      yield;
    }
  }
  return unbeatenChoices(all);
}
