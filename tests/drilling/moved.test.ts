import { describe, expect, test } from 'vitest';
import { checkAll } from '../../src/checks/checkAll.ts';
import { askHoles } from '../../src/drilling/drill.ts';
import { gatesOf } from '../../src/drilling/gates.ts';
import { parseModel } from '../../src/model/file/parse.ts';
import { writeModel } from '../../src/model/file/write.ts';
import type { Model } from '../../src/model/schema.ts';
import { STARTS, startPanel } from '../../src/model/starts/starts.ts';
import { skeletonOf } from '../../src/parts/layout/skeleton.ts';
import { COUNTS } from '../counts.ts';
import { mirrored, moved, reversed } from '../model/moved.ts';
import { Draw, randomPanel } from '../random-panel.ts';
import { lookedAt } from '../shop/reader.ts';

/*
 * Mirrored, shifted along the span, its lists in any order, shown in inches, written down and read again: the same answers
 * of every gate and hole. Laws over made-up panels of every layout, and over every start looked at and drilled in part.
 */

const PANELS = Math.min(COUNTS.panels, 300);

/** What is answered, in an order of its own: every gate and its items, every hole, at a stage. */
function answers(model: Model, stage: string | undefined): string[] {
  const gates = gatesOf(model, stage).flatMap((g) => [
    `${g.id}: ${g.answer}, ${g.rows.yes} of ${g.rows.of}`,
    ...g.items.map((i) => `${g.id}, ${i.name}: ${i.answer}, ${i.basis}, ${i.rests.read} of ${i.rests.of}`),
  ]);
  const at = stage === undefined ? {} : { stage };
  const holes = askHoles(skeletonOf(model), at).map(
    (h) => `${h.id}: ${h.state}, ${[h.followChance, h.bestChance].map((c) => c?.toFixed(6))}`,
  );
  const verdicts = checkAll(model).map((f) => `${f.check} ${f.verdict} ${f.basis} ${f.chance.toFixed(6)}`);
  return [...gates, ...holes, ...verdicts].sort();
}

/** The same panel otherwise put. */
const OTHERWISE: readonly (readonly [string, (m: Model) => Model])[] = [
  ['mirrored', mirrored],
  ['shifted along the span', (m) => moved(m, (y) => y + 512.5)],
  ['its lists turned round', reversed],
  ['in the other unit', (m) => ({ ...m, units: m.units === 'mm' ? 'in' : 'mm' })],
  [
    'written and read again',
    (m) => {
      const read = parseModel(writeModel(m));
      if (!read.ok) throw new Error(read.faults.map((f) => f.sentence).join('\n'));
      return read.model;
    },
  ],
];

describe.each(OTHERWISE)('%s', (_, otherwise) => {
  test('on panels of every layout', () => {
    for (let seed = 1; seed <= PANELS; seed++) {
      const model = randomPanel(seed);
      const d = new Draw(seed);
      const stage = d.one([undefined, ...model.stages.map((s) => s.id)]);
      expect([seed, ...answers(otherwise(model), stage)]).toEqual([seed, ...answers(model, stage)]);
    }
  });

  test('on every start, looked at and part drilled', () => {
    for (const start of STARTS) {
      const made = startPanel(start, {});
      if (!made.ok) throw new Error(start.name);
      const model = lookedAt(made.model, ['pilots']);
      const stage = model.stages.at(-1)?.id;
      expect([start.name, ...answers(otherwise(model), stage)]).toEqual([start.name, ...answers(model, stage)]);
    }
  });
});
