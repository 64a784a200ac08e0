import { checkAll } from '../../checks/checkAll.ts';
import type { Edit } from '../../model/edits/edits.ts';
import type { Model } from '../../model/schema.ts';
import { type PackingPlan, packed } from '../../truing/packing.ts';
import { formatLength } from '../../units.ts';
import { taken } from '../decision.ts';
import { FREE } from '../remedy.ts';

/**
 * The packs of a plan put in under the jig blocks, with their line among the decisions: what went where, and how every
 * twist and height is answered since. Nothing of the structure is changed, so nobody need be asked.
 */
export function packsTaken(model: Model, plan: PackingPlan, date: string): Edit {
  const edit = packed(model, plan);
  const put = plan.packs.filter((p) => p.total > 0);
  const remedies = put.map((p) => ({
    id: `packs:${p.station}.${plan.side}`,
    kind: 'packs' as const,
    name: `${formatLength(p.total, model.units)} under the ${plan.side} spar at ${p.station}`,
    station: p.station,
    part: plan.side,
    askDesigner: false,
    cost: { ...FREE, moved: p.pieces.length },
  }));
  const findings = checkAll(model)
    .filter((f) => f.check === 'twist' && put.some((p) => p.station === f.station))
    .map((f) => f.id);
  return taken(
    { remedies, findings, name: 'packs', past: edit.name, apply: (m) => edit.apply(m) },
    { why: 'To take the twist out.', asked: '', date },
  );
}
