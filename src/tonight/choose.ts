import { findingsAt } from '../checks/checkAll.ts';
import type { Finding } from '../checks/finding.ts';
import type { Model, Rib } from '../model/schema.ts';
import { skeletonOf } from '../parts/layout/skeleton.ts';
import { remediesFor } from '../remedies/offers/offers.ts';
import { leftBy } from '../remedies/reach.ts';
import { remakeToFit } from '../remedies/remakeToFit.ts';
import type { Remedy, RemedyKind } from '../remedies/remedy.ts';
import { aloneAt } from '../remedies/search/alone.ts';
import { workOf } from '../remedies/search/plan.ts';
import type { Scope } from './scope.ts';

/*
 * Which remedy answers what is wrong with a rib, before the search for the least work has said? Those the trade knows for its
 * findings, each tried at the rib's station alone: what leaves least beyond its limits, then what is least work, then what
 * lies best. Acts on one part are one act: where one remedy does not bring home all that is wrong with it, it is made again,
 * to fit here.
 */

/** What is done at one station alone, so that trying it there says all. */
const LOCAL: ReadonlySet<RemedyKind> = new Set<RemedyKind>([
  'shim',
  'channel',
  'flat',
  'packer',
  'without',
  'resheet',
  'trim',
  'joggle',
  'flange',
  'shorter',
  'bag',
  'step',
]);

/** Most remedies that are tried for one rib, so that the list comes at once however much is wrong. */
const MOST_TRIED = 8;

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
function offered({ model }: Scope, findings: readonly Finding[], made: ReadonlySet<string>): Remedy[] {
  const all = findings.flatMap((f) => remediesFor(model, f));
  return eachOnce(all.filter((r) => LOCAL.has(r.kind) && !made.has(r.part))).slice(0, MOST_TRIED);
}

/** What a plan of least work does to a rib and the pieces at its ends. */
function fromPlan({ planned, model }: Scope, rib: Rib, made: ReadonlySet<string>): Remedy[] {
  const pieces = new Set(model.doublers.filter((d) => d.part === rib.id).map((d) => d.id));
  const about = planned.filter((r) => r.part === rib.id || (pieces.has(r.part) && !made.has(r.part)));
  const isRemade = about.some((r) => r.cost.remade > 0);
  return isRemade ? [remakeToFit(model, rib)] : about;
}

/** The remedies that put a main or tip rib right; `made` are pieces that are made anew anyway. */
export function chosenFor(
  scope: Scope,
  rib: Rib,
  findings: readonly Finding[],
  made: ReadonlySet<string>,
): readonly Remedy[] {
  const planned = fromPlan(scope, rib, made);
  if (planned.length > 0) return planned;
  const again = remakeToFit(scope.model, rib);
  const isHole = findings.some((f) => f.check === 'hole-cleanup');
  if (isHole && findings.some((f) => f.check !== 'hole-cleanup')) return [again];
  const candidates = offered(scope, findings, made);
  if (candidates.length === 0) return [again];
  const alone = aloneAt(scope.model, rib.station);
  return [[...candidates, again].map((r) => tried(alone, r)).reduce(better).remedy];
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
  const first = offered(scope, findings, made).find((r) => r.part === rib.id);
  return [first ?? remakeToFit(scope.model, rib)];
}
