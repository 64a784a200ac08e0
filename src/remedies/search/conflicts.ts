import { checkAll } from '../../checks/checkAll.ts';
import type { Finding } from '../../checks/finding.ts';
import type { Model } from '../../model/schema.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { type Before, counts, drawnOnly, levelOf, reachOf } from '../reach.ts';
import { solveCore } from './core.ts';
import type { Conflict } from './outcome.ts';
import type { Plan } from './plan.ts';
import { coreOf, FINDINGS } from './solve.ts';
import type { Variant } from './variants.ts';

/*
 * Why does something stay beyond its limit? Either nothing on hand moves it, or nothing on hand moves it far enough, or
 * whatever would put it right puts something else wrong: then those limits conflict.
 */

const isBeyond = (f: Finding, before: Before): boolean => {
  const reach = reachOf(f.value, f.limits);
  return !f.echoOf && counts(f.id, reach, before) && levelOf(reach) === 2;
};

/** The best combination in which a finding is not beyond act, whatever it costs elsewhere: the panel it makes; undefined where there is none. */
function curedAnyhow(finding: Finding, v: Variant, before: Before): Model | undefined {
  const core = coreOf(v, { id: '', name: '', weights: FINDINGS, allows: () => true }, before);
  const at = skeletonOf(v.model).bays.findIndex((b) => b.station.id === finding.station);
  const barred =
    (price: (i: number, x: number) => number, check: string) =>
    (i: number, x: number): number =>
      i === at && finding.check === check && levelOf(reachOf(x, finding.limits)) === 2
        ? Number.POSITIVE_INFINITY
        : price(i, x);
  const choices = core.choices.map((list, i) =>
    list.map((c, k) =>
      v.choices[i]![k]!.over.some((o) => o.id === finding.id && o.level === 2)
        ? { ...c, cost: Number.POSITIVE_INFINITY }
        : c,
    ),
  );
  const { picks, cost } = solveCore({
    ...core,
    choices,
    kink: barred(core.kink, 'nose-kink'),
    line: barred(core.line, 'nose-line'),
    end: barred(core.end, 'nose-line'),
  });
  if (cost === Number.POSITIVE_INFINITY) return undefined;
  return picks.flatMap((p, i) => v.choices[i]![p]!.remedies).reduce((m, r) => r.edit.apply(m), v.model);
}

/** Every finding that the best plan leaves beyond act, with the reason. */
export function conflictsOf(model: Model, base: Variant, plan: Plan): Conflict[] {
  const before = drawnOnly(model);
  const was = new Map(checkAll(model).map((f) => [f.id, f.value]));
  const left = checkAll(plan.model).filter((f) => isBeyond(f, before));
  const asked = (f: Finding): boolean =>
    f.check === 'nose-kink' ||
    f.check === 'nose-line' ||
    base.choices.some((list) => list.some((c) => c.over.some((o) => o.id === f.id)));
  return left.map((finding): Conflict => {
    const moved =
      was.get(finding.id) !== finding.value ||
      base.choices.some((list, i) => list.length > 1 && skeletonOf(base.model).bays[i]!.station.id === finding.station);
    const cured = asked(finding) ? curedAnyhow(finding, base, before) : undefined;
    if (!cured) return say(finding, moved && asked(finding) ? 'nothing moves it enough' : 'nothing moves it', []);
    const against = checkAll(cured).filter(
      (f) => isBeyond(f, before) && !left.some((l) => l.id === f.id) && f.id !== finding.id,
    );
    return say(
      finding,
      'its cures conflict',
      against.map((f) => f.id),
    );
  });
}

const REASON: Record<Conflict['why'], string> = {
  'nothing moves it': 'no remedy here moves it',
  'nothing moves it enough': 'nothing on hand brings it inside its limit',
  'its cures conflict': 'whatever puts it right leaves something else wrong',
};

function say(finding: Finding, why: Conflict['why'], against: readonly string[]): Conflict {
  const other = against.length > 0 ? `: ${against.join(', ')}` : '';
  return { finding, why, against, sentence: `${finding.sentence} Left so: ${REASON[why]}${other}.` };
}
