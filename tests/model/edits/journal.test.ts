import { describe, expect, test } from 'vitest';
import { applyEdit, type Edit, forgetReadings, measure, redraw, standAt } from '../../../src/model/edits/edits.ts';
import { journaled } from '../../../src/model/edits/journal.ts';
import { ticked, tickOf, unticked } from '../../../src/model/edits/ticks.ts';
import { parseModel } from '../../../src/model/file/parse.ts';
import { writeModel } from '../../../src/model/file/write.ts';
import type { Model } from '../../../src/model/schema.ts';
import { demo, frozen } from '../../scene/panel.ts';

/* Outside source: none is needed; what a journal must keep is common practice: what, when, from what, to what. */

const model = frozen(demo('narrow-tail'));

function done(m: Model, edit: Edit, date: string): Model {
  const result = applyEdit(m, journaled(edit, date));
  if (!result.ok) throw new Error(result.faults.map((f) => f.sentence).join());
  return result.model;
}

describe('the journal', () => {
  test('keeps what a size was and what it then was, from the readings themselves', () => {
    const after = done(
      model,
      measure(model, 'M5.length', [262.4], { instrument: 'caliper', date: '2026-06-01' }),
      '2026-06-01',
    );
    expect(after.log).toHaveLength(1);
    const [entry] = after.log!;
    expect(entry).toMatchObject({ date: '2026-06-01', what: 'measured the length of M5', size: 'M5.length' });
    expect(entry!.was).toBeCloseTo(262.6, 9); // as measured before: demo-panels
    expect(entry!.is).toBeCloseTo(262.4, 9);
  });

  test('says many changes of one size on one day once: the first was, the last is', () => {
    const edits = [262.7, 262.3, 262.9].map((v) => redraw(model, 'M5.length', v)!);
    const plain = { ...model, readings: model.readings.filter((r) => r.size !== 'M5.length') };
    const after = edits.reduce((m, e) => done(m, e, '2026-06-01'), plain);
    expect(after.log).toHaveLength(1);
    expect(after.log![0]).toMatchObject({ was: 262.5, is: 262.9 });
    expect(done(after, edits[0]!, '2026-06-02').log).toHaveLength(2);
  });

  test('keeps a reading that was taken back', () => {
    const after = done(model, forgetReadings(model, 'M5.length'), '2026-06-01');
    expect(after.log![0]).toMatchObject({ what: 'took back the readings of the length of M5', was: 262.6, is: 262.5 });
  });

  test('is not written by what only changes the look, nor by what changes nothing', () => {
    expect(done(model, { name: 'looked', quiet: true, apply: (m) => ({ ...m }) }, '2026-06-01').log).toBeUndefined();
    expect(done(model, { name: 'nothing', apply: (m) => m }, '2026-06-01')).toBe(model);
    expect(done(model, standAt('front'), '2026-06-01').log).toHaveLength(1);
  });

  test('goes through the file unchanged, and its faults are refused', () => {
    const after = done(
      done(model, standAt('front'), '2026-06-01'),
      ticked('stand:M5', 'Stand rib M5', { by: 'AB', date: '2026-06-01' }),
      '2026-06-01',
    );
    const text = writeModel(after);
    const read = parseModel(text);
    expect(read.ok && writeModel(read.model)).toBe(text);
    const bad = applyEdit(after, {
      name: 'x',
      apply: (m) => ({ ...m, log: [...m.log!, { date: '2026-06-02', what: 'x'.repeat(600) }] }),
    });
    expect(bad.ok).toBe(false);
  });

  test('and is checked in step with the readings: a bad reading is refused with it', () => {
    const bad = applyEdit(
      model,
      journaled(measure(model, 'M5.length', [Number.NaN], { instrument: 'caliper' }), '2026-06-01'),
    );
    expect(bad.ok).toBe(false);
  });
});

describe('ticks', () => {
  test('are put on and taken off, one for a step', () => {
    const once = done(model, ticked('stand:M5', 'Stand rib M5', { by: 'AB', date: '2026-06-01' }), '2026-06-01');
    expect(tickOf(once, 'stand:M5')).toEqual({ step: 'stand:M5', by: 'AB', date: '2026-06-01' });
    const twice = done(once, ticked('stand:M5', 'Stand rib M5', { by: 'CD', date: '2026-06-02' }), '2026-06-02');
    expect(twice.ticks).toHaveLength(1);
    expect(tickOf(twice, 'stand:M5')!.by).toBe('CD');
    expect(tickOf(done(twice, unticked('stand:M5', 'Stand rib M5'), '2026-06-02'), 'stand:M5')).toBeUndefined();
    expect(twice.log).toBeUndefined();
  });
});
