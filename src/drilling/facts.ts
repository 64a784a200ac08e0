import { chanceBestAxis, chanceFollowing } from '../checks/holes/cleanUpChance.ts';
import { circlesOf, type HoleCircle, type Need, needOf } from '../checks/holes/cleanUpDrill.ts';
import { leastPitch, rowToRow } from '../checks/holes/edges.ts';
import { hasChance, isLooked } from '../checks/holes/looked.ts';
import { type EdgeLine, edgeLines, type NextSize, nextSize } from '../checks/holes/nextSize.ts';
import { earliestStage, partsIn, takenOff } from '../checks/holes/stages.ts';
import { APART } from '../model/metal.ts';
import { kept } from '../model/rested.ts';
import type { Hole, Joint, Model } from '../model/schema.ts';
import { jointOf, type Skeleton } from '../parts/layout/layout.ts';
import { skeletonOf } from '../parts/layout/skeleton.ts';
import type { LayerAnswer } from './hole.ts';

/*
 * A hole as it is: its layers, where each one's hole lies, what drill would clean them up and how likely, its edges. No
 * answer yet; what may be done with it is said by its row's gate and by `ownAnswer`. Sizes in mm.
 */

export interface HoleFacts {
  readonly joint: Joint;
  readonly hole: Hole;
  readonly layers: readonly LayerAnswer[];
  readonly circles: readonly HoleCircle[];
  readonly need: Need | undefined;
  readonly followMargin: number | undefined;
  readonly bestMargin: number | undefined;
  /**
   * Whether somebody looked through its layers, or read where each lies both ways: without it no chance lets it be
   * drilled.
   */
  readonly looked: boolean;
  /** Undefined while nobody looked through the row and no offset of this hole was read: then nothing is known of it. */
  readonly followChance: number | undefined;
  readonly bestChance: number | undefined;
  readonly edges: readonly EdgeLine[];
  readonly pitch: number | undefined;
  readonly rows: number | undefined;
  readonly next: NextSize | undefined;
  readonly earliest: string | undefined;
}

interface Where {
  readonly isIn: (part: string) => boolean;
  readonly off: (part: string) => boolean;
  /** Whether any layer of the hole is not final yet. */
  readonly early: boolean;
}

function stateOf(part: string, drilled: 'none' | 'pilot' | 'final', { isIn, off, early }: Where): LayerAnswer['state'] {
  if (drilled === 'final' && early) return 'opened early';
  if (off(part)) return 'off';
  return !isIn(part) && drilled === 'none' ? 'not in' : drilled;
}

/** How each layer's hole stands at a stage. */
function layerHoles(model: Model, joint: Joint, hole: Hole, at: number): LayerAnswer[] {
  const own = new Map(hole.layers.map((l) => [l.part, l]));
  const early = joint.layers.some((part) => own.get(part)?.state !== 'final');
  const where: Where = { isIn: partsIn(model, at), off: takenOff(model, at), early };
  return joint.layers.map((part) => {
    const drilled = own.get(part);
    const guideApart = drilled?.through === APART ? APART : undefined;
    return {
      part,
      state: stateOf(part, drilled?.state ?? 'none', where),
      size: drilled?.size ?? 0,
      through: part === joint.guide ? guideApart : (drilled?.through ?? joint.guide),
    };
  });
}

/**
 * A hole as it is at a stage (its place in the order); with `reckoned`, how likely it cleans up as it was made,
 * though nobody looked.
 */
export function factsOf(skeleton: Skeleton, joint: Joint, hole: Hole, at: number, reckoned = false): HoleFacts {
  const circles = circlesOf(skeleton, joint, hole, at);
  const need = needOf(circles, joint.guide);
  const guide = circles.find((c) => c.part === joint.guide) ?? circles[0];
  const looked = reckoned || isLooked(skeleton, joint, hole);
  const known = need !== undefined && guide !== undefined && (looked || hasChance(skeleton, joint, hole));
  const edges = edgeLines(skeleton, joint, hole, circles, need);
  const pitch = leastPitch(joint);
  return {
    joint,
    hole,
    layers: layerHoles(skeleton.model, joint, hole, at),
    circles,
    need,
    followMargin: need && (joint.final - need.following) / 2,
    bestMargin: need && (joint.final - need.bestAxis) / 2,
    looked,
    followChance: known ? chanceFollowing(circles, guide, joint.final) : undefined,
    bestChance: known ? chanceBestAxis(circles, joint.final) : undefined,
    edges,
    pitch: Number.isFinite(pitch) ? pitch : undefined,
    rows: rowToRow(joint),
    next: need && nextSize(skeleton, joint, need, hole, edges),
    earliest: earliestStage(skeleton.model, joint, at)?.name,
  };
}

interface RowAt {
  readonly joint: string;
  readonly at: number;
}

const factsAt = kept(
  (model, { joint: id, at }: RowAt): readonly HoleFacts[] => {
    const skeleton = skeletonOf(model);
    const joint = jointOf(model, id);
    return joint ? joint.holes.map((hole) => factsOf(skeleton, joint, hole, at)) : [];
  },
  { name: ({ joint, at }) => `${joint} ${at}` },
);

/** The holes of a row as they are at a stage; kept for as long as nothing they rest on changes. */
export const rowFacts = (skeleton: Skeleton, joint: Joint, at: number): readonly HoleFacts[] =>
  factsAt(skeleton.model, { joint: joint.id, at });
