import { show } from '../../checks/describe.ts';
import { bagOf, blindFor, solidToBuy } from '../../checks/holes/rivets.ts';
import type { Joint, Model, Rivet } from '../../model/schema.ts';
import type { Skeleton } from '../../parts/layout/layout.ts';
import { fractionName } from '../../units/drills.ts';
import type { Maker } from '../asked.ts';
import { FREE, type Remedy } from '../remedy.ts';

/*
 * The rivets of a joint from another bag: of the same kind and diameter, of the length that the layers want. A solid
 * rivet is never exchanged for a blind one, nor a blind for a solid.
 */

/** A rivet in words, and what tells it from the others. */
interface Choice {
  readonly rivet: Rivet;
  readonly mark: string;
  readonly words: string;
}

function blinds(model: Model, { diameter }: Rivet, grip: number): Choice[] {
  return blindFor(model.stock.rivets, diameter, grip).flatMap((rivet) => {
    if (!rivet.grip) return [];
    const [least, most] = rivet.grip;
    const words = `the rivet that grips ${show(model, least)} to ${show(model, most)}`;
    return [{ rivet, mark: rivet.grip.join('-'), words }];
  });
}

function solids(model: Model, rivet: Rivet, grip: number): Choice[] {
  const length = solidToBuy(grip, rivet.diameter);
  if (rivet.length !== undefined && Math.abs(rivet.length - length) < 0.01) return [];
  const words = `a solid rivet ${fractionName(length) ?? show(model, length)} long`;
  return [{ rivet: { ...rivet, length }, mark: `${length}`, words }];
}

const taking = (joint: Joint, { rivet, mark, words }: Choice): Remedy => ({
  id: `bag:${joint.id}:${mark}`,
  kind: 'bag',
  name: `take ${words} at ${joint.id}`,
  station: joint.station,
  part: joint.id,
  cost: { ...FREE, moved: 1 },
  askDesigner: false,
  layers: true,
  edit: {
    name: `changed the rivet of ${joint.id}`,
    apply: (m) => ({ ...m, joints: m.joints.map((j) => (j.id === joint.id ? { ...j, rivet } : j)) }),
  },
});

/** The bag of a joint changed to one that grips its layers: a blind one on hand, a solid one of the length to buy. */
export function rebag(skeleton: Skeleton, jointId: string | undefined): Remedy[] {
  const { model } = skeleton;
  const joint = model.joints.find((j) => j.id === jointId);
  if (!joint) return [];
  const { grip } = bagOf(skeleton, joint);
  const choices = joint.rivet.kind === 'blind' ? blinds(model, joint.rivet, grip) : solids(model, joint.rivet, grip);
  return choices.map((c) => taking(joint, c));
}

/** The rivets of a joint that do not grip, from another bag. */
export const bagThatGrips: Maker = ({ skeleton, joint }) => rebag(skeleton, joint?.id);
