import { describe, expect, test } from 'vitest';
import { checkAll, worstFirst } from '../../../src/checks/checkAll.ts';
import type { Model } from '../../../src/model/schema.ts';
import { changed, finding, panel } from '../../model/panels.ts';

/* Limit: three combined standard uncertainties, common practice. */
const A = panel('narrow-tail');
const feel = (model: Model, size: string, value: number): Model =>
  changed(model, (m) => {
    m.readings.push({ size, value, instrument: 'feeler' });
  });
const disagreements = (model: Model) => checkAll(model).filter((f) => f.check === 'disagreement');

describe('a gap felt and computed', () => {
  // By hand: M5 front computes 0.38; u² = 0.05² + 0.08² + (2 × 0.005)² and the feeler's 0.03²: 0.0995.
  test('within three combined uncertainties they agree', () => {
    const f = finding(feel(A, 'gap.M5.front', 0.5), 'disagreement', 'M5 front at the caps');
    expect(f.value).toBeCloseTo(0.12 / Math.sqrt(0.05 ** 2 + 0.08 ** 2 + 0.01 ** 2 + 0.03 ** 2), 9);
    expect(f.verdict).toBe('fits');
  });

  test('beyond three, act: the least sure reading is named, and no conclusion is drawn', () => {
    const felt = feel(A, 'gap.M5.front', 0.02);
    const f = finding(felt, 'disagreement', 'M5 front at the caps');
    expect(f).toMatchObject({ verdict: 'act', station: 'S5', unit: 'u', sense: 'felt tighter' });
    expect(f.sentence).toBe(
      'M5 front was felt at 0.02 mm at the caps, and its parts say 0.38 mm: 0.36 mm apart, 3.6 combined uncertainties. Act: beyond 3.0 combined uncertainties. Most worth repeating: the height of M5, front end. Draw no conclusion before.',
    );
    const gap = finding(felt, 'cap-gap', 'M5 front');
    expect(gap.verdict).toBe('unsettled');
    expect(gap.sentence).toMatch(
      /Felt at the caps: 0\.02 mm; its parts alone say 0\.38 mm\. The two disagree: settle which is wrong before anything is concluded\.$/,
    );
  });

  test('it stands before every other finding that wants acting on', () =>
    expect(worstFirst(checkAll(feel(A, 'gap.M5.front', 0.02)))[0]!.check).toBe('disagreement'));

  test('what only the drawing says is to be measured, not repeated', () => {
    const drawn = changed(A, (m) => {
      m.readings = m.readings.filter((r) => r.size !== 'M5.length');
    });
    expect(finding(feel(drawn, 'chord.M5', 1.6), 'disagreement', 'M5 between the webs').sentence).toContain(
      'Measure the length of M5: only the drawing says it.',
    );
  });

  test('where nothing is felt there is nothing to say', () => expect(disagreements(A)).toEqual([]));
});

describe('one size by two instruments', () => {
  // By hand: 83.35 and 83.35 + d by calipers of 0.08 and 0.02.
  const twice = (d: number): Model =>
    changed(A, (m) => {
      m.instruments.push({ id: 'gauge', name: 'a gauge', u: { height: 0.02 } });
      m.readings.push({ size: 'M2.front.height', value: 83.35 + d, instrument: 'gauge' });
    });

  test('is judged by their combined uncertainty', () => {
    const f = finding(twice(0.1), 'disagreement', 'height of M2, front end');
    expect(f.value).toBeCloseTo(0.1 / Math.hypot(0.08, 0.02), 9);
    expect(f.verdict).toBe('fits');
    expect(finding(twice(0.3), 'disagreement', 'height of M2, front end')).toMatchObject({
      verdict: 'act',
      sense: 'gauge reads more',
    });
    expect(finding(twice(-0.3), 'disagreement', 'height of M2, front end').sentence).toContain(
      'Repeat the one by caliper.',
    );
  });
});
