import { best, combine } from '../../chains/chain.ts';
import type { Limit } from '../../model/limits.ts';
import type { Joint } from '../../model/schema.ts';
import type { Bay, Skeleton } from '../../parts/layout/layout.ts';
import { atJoint } from '../at.ts';
import { sentence, show } from '../describe.ts';
import { type Finding, judge } from '../finding.ts';
import { layersOf, stackOf } from './layers.ts';

/*
 * Asks: is the rivet in the bag the right length for the layers as they are now? (C17)
 * Grip is the sum of the layers, drawn together, and the gap that is left between them where one was read. A blind
 * rivet accepts only its marked range (TM 9-2320-387-24-2: 1/16 in wide); a solid one wants grip + 1.5 D (NAVEDTRA
 * 14018 ch. 13), bought in half sizes.
 */

/** Length a solid rivet wants: grip + 1.5 D. 0.100 in of sheet and 5/32 in: 0.334 in. */
export function solidLength(grip: number, diameter: number): number {
  return grip + 1.5 * diameter;
}

function blindFinding(skeleton: Skeleton, joint: Joint, range: readonly [number, number]): Finding {
  const { model } = skeleton;
  const layers = layersOf(skeleton, joint);
  const limit: Limit = {
    check: 'grip',
    unit: 'mm',
    fits: range,
    act: range,
    origin: 'the marked range of the rivet in the bag',
  };
  return judge({
    check: 'grip',
    at: atJoint(joint),
    place: joint.id,
    restsOn: stackOf(skeleton, joint),
    limit,
    sense: (v) => {
      if (v > range[1]) return 'too thick for the rivet';
      return v < range[0] ? 'too thin for the rivet' : 'in range';
    },
    say: (j) =>
      sentence(
        model,
        j,
        `${joint.id} is ${show(model, j.value)} thick in ${layers.length} layers; the rivet grips ${show(model, range[0])} to ${show(model, range[1])}`,
        {
          todo: j.value > range[1] ? 'Take the next longer rivet.' : 'Take the next shorter rivet.',
        },
      ),
  });
}

function solidFinding(skeleton: Skeleton, joint: Joint, length: number): Finding {
  const { model } = skeleton;
  const half = 25.4 / 32;
  const limit: Limit = {
    check: 'grip',
    unit: 'mm',
    fits: [-half / 2, half],
    act: [-half, 2 * half],
    origin: 'grip + 1.5 D, NAVEDTRA 14018 ch. 13; the band is half a size, picked',
  };
  const grip = combine([-1, stackOf(skeleton, joint)]);
  const wanted = solidLength(-best(grip), joint.rivet.diameter);
  return judge({
    check: 'grip',
    at: atJoint(joint),
    place: joint.id,
    restsOn: grip,
    value: length - wanted,
    limit,
    sense: (v) => (v < 0 ? 'rivet short' : 'rivet long'),
    say: (j) =>
      sentence(
        model,
        j,
        `${joint.id} wants a rivet ${show(model, wanted)} long; the one in the bag is ${show(model, Math.abs(j.value))} ${j.value < 0 ? 'shorter' : 'longer'}`,
      ),
  });
}

export function* grip(skeleton: Skeleton, bay: Bay): Generator<Finding> {
  for (const joint of skeleton.jointsAt(bay.station.id)) {
    const { rivet } = joint;
    if (rivet.kind === 'blind' && rivet.grip) yield blindFinding(skeleton, joint, rivet.grip);
    else if (rivet.kind === 'solid' && rivet.length !== undefined) yield solidFinding(skeleton, joint, rivet.length);
  }
}
