import { describe, expect, test } from 'vitest';
import { checkAll } from '../../src/checks/checkAll.ts';
import { panelSizes, stepOf } from '../../src/checks/panelSizes.ts';
import { unaskedOf } from '../../src/checks/unasked.ts';
import { meaningFaults } from '../../src/model/file/faults.ts';
import type { Model } from '../../src/model/schema.ts';
import { STARTS, startPanel } from '../../src/model/starts/starts.ts';
import { COUNTS } from '../counts.ts';
import { PANELS, panel } from '../model/panels.ts';
import { randomPanel } from '../random-panel.ts';

/*
 * What no check rests on. The slow twin: every size moved by itself, afresh, and every finding set beside what it was. That
 * the list is short is asked of the checks: a size stands in it for a reason of its own.
 */

const numbersOf = (m: Model): string =>
  JSON.stringify(checkAll(m).map((f) => [f.id, f.value, f.low, f.high, f.verdict, f.limits.fits, f.limits.act]));

/** Sizes that move no finding, one by one. */
function blind(m: Model): string[] {
  const before = numbersOf(m);
  const rested = new Set(checkAll(m).flatMap((f) => f.restsOn.filter((t) => t.c !== 0).map((t) => t.size.key)));
  return panelSizes(m)
    .filter((size) => {
      const step = stepOf(size);
      const panels = [step, -step].map((by) => size.moved(m, by)).filter((p) => meaningFaults(p).length === 0);
      const isInChain = size.key !== undefined && rested.has(size.key);
      return !isInChain && panels.length > 0 && panels.every((p) => numbersOf(p) === before);
    })
    .map((s) => `${s.size} of ${s.part}`)
    .sort();
}

const namesOf = (m: Model): string[] =>
  unaskedOf(m)
    .map((u) => `${u.size} of ${u.part}`)
    .sort();

describe('sizes that no check rests on', () => {
  test('plain: as the slow twin finds them', () => {
    expect(namesOf(panel('plain'))).toEqual(blind(panel('plain')));
  });

  test('random panels: as the slow twin finds them', () => {
    for (let seed = 1; seed <= Math.max(6, COUNTS.panels / 20); seed++)
      expect(namesOf(randomPanel(seed)), `panel ${seed}`).toEqual(blind(randomPanel(seed)));
  });

  test('every one has a part and a reason', () => {
    const panels = STARTS.map((s) => startPanel(s, {})).flatMap((s) => (s.ok ? [s.model] : []));
    for (const m of [...PANELS.map(panel), ...panels])
      for (const { size, part, why } of unaskedOf(m)) expect([size, part, why].every((t) => t.length > 0)).toBe(true);
  });

  test('a size moved by nothing moves nothing', () => {
    const m = panel('plain');
    for (const size of panelSizes(m))
      expect(numbersOf(size.moved(m, 0)), `${size.size} of ${size.part}`).toBe(numbersOf(m));
  });
});
