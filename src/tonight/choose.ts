import { findingsAt } from '../checks/checkAll.ts';
import type { Finding } from '../checks/finding.ts';
import { allAtStation } from '../checks/findingsOf.ts';
import { sameItems } from '../model/rested.ts';
import type { Model, Rib } from '../model/schema.ts';
import { skeletonOf } from '../parts/layout/skeleton.ts';
import { madeToFit } from '../remedies/offers/fit.ts';
import { remediesHere } from '../remedies/offers/offers.ts';
import { remake } from '../remedies/offers/remake.ts';
import { leftBy } from '../remedies/reach.ts';
import type { Remedy, RemedyKind } from '../remedies/remedy.ts';
import { aloneAt } from '../remedies/search/alone.ts';
import { workOf } from '../remedies/search/plan.ts';
import type { Scope } from './scope.ts';

/*
 * Which remedy answers what is wrong with a rib, before the search for the least work has said? Those the trade knows
 * for its findings, each tried at the rib's station alone: what leaves least beyond its limits, then what is least
 * work, then what lies best. Acts on one part are one act: where one remedy does not bring home all that is wrong
 * with it, it is made again, to fit here.
 */

/** What is done at one station alone, so that trying it there says all. */
const LOCAL: ReadonlySet<RemedyKind> = new Set<RemedyKind>([
  'bias',
  'shim',
  'channel',
  'flat',
  'packer',
  'without',
  'resheet',
  'trim',
  'joggle',
  'flange',
  'remake',
  'fit',
  'shorter',
  'bag',
  'step',
]);

/** Most remedies that are tried for one rib, so that the list comes at once however much is wrong. */
const MOST_TRIED = 8;

/** A rib made again, so that every end that nests fits here; to its drawing where that fits. */
function madeAgain(model: Model, rib: Rib): Remedy {
  const ends = { main: ['front', 'rear'], nose: ['tail'], tip: ['rear'] } as const;
  return madeToFit(model, rib, ends[rib.kind]) ?? remake(rib);
}

interface Tried {
  readonly remedy: Remedy;
  readonly beyond: number;
  readonly work: number;
  readonly outside: number;
}

/** What a remedy leaves at a station by itself. */
function tried(alone: Model, remedy: Remedy): Tried {
  const skeleton = skeletonOf(remedy.edit.apply(alone));
  const findings = skeleton.bays.flatMap((bay) => findingsAt(skeleton, bay));
  const { beyond, outside } = leftBy(findings, new Map());
  return { remedy, beyond, outside, work: workOf([remedy]) };
}

const better = (a: Tried, b: Tried): Tried => {
  const order = a.beyond - b.beyond || a.work - b.work || a.outside - b.outside;
  return order <= 0 ? a : b;
};

/** Each once, by its name. */
const eachOnce = (remedies: readonly Remedy[]): Remedy[] => [...new Map(remedies.map((r) => [r.id, r])).values()];

/** What the trade offers for some findings of one rib; a piece that is made anyway is not made twice. */
function offered({ model }: Scope, findings: readonly Finding[], made: ReadonlySet<string>, alone: Model): Remedy[] {
  const all = findings.flatMap((f) => remediesHere(model, f, alone));
  return eachOnce(all.filter((r) => LOCAL.has(r.kind) && !made.has(r.part))).slice(0, MOST_TRIED);
}

/** What a plan of least work does to a rib and the pieces at its ends. */
function fromPlan({ planned, model }: Scope, rib: Rib, made: ReadonlySet<string>): Remedy[] {
  const pieces = new Set(model.doublers.filter((d) => d.part === rib.id).map((d) => d.id));
  const about = planned.filter((r) => r.part === rib.id || (pieces.has(r.part) && !made.has(r.part)));
  const isRemade = about.some((r) => r.cost.remade > 0);
  return isRemade ? about.filter((r) => r.cost.remade > 0).slice(0, 1) : about;
}

/** A finding as far as a remedy asks it. */
const said = ({ id, value, u, verdict }: Finding): string => `${id} ${value} ${u} ${verdict}`;

/**
 * What a choice for a rib rests on: all that was found at its station, and the groups of the file that remedies look
 * at.
 */
function restsOf({ model }: Scope, rib: Rib, made: ReadonlySet<string>): readonly unknown[] {
  const { ribs, stations, sheets, stock, doublers, joints, limits, spars, webToWeb, stand, acts } = model;
  const groups = [ribs, stations, sheets, stock, doublers, joints, limits, spars, webToWeb, stand, acts];
  return [...groups, [...made].sort().join(' '), ...allAtStation(model, rib.station).map(said)];
}

/** The last choice for each rib by its name, given again while all it rests on is the same. */
const lastChoices = new Map<string, { readonly rests: readonly unknown[]; readonly remedies: readonly Remedy[] }>();

/**
 * A choice for a rib: the last one while it holds, for trying asks other panels and so forgets what is known of this
 * one.
 */
function remembered(
  scope: Scope,
  rib: Rib,
  made: ReadonlySet<string>,
  about: 'fit' | 'nose',
  afresh: () => readonly Remedy[],
): readonly Remedy[] {
  const key = `${about} ${rib.id}`;
  const rests = restsOf(scope, rib, made);
  const had = lastChoices.get(key);
  if (had && sameItems(had.rests, rests)) return had.remedies;
  const remedies = afresh();
  lastChoices.set(key, { rests, remedies });
  return remedies;
}

/**
 * What of the trade's leaves least wrong at the rib's station; made again where that leaves anything beyond its
 * limits.
 */
function bestOf(scope: Scope, rib: Rib, findings: readonly Finding[], made: ReadonlySet<string>): readonly Remedy[] {
  const alone = aloneAt(scope.model, rib.station);
  const again = madeAgain(alone, rib);
  const isHole = findings.some((f) => f.check === 'hole-cleanup');
  if (isHole && findings.some((f) => f.check !== 'hole-cleanup')) return [again];
  const [first, ...others] = offered(scope, findings, made, alone).map((r) => tried(alone, r));
  const best = first && others.reduce(better, first);
  if (best === undefined) return [again];
  return [best.beyond === 0 ? best.remedy : better(best, tried(alone, again)).remedy];
}

/** The remedies that put a main or tip rib right; `made` are pieces that are made anew anyway. */
export function chosenFor(
  scope: Scope,
  rib: Rib,
  findings: readonly Finding[],
  made: ReadonlySet<string>,
): readonly Remedy[] {
  const planned = fromPlan(scope, rib, made);
  return planned.length > 0 ? planned : remembered(scope, rib, made, 'fit', () => bestOf(scope, rib, findings, made));
}

/** The first remedy of the trade for a nose; a new one to fit where there is none. */
export function chosenForNose(
  scope: Scope,
  rib: Rib,
  findings: readonly Finding[],
  made: ReadonlySet<string>,
): readonly Remedy[] {
  const planned = fromPlan(scope, rib, made);
  if (planned.length > 0) return planned;
  return remembered(scope, rib, made, 'nose', () => {
    const alone = aloneAt(scope.model, rib.station);
    const first = offered(scope, findings, made, alone).find((r) => r.part === rib.id);
    return [first ?? madeAgain(alone, rib)];
  });
}
