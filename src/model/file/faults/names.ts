import type { Model, SparName } from '../../schema.ts';
import type { Fault, Faults } from './fault.ts';

/** Where each name was first given. */
type Given = Map<string, string>;

const GROUPS = ['stations', 'ribs', 'doublers', 'brackets', 'joints'] as const;
const SPARS: readonly SparName[] = ['front', 'rear'];

/** The fault of a name that was given before; else it is given now. */
function givenTwice(given: Given, id: string, path: string): Fault | undefined {
  const first = given.get(id);
  if (!first) {
    given.set(id, path);
    return undefined;
  }
  return {
    path: `${path}.id`,
    sentence: `the name "${id}" is already used at ${first}; expected each part to have its own name; rename one of them`,
  };
}

function* namesInGroups(model: Model, given: Given): Faults {
  for (const group of GROUPS) {
    for (const [i, { id }] of model[group].entries()) {
      const path = `${group}[${i}]`;
      const twin = givenTwice(given, id, path);
      if (twin) yield twin;
      if (id === 'front' || id === 'rear')
        yield {
          path: `${path}.id`,
          sentence: `the name "${id}" is kept for the spar; expected a name of its own; choose another`,
        };
    }
  }
}

function* namesOnSpars(model: Model, given: Given): Faults {
  for (const spar of SPARS) {
    for (const group of ['strips', 'webDoublers'] as const) {
      for (const [i, { id }] of (model.spars[spar]?.[group] ?? []).entries()) {
        const twin = id === undefined ? undefined : givenTwice(given, id, `spars.${spar}.${group}[${i}]`);
        if (twin) yield twin;
      }
    }
  }
}

/** Names within one list alone: a sheet may be called as a station is, but not as another sheet. */
function* namesInList(group: string, word: string, list: readonly { readonly id: string }[]): Faults {
  for (const [i, { id }] of list.entries()) {
    const twin = list.findIndex((o) => o.id === id);
    if (twin < i)
      yield {
        path: `${group}[${i}].id`,
        sentence: `the ${word} name "${id}" is already used at ${group}[${twin}]; expected a name each; rename one of them`,
      };
  }
}

/** Names must be one thing each, over stations, ribs, doublers, brackets, joints and named strips alike. */
export function* nameFaults(model: Model): Faults {
  const given: Given = new Map();
  yield* namesInGroups(model, given);
  yield* namesOnSpars(model, given);
  yield* namesInList('sheets', 'sheet', model.sheets);
  yield* namesInList('instruments', 'instrument', model.instruments);
  yield* namesInList('stages', 'stage', model.stages);
}
