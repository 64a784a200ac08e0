import { checkAll } from '../../checks/checkAll.ts';
import { show } from '../../checks/describe.ts';
import type { Edit } from '../../model/edits/edits.ts';
import type { Model } from '../../model/schema.ts';
import { packing } from '../../truing/packing.ts';
import type { PackingPlan } from '../../truing/packingPlan.ts';
import { putPacksIn } from '../../truing/putPacksIn.ts';
import { formatLength } from '../../units.ts';
import type { Maker } from '../asked.ts';
import { taken } from '../decision.ts';
import { FREE, type Remedy } from '../remedy.ts';

/** The packing plan as one remedy; none where nothing was read or nothing is to be packed. */
export function packRemedy(model: Model): Remedy[] {
  const plan = packing(model);
  const packs = plan?.packs.filter((p) => p.total > 0) ?? [];
  const [first] = packs;
  if (!plan || !first) return [];
  return [
    {
      id: `packing:${plan.side}`,
      kind: 'packing',
      name: `pack the jig under the ${plan.side} spar: ${packs.map((p) => `${p.station} ${show(model, p.total)}`).join(', ')}`,
      station: first.station,
      part: plan.side,
      cost: { ...FREE, moved: 1 },
      askDesigner: false,
      layers: false,
      edit: putPacksIn(model, plan),
    },
  ];
}

/** The jig packed, for a twist. */
export const jigPacked: Maker = ({ model }) => packRemedy(model);

/**
 * The packs of a plan put in under the jig blocks, with their line among the decisions: what went where, and how every
 * twist and height is answered since. Nothing of the structure is changed, so nobody need be asked.
 */
export function packsTaken(model: Model, plan: PackingPlan, date: string): Edit {
  const edit = putPacksIn(model, plan);
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
