import { checkAll } from '../../checks/checkAll.ts';
import type { Model } from '../../model/schema.ts';
import { type Taking, takingOf } from '../../remedies/decision.ts';
import { remediesFor } from '../../remedies/offers/offers.ts';
import type { Pick } from '../state/trying.ts';

/** The remedies of some picks for the panel as it is; those no longer offered are named. */
export function takingOfPicks(
  model: Model,
  picks: readonly Pick[],
  name: string,
): { taking: Taking; gone: readonly Pick[] } {
  const findings = new Map(checkAll(model).map((f) => [f.id, f]));
  const gone: Pick[] = [];
  const remedies = picks.flatMap((p) => {
    const f = findings.get(p.finding);
    const remedy = f && remediesFor(model, f).find((r) => r.id === p.remedy);
    if (!remedy) gone.push(p);
    return remedy ? [remedy] : [];
  });
  return {
    taking: takingOf(
      remedies,
      picks.map((p) => p.finding),
      name,
    ),
    gone,
  };
}
