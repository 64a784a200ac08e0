import type { Joint } from '../../schema.ts';
import { type Faults, inMm } from './fault.ts';

/** What the rounding of a table may take off a hole, mm: half a hundredth. 3.17 is a hole for a rivet of 3.175. */
const ROUNDED = 0.005;

const isTooSmall = (hole: number, rivet: number): boolean => hole < rivet - ROUNDED;

/** A joint's drills: the pilot under the final size, and each hole large enough for its rivet to go in. */
export function* drillFaults(joint: Joint, path: string): Faults {
  const { id, pilot, final, rivet, next } = joint;
  if (final <= pilot)
    yield {
      path: `${path}.final`,
      sentence: `${id} has a final size of ${inMm(final)} and a pilot of ${inMm(pilot)}; expected the final size to be larger; correct one of them`,
    };
  else if (isTooSmall(final, rivet.diameter))
    yield {
      path: `${path}.final`,
      sentence: `${id} has a final size of ${inMm(final)}, in which its rivet of ${inMm(rivet.diameter)} does not go; expected a hole at least as large as the rivet; correct one of them`,
    };
  if (next && isTooSmall(next.drill, next.rivet))
    yield {
      path: `${path}.next.drill`,
      sentence: `${id} has a next larger drill of ${inMm(next.drill)}, in which a rivet of ${inMm(next.rivet)} does not go; expected a hole at least as large as the rivet; correct one of them`,
    };
}
