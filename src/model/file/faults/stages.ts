import { partNames } from '../../metal.ts';
import type { Joint, Model, Stage } from '../../schema.ts';
import { type Faults, someOf } from './fault.ts';

/** Parts that come later: their first mention is that a stage brings them. All others were there from the start. */
function lateParts(stages: readonly Stage[]): Set<string> {
  const late = new Set<string>();
  const seen = new Set<string>();
  for (const s of stages) {
    for (const part of s.takes ?? []) seen.add(part);
    for (const part of s.brings) if (!seen.has(part)) late.add(part);
    for (const part of s.brings) seen.add(part);
  }
  return late;
}

/** A stage takes off what is in by then. */
function* takenFaults(s: Stage, path: string, arrived: Set<string>): Faults {
  for (const [k, part] of (s.takes ?? []).entries())
    if (!arrived.delete(part))
      yield {
        path: `${path}.takes[${k}]`,
        sentence: `stage ${s.id} takes off "${part}", which is not in by then; expected a part that an earlier stage brings; correct it`,
      };
}

/** A stage brings parts there are. */
function* broughtFaults(s: Stage, path: string, arrived: Set<string>, parts: ReadonlySet<string>): Faults {
  for (const [k, part] of s.brings.entries()) {
    if (!parts.has(part))
      yield {
        path: `${path}.brings[${k}]`,
        sentence: `stage ${s.id} brings "${part}", which is not a part of this panel; expected the name of one; correct it`,
      };
    arrived.add(part);
  }
}

/** A stage opens joints there are, no sooner than every layer of them is in. */
function* openedFaults(
  s: Stage,
  path: string,
  arrived: ReadonlySet<string>,
  joints: ReadonlyMap<string, Joint>,
): Faults {
  for (const [k, id] of s.opens.entries()) {
    const joint = joints.get(id);
    if (!joint)
      yield {
        path: `${path}.opens[${k}]`,
        sentence: `stage ${s.id} opens "${id}", which is not a joint of this panel; expected the name of one; correct it`,
      };
    const missing = joint?.layers.filter((part) => !arrived.has(part)) ?? [];
    if (missing.length > 0)
      yield {
        path: `${path}.opens[${k}]`,
        sentence: `stage ${s.id} opens ${id} to final before ${missing.join(' and ')} ${missing.length > 1 ? 'are' : 'is'} in; expected every layer to be in first; open it at a later stage`,
      };
  }
}

/** Stages take, bring and open what there is, in an order that can be worked in. */
export function* stageFaults(model: Model): Faults {
  const parts = partNames(model);
  const joints = new Map(model.joints.map((j) => [j.id, j]));
  const late = lateParts(model.stages);
  const arrived = new Set([...parts].filter((part) => !late.has(part)));
  for (const [i, s] of model.stages.entries()) {
    const path = `stages[${i}]`;
    yield* takenFaults(s, path, arrived);
    yield* broughtFaults(s, path, arrived, parts);
    yield* openedFaults(s, path, arrived, joints);
  }
  if (model.now !== undefined && !model.stages.some((s) => s.id === model.now))
    yield {
      path: 'now',
      sentence: `the present stage "${model.now}" is not in the list of stages; expected one of ${someOf(model.stages.map((s) => s.id))}; name one of them`,
    };
}
