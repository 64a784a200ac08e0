import { combine } from '../../chains/chain.ts';
import { chance } from '../../chains/normal.ts';
import { limitFor } from '../../model/limits.ts';
import type { Hole, Joint } from '../../model/schema.ts';
import type { Bay, Skeleton } from '../../parts/layout/layout.ts';
import { formatPercent } from '../../units.ts';
import { atJoint } from '../at.ts';
import { sentence, show } from '../describe.ts';
import { type Finding, judge } from '../finding.ts';
import { chanceBestAxis } from './cleanUpChance.ts';
import { chainOf, circlesOf, type Need, needOf } from './cleanUpDrill.ts';
import { hasChance } from './looked.ts';
import { drillText, guideName, neededText, nextSize } from './nextSize.ts';

/*
 * Asks: will this hole clean up at final size through every layer? (C12)
 * Each layer's hole is a circle in the plane of the sheets, off the guide layer by what was measured, or by what
 * `offsets` reckons from how it was drilled. Margin = (final - needed)/2, on the best axis.
 */

/**
 * Words for the next larger size: does it clean up, do the edges and the row hold; or that there is no larger size
 * left.
 */
function nextWords(skeleton: Skeleton, joint: Joint, hole: Hole, need: Need): string {
  const up = nextSize(skeleton, joint, need, hole);
  return up.ok
    ? `The next size, ${drillText(up.drill)}, would clean it up and the edges hold; ask the designer.`
    : `No larger size is left, for ${up.why}.`;
}

function cleanupFinding(skeleton: Skeleton, joint: Joint, hole: Hole): Finding | undefined {
  const { model } = skeleton;
  const circles = circlesOf(skeleton, joint, hole);
  const need = needOf(circles, joint.guide);
  if (!need) return undefined;
  const limit = limitFor(model, 'hole-cleanup');
  const margin = (joint.final - need.bestAxis) / 2;
  const follow = (joint.final - need.following) / 2;
  const follows = follow - 2 * need.uFollowing >= 0;
  const name = `${joint.id} hole ${hole.id}`;
  return judge({
    check: 'hole-cleanup',
    at: { ...atJoint(joint), hole: hole.id },
    place: name,
    restsOn: combine([-0.5, chainOf(need.worst, 'along')], [-0.5, chainOf(need.worst, 'up')]),
    value: margin,
    u: need.uBest,
    // One chance, the ledger's: how likely it is that no drill that much smaller cleans every layer up.
    chance: hasChance(skeleton, joint, hole)
      ? 1 - chanceBestAxis(circles, joint.final - 2 * (limit.act[0] ?? 0))
      : undefined,
    limit,
    ...(follow < 0 ? { atLeast: 'watch' as const } : {}),
    sense: (v) => {
      if (v < 0) return 'does not clean up';
      return follows ? 'follow the guide' : 'bushing set midway';
    },
    say: (j) => {
      const early = hole.layers.some((l) => l.state === 'final') && hole.layers.some((l) => l.state !== 'final');
      const soon = early
        ? `It was opened too soon in ${hole.layers
            .filter((l) => l.state === 'final')
            .map((l) => l.part)
            .join(' and ')}. `
        : '';
      const bestAxis = `${name} needs ${neededText(need.bestAxis)} on the best axis against ${drillText(joint.final)} final, a margin of ${show(model, j.value)}`;
      if (j.value < 0) return sentence(model, j, bestAxis, { note: soon + nextWords(skeleton, joint, hole, need) });
      const likely = formatPercent(chance(follow / need.uFollowing));
      const following = `Following ${guideName(joint)} it needs ${neededText(need.following)}: by its margin alone ${likely} likely to clean up.`;
      return sentence(model, j, bestAxis, {
        note: follows ? undefined : following,
        todo: "Clamp a drill block, its bushing midway between the layers' holes; a drill held by hand follows the old pilot.",
      });
    },
  });
}

export function* holes(skeleton: Skeleton, bay: Bay): Generator<Finding> {
  for (const joint of skeleton.jointsAt(bay.station.id)) {
    for (const hole of joint.holes) {
      const f = cleanupFinding(skeleton, joint, hole);
      if (f) yield f;
    }
  }
}
