import { best } from '../../chains/chain.ts';
import { checkAll } from '../../checks/checkAll.ts';
import { show } from '../../checks/describe.ts';
import { bendSideChain } from '../../checks/holes/bendRoom.ts';
import { drillText } from '../../checks/holes/nextSize.ts';
import { bagOf, blindFor, solidToBuy } from '../../checks/holes/rivets.ts';
import type { Joint, Model, Rivet } from '../../model/schema.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import type { Maker } from '../asked.ts';
import { FREE, type Remedy } from '../remedy.ts';

/*
 * The next larger rivet at a joint: every hole gains (D2 - D1)/2 of clean-up, every edge loses 2 (D2 - D1) of what it
 * wants, the pitch and the room beside the bend shrink in rivet diameters. Borrowed brake (MIL-R-47196A, read in
 * part): oversize in no more than a fifth of a pattern, ten at most; a rib end has four, so it is always the
 * designer's to say.
 */

/**
 * The rivet of the next size with what is in the bags: the one that grips the layers, else the first of that
 * diameter.
 */
function bagged(model: Model, joint: Joint, diameter: number): Rivet {
  const { grip } = bagOf(skeletonOf(model), joint);
  if (joint.rivet.kind === 'solid') return { kind: 'solid', diameter, length: solidToBuy(grip, diameter) };
  const found =
    blindFor(model.stock.rivets, diameter, grip)[0] ??
    model.stock.rivets.find((r) => r.kind === 'blind' && Math.abs(r.diameter - diameter) < 0.01);
  return found ?? { kind: 'blind', diameter };
}

function stepped(m: Model, joint: Joint): Joint {
  const { next } = joint;
  if (!next) return joint;
  const { next: _, ...rest } = joint;
  return {
    ...rest,
    rivet: bagged(m, joint, next.rivet),
    final: next.drill,
    // What was opened to the old final size is a pilot for the new one.
    holes: joint.holes.map((h) => ({
      ...h,
      layers: h.layers.map((l) => (l.state === 'final' && l.size < next.drill ? { ...l, state: 'pilot' as const } : l)),
    })),
  };
}

/** What a step up leaves beside the bends of a joint's ribs, in words; empty where no bend is near. */
function besideBends(model: Model, joint: Joint, diameter: number): string {
  const skeleton = skeletonOf(model);
  const said = joint.layers.flatMap((part) => {
    const room = bendSideChain(skeleton, joint, part, diameter);
    return room ? [`${part} has ${show(model, best(room))} from the rivet head to its bend`] : [];
  });
  return said.length === 0 ? '' : ` Then ${said.join(', ')}.`;
}

/**
 * Whether some hole of a row is final in every layer and cleans up: it is not drilled again for another that does
 * not.
 */
function hasGoodFinal(model: Model, joint: Joint): boolean {
  const final = joint.holes.filter((h) => h.layers.length > 0 && h.layers.every((l) => l.state === 'final'));
  if (final.length === 0) return false;
  const good = new Set(
    checkAll(model)
      .filter((f) => f.check === 'hole-cleanup' && f.at.joint === joint.id && f.verdict === 'fits')
      .map((f) => f.at.hole),
  );
  return final.some((h) => good.has(h.id));
}

/**
 * Takes the next larger rivet at a joint; undefined where the design has none, or a hole that is final and good would
 * go with it.
 */
export function stepUp(model: Model, joint: Joint): Remedy | undefined {
  const { next } = joint;
  if (!next || hasGoodFinal(model, joint)) return undefined;
  return {
    id: `step:${joint.id}`,
    kind: 'step',
    name: `the next rivet at ${joint.id}: drill ${drillText(next.drill)} for a ${show(model, next.rivet)} rivet`,
    station: joint.station,
    part: joint.id,
    cost: { ...FREE, moved: 1, holesLost: joint.holes.length },
    askDesigner: true,
    layers: true,
    note: `${joint.holes.length} oversize rivets at one rib end are more than a fifth of the pattern.${besideBends(model, joint, next.rivet)}`,
    edit: {
      name: `took the next rivet at ${joint.id}`,
      apply: (m) => ({ ...m, joints: m.joints.map((j) => (j.id === joint.id ? stepped(m, j) : j)) }),
    },
  };
}

/** The next rivet size at a joint with a hole that does not clean up. */
export const nextRivet: Maker = ({ model, joint }) => {
  const next = joint && stepUp(model, joint);
  return next ? [next] : [];
};
