import type { Joint, Model } from '../model/schema.ts';
import { show } from '../checks/describe.ts';
import { FREE, type Remedy } from './remedy.ts';

/** Takes the next rivet size at a joint: every hole of it to the next drill. Only where the design has a larger one left. */
export function stepUp(model: Model, joint: Joint): Remedy | undefined {
  const { next } = joint;
  if (!next) return undefined;
  const grip = joint.rivet.grip;
  const same = model.stock.rivets.filter((r) => r.kind === joint.rivet.kind && Math.abs(r.diameter - next.rivet) < 0.01);
  const rivet = same.find((r) => grip === undefined || r.grip === undefined || (r.grip[0] <= grip[0] && r.grip[1] >= grip[1])) ?? same[0];
  return {
    id: `step:${joint.id}`,
    name: `take the next rivet size, ${show(model, next.rivet)}, at ${joint.id}`,
    station: joint.station,
    part: joint.id,
    cost: { ...FREE, moved: 1, holesLost: joint.holes.length },
    askDesigner: true,
    edit: {
      name: `took the next rivet size at ${joint.id}`,
      apply: (m) => ({
        ...m,
        joints: m.joints.map((j) => {
          if (j.id !== joint.id || !j.next) return j;
          const { next: taken, ...rest } = j;
          return { ...rest, final: taken.drill, rivet: rivet ?? { ...j.rivet, diameter: taken.rivet } };
        }),
      }),
    },
  };
}
