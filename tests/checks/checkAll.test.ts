import { describe, expect, test } from 'vitest';
import { checkAll, countVerdicts, worstFirst } from '../../src/checks/checkAll.ts';
import { show, whatToMeasure } from '../../src/checks/describe.ts';
import { severity } from '../../src/checks/finding.ts';
import { limitFor } from '../../src/model/limits.ts';
import { changed, finding, PANELS, panel } from '../model/panels.ts';

describe.each(PANELS)('all findings of %s', (name) => {
  const all = checkAll(panel(name));

  test('each has an id of its own, a station of the panel or none, and a full sentence', () => {
    expect(new Set(all.map((f) => f.id)).size).toBe(all.length);
    const stations = new Set<string | null>([null, ...panel(name).stations.map((s) => s.id)]);
    for (const f of all) {
      expect(stations.has(f.station), f.id).toBe(true);
      expect(f.sentence, f.id).toMatch(/^[A-Z].*\.$/);
      expect(f.sentence, f.id).not.toMatch(/NaN|undefined|Infinity| {2}|-0\.00/);
      expect(f.sense.length, f.id).toBeGreaterThan(2);
      expect(f.low <= f.value && f.value <= f.high, f.id).toBe(true);
      expect(f.chance >= 0 && f.chance <= 1 + 1e-12, f.id).toBe(true);
    }
  });

  test('an unsettled one names what to measure when a size of the panel is in doubt', () => {
    for (const f of all.filter((x) => x.verdict === 'unsettled')) expect(f.sentence, f.id).toMatch(/Measure the /);
  });

  test('made once for a model', () => expect(checkAll(panel(name))).toBe(all));

  test('the same for a copy of the model', () => expect(checkAll(changed(panel(name), () => {}))).toEqual(all));
});

test('the plain panel has nothing to find: everything fits', () => {
  const counts = countVerdicts(checkAll(panel('plain')));
  expect(counts).toEqual({ fits: checkAll(panel('plain')).length, watch: 0, act: 0, unsettled: 0 });
});

describe('worst first', () => {
  const sorted = worstFirst(checkAll(panel('narrow-tail')));
  test('act, unsettled, watch, fits; echoes after what they echo; the given list untouched', () => {
    const before = checkAll(panel('narrow-tail')).map((f) => f.id);
    for (let i = 1; i < sorted.length; i++) {
      const [a, b] = [sorted[i - 1]!, sorted[i]!];
      expect(severity(a.verdict)).toBeGreaterThanOrEqual(severity(b.verdict));
      if (a.verdict === b.verdict && a.echoOf) expect(b.echoOf).toBeDefined();
    }
    expect(checkAll(panel('narrow-tail')).map((f) => f.id)).toEqual(before);
    expect(sorted[0]!.verdict).toBe('act');
  });

  test('counts add up', () => {
    const counts = countVerdicts(sorted);
    expect(counts.fits + counts.watch + counts.act + counts.unsettled).toBe(sorted.length);
  });
});

describe('words', () => {
  test("values in the panel's own unit", () => {
    const plain = panel('plain');
    const inches = changed(plain, (m) => {
      m.units = 'in';
    });
    expect(show(plain, 0.32)).toBe('0.32 mm');
    expect(show(inches, 0.3302)).toBe('0.013 in');
    expect(show(plain, -0.5, 'deg')).toBe('-0.50°');
    expect(show(plain, 2.142, 'D')).toBe('2.14 D');
    expect(show(plain, 0.785, 'mm/100')).toContain('per 100 mm');
  });

  test('what to measure is what carries the doubt, with the finest instrument when another was used', () => {
    const f = finding(panel('narrow-tail'), 'chord-gap', 'M2');
    expect(whatToMeasure(panel('narrow-tail'), f)).toBe('Measure the length of M2 again with a caliper.');
    const drawn = finding(panel('washed-out-wing'), 'cap-gap', 'M2 front');
    expect(whatToMeasure(panel('washed-out-wing'), drawn)).toMatch(
      /^Measure the (front spar depth at W2|height of M2, front end)\.$/,
    );
  });

  test('findings show the limit in force', () => {
    for (const f of checkAll(panel('narrow-tail')))
      if (f.check === 'cap-gap') expect(f.limits.act).toEqual(limitFor(panel('narrow-tail'), 'cap-gap').act);
  });
});
