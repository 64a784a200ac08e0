import { APART } from '../../metal.ts';
import { LEAST_DRILL } from '../../schema/measures.ts';
import type { Hole, Joint } from '../../schema.ts';
import { type Fault, type Faults, someOf } from './fault.ts';

/** One hole of a joint and the path to it. */
export interface HoleSeen {
  readonly joint: Joint;
  readonly hole: Hole;
  readonly path: string;
}

/** Whether following "drilled through" from a layer comes back to it. */
function ringed(hole: Hole, part: string): boolean {
  let at: string | undefined = part;
  for (let i = 0; i <= hole.layers.length; i++) {
    at = hole.layers.find((l) => l.part === at)?.through;
    if (at === part) return true;
  }
  return false;
}

/** The first layer of a ring of layers drilled through one another; -1 where there is none. */
const firstRinged = (hole: Hole): number => hole.layers.findIndex((l) => ringed(hole, l.part));

/** What is wrong with the layer a hole was drilled through: none of the joint's, itself, or itself by way of others. */
function throughFault({ joint, hole, path }: HoleSeen, m: number): Fault | undefined {
  const layer = hole.layers[m];
  if (layer?.through === undefined) return undefined;
  const { part, through } = layer;
  const at = `${path}.layers[${m}].through`;
  const others = joint.layers.filter((p) => p !== part);
  if (through !== APART && (through === part || !joint.layers.includes(through)))
    return {
      path: at,
      sentence: `hole ${hole.id} of ${joint.id} in ${part} is said to be drilled through "${through}"; expected another of the joint's layers (${someOf(others)}) or "apart"; correct it`,
    };
  if (firstRinged(hole) === m)
    return {
      path: at,
      sentence: `hole ${hole.id} of ${joint.id} in ${part} is said to be drilled through itself, by way of ${through}; expected one layer to come first; say which was "apart" or leave it out`,
    };
  return undefined;
}

/** The layers of a hole are the joint's, each with a size where it has a hole, none drilled through itself. */
export function* throughFaults(seen: HoleSeen): Faults {
  const { joint, hole, path } = seen;
  for (const [m, l] of hole.layers.entries()) {
    if (!joint.layers.includes(l.part))
      yield {
        path: `${path}.layers[${m}].part`,
        sentence: `hole ${hole.id} of ${joint.id} names "${l.part}", which is not one of the joint's layers; expected one of ${someOf(joint.layers)}; correct it`,
      };
    const through = throughFault(seen, m);
    if (through) yield through;
    if (l.state !== 'none' && l.size < LEAST_DRILL)
      yield {
        path: `${path}.layers[${m}].size`,
        sentence: `hole ${hole.id} of ${joint.id} is said to be ${l.state} in ${l.part} with size ${l.size}; expected its present diameter; write it or say "none"`,
      };
  }
}
