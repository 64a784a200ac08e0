import { checkAll } from '../../checks/checkAll.ts';
import type { CheckId, Finding } from '../../checks/finding.ts';
import { cheapestBatten } from '../../mechanics/batten.ts';
import type { Model } from '../../model/schema.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { type Before, levelIn, levelOf, measureFirst, reachOf } from '../reach.ts';
import { coreOf } from './core.ts';
import { FINDINGS_ALONE } from './objectives.ts';
import type { Conflict } from './outcome.ts';
import type { Plan } from './plan.ts';
import { chosen, type Variant } from './variants.ts';

/*
 * Why does something stay beyond its limit? Either nothing on hand moves it, or nothing on hand moves it far enough, or
 * whatever would put it right puts something else wrong: then those limits conflict.
 */

const isBeyond = (f: Finding, before: Before): boolean => !f.echoOf && levelIn(f, before) === 2;

/**
 * The best combination in which a finding is not beyond act, whatever it costs elsewhere: the panel it makes;
 * undefined where there is none.
 */
function curedAnyhow(finding: Finding, v: Variant, before: Before): Model | undefined {
  const core = coreOf(v, FINDINGS_ALONE, before);
  const at = skeletonOf(v.model).bays.findIndex((b) => b.station.id === finding.station);
  const barred =
    (price: (station: number, off: number) => number, check: CheckId) =>
    (station: number, off: number): number => {
      const its = station === at && finding.check === check;
      return its && levelOf(reachOf(off, finding.limits)) === 2 ? Number.POSITIVE_INFINITY : price(station, off);
    };
  const leavesIt = (station: number, pick: number): boolean =>
    v.choices[station]?.[pick]?.over.some((o) => o.id === finding.id && o.level === 2) ?? false;
  const { picks, cost } = cheapestBatten({
    ...core,
    choices: core.choices.map((list, station) =>
      list.map((c, pick) => (leavesIt(station, pick) ? { ...c, cost: Number.POSITIVE_INFINITY } : c)),
    ),
    kink: barred(core.kink, 'nose-kink'),
    line: barred(core.line, 'nose-line'),
    end: barred(core.end, 'nose-line'),
  });
  if (cost === Number.POSITIVE_INFINITY) return undefined;
  return chosen(v, picks)
    .flatMap((c) => c.remedies)
    .reduce((m, r) => r.edit.apply(m), v.model);
}

/** Whether any choice is about a finding: some leave it and some may not, or it is a nose's. */
function isAsked(base: Variant, f: Finding): boolean {
  if (f.check === 'nose-kink' || f.check === 'nose-line') return true;
  return base.choices.some((list) => list.some((c) => c.over.some((o) => o.id === f.id)));
}

/** Whether anything may be done at the station of a finding. */
function hasChoices(base: Variant, f: Finding): boolean {
  const { bays } = skeletonOf(base.model);
  return base.choices.some((list, i) => list.length > 1 && bays[i]?.station.id === f.station);
}

/** Every finding that the best plan leaves beyond act, with the reason. */
export function conflictsOf(model: Model, base: Variant, plan: Plan): Conflict[] {
  const before = measureFirst(model);
  const was = new Map(checkAll(model).map((f) => [f.id, f.value]));
  const left = checkAll(plan.model).filter((f) => isBeyond(f, before));
  const known = new Set(left.map((f) => f.id));
  return left.map((finding): Conflict => {
    const asked = isAsked(base, finding);
    const cured = asked ? curedAnyhow(finding, base, before) : undefined;
    if (cured) {
      const against = checkAll(cured).filter((f) => isBeyond(f, before) && !known.has(f.id));
      return say(
        finding,
        'its cures conflict',
        against.map((f) => f.id),
      );
    }
    const moved = was.get(finding.id) !== finding.value || hasChoices(base, finding);
    return say(finding, asked && moved ? 'nothing moves it enough' : 'nothing moves it', []);
  });
}

/** Put right at the panel itself: the question True squares and packs. */
const BY_HAND: ReadonlySet<CheckId> = new Set<CheckId>(['lean', 'skew', 'diagonals', 'bow', 'twist', 'twist-step']);

function reasonOf({ check }: Finding, why: Conflict['why']): string {
  switch (why) {
    case 'nothing moves it':
      return BY_HAND.has(check)
        ? 'not part of this search: square or pack it by hand (True), then read again'
        : 'not part of this search';
    case 'nothing moves it enough':
      return 'nothing on hand brings it inside its limit';
    case 'its cures conflict':
      return 'whatever puts it right leaves something else wrong';
  }
}

function say(finding: Finding, why: Conflict['why'], against: readonly string[]): Conflict {
  const other = against.length > 0 ? `: ${against.join(', ')}` : '';
  const left = `Left so: ${reasonOf(finding, why)}${other}.`;
  return {
    finding,
    why,
    against,
    sentence: `${finding.sentence} ${left}`,
    short: `${finding.said.fact}. ${left}`,
  };
}
