import { partNames } from '../../metal.ts';
import type { Joint, Model } from '../../schema.ts';
import { drillFaults } from './drills.ts';
import { type Faults, someOf } from './fault.ts';
import { holePlaceFaults, type Metal, metalOf } from './holePlaces.ts';
import { throughFaults } from './holes.ts';

/** What joints are asked against: names and places, looked up once for all of them. */
interface Known {
  readonly model: Model;
  readonly parts: ReadonlySet<string>;
  readonly metal: Metal;
}

function knownOf(model: Model): Known {
  return {
    model,
    parts: partNames(model),
    metal: metalOf(model),
  };
}

/** A joint is at a station, at a spar there is. */
function* whereFaults({ model, metal: { places } }: Known, j: Joint, path: string): Faults {
  if (!places.has(j.station))
    yield {
      path: `${path}.station`,
      sentence: `${j.id} is at station "${j.station}", which is not in the list; expected one of ${someOf([...places.keys()])}; correct it or add the station`,
    };
  if (!model.spars[j.end])
    yield {
      path: `${path}.end`,
      sentence: `${j.id} is at the ${j.end} spar, and the panel has none; expected "front"; change it or add the spar`,
    };
}

/** Its layers are parts there are, each once, and the guide is one of them. */
function* layerFaults({ parts }: Known, j: Joint, path: string): Faults {
  for (const [k, part] of j.layers.entries()) {
    if (!parts.has(part))
      yield {
        path: `${path}.layers[${k}]`,
        sentence: `${j.id} has a layer "${part}", which is not a part of this panel; expected the name of one; correct it or add the part`,
      };
    const first = j.layers.indexOf(part);
    if (first < k)
      yield {
        path: `${path}.layers[${k}]`,
        sentence: `${j.id} has the layer "${part}" twice, at layers[${first}] too; expected each layer once; remove one`,
      };
  }
  if (!j.layers.includes(j.guide))
    yield {
      path: `${path}.guide`,
      sentence: `${j.id} is guided by "${j.guide}", which is not one of its layers; expected one of ${someOf(j.layers)}; name one of them`,
    };
}

/** The holes of its row: a name each, in the metal, drilled through what can be. */
function* rowFaults({ metal }: Known, j: Joint, path: string): Faults {
  const ids = new Set<string>();
  for (const [k, hole] of j.holes.entries()) {
    const seen = { joint: j, hole, path: `${path}.holes[${k}]` };
    if (ids.has(hole.id))
      yield {
        path: `${seen.path}.id`,
        sentence: `${j.id} has two holes named "${hole.id}"; expected a name each; rename one`,
      };
    ids.add(hole.id);
    yield* holePlaceFaults(metal, seen);
    yield* throughFaults(seen);
  }
}

/** Joints go through parts there are, at places there are, with holes that lie in their metal. */
export function* jointFaults(model: Model): Faults {
  const known = knownOf(model);
  for (const [i, j] of model.joints.entries()) {
    const path = `joints[${i}]`;
    yield* whereFaults(known, j, path);
    yield* layerFaults(known, j, path);
    yield* drillFaults(j, path);
    yield* rowFaults(known, j, path);
  }
}
