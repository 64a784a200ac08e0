import { describe, expect, test } from 'vitest';
import { checkAll } from '../../../src/checks/checkAll.ts';
import { ALUMINIUM, growth, STEEL } from '../../../src/checks/fit/temperature.ts';
import type { Model } from '../../../src/model/schema.ts';
import { changed, finding, panel } from '../../model/panels.ts';

/* Aluminium about 23 and steel about 12 millionths a degree: common practice. Limits: picked. */

// trade 2.1: a steel tape on a 2.62 m panel misreads about 0.47 mm for a 15 degree change.
test('growth: 2.62 m of steel over 15 °C is 0.47 mm', () => expect(growth(2620, 15, STEEL).toFixed(2)).toBe('0.47'));

describe('panel B, F7: lengths taken on two days 15 °C apart', () => {
  const f = finding(panel('washed-out-wing'), 'temperature', 'lengths');

  test('is seen, with the sizes and about how much they misread', () => {
    expect(f).toMatchObject({ value: 15, verdict: 'act', unit: 'degC', station: null, basis: 'measured' });
    expect(f.sentence).toContain('web to web at W6, W7, W8, W9');
    // By hand: 530.6 mm × 15 °C × 23 and 12 millionths.
    expect([growth(530.6, 15, ALUMINIUM), growth(530.6, 15, STEEL)].map((v) => v.toFixed(2))).toEqual(['0.18', '0.10']);
    expect(f.sentence).toContain(
      'aluminium grows 0.18 mm and a steel rule 0.10 mm, so with steel it misreads by about 0.09 mm',
    );
  });
});

describe('spread and verdict', () => {
  const at = (...degrees: number[]): Model =>
    changed(panel('plain'), (m) => {
      m.readings = m.readings.filter((r) => !/length|webs|depth/.test(r.size));
      degrees.forEach((temperature, i) => {
        m.readings.push({ size: `webs@S${i + 1}`, value: 200, instrument: 'stick', temperature });
      });
      for (const r of m.readings) if (!r.size.startsWith('webs')) delete r.temperature;
    });

  // Spread ± 2 × √2 for two thermometer readings of 1 °C each.
  test.each([
    [[20, 20], 'fits'],
    [[20, 22], 'fits'],
    [[20, 26], 'watch'],
    [[20, 29], 'unsettled'],
    [[20, 33], 'act'],
    [[20, 20, 33], 'act'],
    [[-5, -5, 8], 'act'],
  ] as const)('%j °C: %s', (degrees, verdict) => {
    expect(finding(at(...degrees), 'temperature', 'lengths').verdict).toBe(verdict);
  });

  test('one length, or none with a temperature, has nothing to compare', () => {
    expect(checkAll(at(20)).some((f) => f.check === 'temperature')).toBe(false);
    expect(checkAll(at()).some((f) => f.check === 'temperature')).toBe(false);
  });

  test('short sizes do not grow enough to ask about', () => {
    const short = changed(at(20, 20), (m) => {
      m.readings.push({ size: 'sheet.s025', value: 0.635, instrument: 'micrometer', temperature: 0 });
    });
    expect(finding(short, 'temperature', 'lengths').value).toBe(0);
  });
});
