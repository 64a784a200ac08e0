import { best } from '../../src/chains/chain.ts';
import { layJoints, pilotLayers } from '../../src/model/edits/jointsLaid.ts';
import { parseModel } from '../../src/model/file/parse.ts';
import { writeModel } from '../../src/model/file/write.ts';
import { QUANTITIES } from '../../src/model/quantities.ts';
import type { Model, Reading } from '../../src/model/schema.ts';
import type { SizeEntry } from '../../src/model/sizeEntries.ts';
import { sizeBook } from '../../src/model/sizes.ts';
import { complete, type Start, type StartAnswers } from '../../src/model/starts/asked.ts';
import { startPanel } from '../../src/model/starts/starts.ts';
import { feelableAt } from '../../src/parts/layout/feelers.ts';
import { skeletonOf } from '../../src/parts/layout/skeleton.ts';
import { frozen } from '../model/panels.ts';
import { Draw, randomPanel } from '../random-panel.ts';

/*
 * Panels made up with something wrong in them and something on hand to put it right: joints with blind and solid rivets,
 * some of them drilled; readings off the drawing; now and then a felt gap that its parts contradict.
 */

/** A reading of a size, off by `off` mm or degrees from what the drawing says. */
function readOff(e: SizeEntry, off: number): Reading {
  return {
    size: e.key,
    value: (e.nominal ?? 0) + off,
    instrument: Object.keys(QUANTITIES[e.kind].u)[0]!,
    sure: true,
  };
}

/** Kinds of size that a builder finds off the drawing, and by how much at the most, mm. */
const OFF: Partial<Record<SizeEntry['kind'], number>> = {
  height: 0.6,
  length: 1,
  noseLength: 1.2,
  tipLength: 1,
  webToWeb: 0.6,
  clear: 0.4,
  depth: 0.4,
  radius: 0.8,
  relief: 1.5,
  protrusion: 1.5,
  bow: 1.5,
  offset: 0.5,
};

/** Some sizes read off the drawing. */
function withReadings(d: Draw, model: Model): Model {
  const known = new Set(model.readings.map((r) => r.size));
  const read = [...sizeBook(model).entries.values()].flatMap((e): Reading[] => {
    const most = OFF[e.kind];
    const told = e.nominal !== undefined || e.kind === 'bow' || e.kind === 'offset';
    if (most === undefined || known.has(e.key) || !told || !d.chance(e.kind === 'offset' ? 0.15 : 0.4)) return [];
    return [readOff(e, d.between(-most, most))];
  });
  return { ...model, readings: [...model.readings, ...read] };
}

/** A gap felt far from what its parts say, at one place. */
function withDispute(d: Draw, model: Model): Model {
  const skeleton = skeletonOf(model);
  const all = skeleton.bays.flatMap((bay) => feelableAt(skeleton, bay));
  if (all.length === 0) return model;
  const gap = d.one(all);
  const value = best(gap.computed) + d.one([-1, 1]) * d.between(1.5, 2.5);
  const felt: Reading = { size: gap.key, value, instrument: 'feeler', sure: true };
  return { ...model, readings: [...model.readings.filter((r) => r.size !== gap.key), felt] };
}

const blind = (least: number, most: number): Model['stock']['rivets'][number] => ({
  kind: 'blind',
  diameter: 3.175,
  grip: [least, most],
});

function withStock(d: Draw, model: Model): Model {
  return {
    ...model,
    survey: { ...model.survey, supports: model.stations.filter(() => d.chance(0.6)).map((s) => s.id) },
    stock: {
      sheets: model.sheets.map((s) => s.id),
      shims: [0.254, 0.4],
      packs: [0.2, 0.5, 1, 2],
      drills: [2.4892, 3.2639, 4.0386],
      rivets: [blind(0.5, 1.6), blind(1.6, 3.2), blind(3.2, 4.8)].filter(() => d.chance(0.9)),
    },
  };
}

/** Joints laid where there are none, some to be riveted solid, some drilled. */
function withJoints(d: Draw, model: Model): Model {
  const laid =
    model.joints.length > 0 ? model.joints : layJoints(model, { rivet: 3.175, pitch: 15, front: 3, rear: 2 });
  const joints = laid.map((j) => {
    const how = d.one(['as laid', 'blind', 'solid'] as const);
    if (how === 'as laid') return j;
    const { diameter } = j.rivet;
    const rivet =
      how === 'solid'
        ? { kind: 'solid' as const, diameter, length: d.between(4, 9) }
        : {
            kind: 'blind' as const,
            diameter,
            grip: d.one<[number, number]>([
              [0.5, 1.6],
              [1.6, 3.2],
            ]),
          };
    return { ...j, rivet, ...(d.chance(0.5) ? { next: { rivet: 3.9688, drill: 4.0386 } } : {}) };
  });
  const drilled = new Set(joints.filter(() => d.chance(0.3)).map((j) => j.id));
  return pilotLayers({ ...model, joints }, () => true, drilled).apply({ ...model, joints });
}

/** As the program reads it back from its file; undefined where the chance made something no file may say. */
function readBack(model: Model): Model | undefined {
  const read = parseModel(writeModel(model));
  return read.ok ? frozen(read.model) : undefined;
}

function furnished(d: Draw, drawn: Model): Model | undefined {
  const joined = withJoints(d, withStock(d, drawn));
  const joints = readBack(joined) ?? readBack(withStock(d, drawn));
  if (!joints) return undefined;
  const read = readBack(withReadings(d, joints));
  if (!read) return joints;
  return (d.chance(0.4) ? readBack(withDispute(d, read)) : undefined) ?? read;
}

/** A random panel with joints, stock and readings. */
export const wrongPanel = (seed: number): Model | undefined => furnished(new Draw(seed + 5_000), randomPanel(seed));

/** A panel of a start, a few of its numbers answered by chance, with stock and readings; undefined where the answers make none. */
export function wrongStart(start: Start, seed: number): Model | undefined {
  const d = new Draw(seed + 9_000);
  const all: Record<string, StartAnswers[string]> = { ...complete(start, {}) };
  for (const q of start.groups.flatMap((g) => g.questions)) {
    if (q.kind === 'choice' && q.choices && d.chance(0.2)) all[q.id] = d.one(q.choices)[0];
    if (q.kind === 'length' && typeof q.usual === 'number' && d.chance(0.2)) all[q.id] = q.usual * d.between(0.9, 1.1);
  }
  const made = startPanel(start, all as StartAnswers);
  const usual = made.ok ? made : startPanel(start, {});
  return usual.ok ? furnished(d, usual.model) : undefined;
}
