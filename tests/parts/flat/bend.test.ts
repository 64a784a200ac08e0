import { describe, expect, test } from 'vitest';
import {
  bendAllowance,
  bendRelief,
  HANDBOOK_RULE,
  leastRelief,
  MANUAL_RULE,
  setbackFactor,
  setbackOf,
} from '../../../src/parts/flat/bend.ts';
import { developChannel } from '../../../src/parts/flat/flatPattern.ts';

/* Published rows: FAA-H-8083-31 chapter 4, NAVEDTRA 14018 chapter 13, AC 43.13-1B paragraph 4-56 and table 4-7. Inches where the source has them: the formulas are linear in length. */

describe('bend allowance', () => {
  test('row FB-1, handbook: R 0.16, T 0.040, 90 degrees is 0.279072', () =>
    expect(bendAllowance({ radius: 0.16, thickness: 0.04 })).toBeCloseTo(0.279072, 10));
  test('row FB-3, manual: the same is 0.277200', () =>
    expect(bendAllowance({ radius: 0.16, thickness: 0.04 }, MANUAL_RULE)).toBeCloseTo(0.2772, 10));
  test('row FB-5, chart: 60 degrees at 0.003034 a degree is 0.18204; R 0.156 and 0.15625 lie either side of it', () => {
    expect(bendAllowance({ radius: 0.156, thickness: 0.04, angle: 60 })).toBeCloseTo(0.181865, 6);
    expect(bendAllowance({ radius: 0.15625, thickness: 0.04, angle: 60 })).toBeCloseTo(0.182126, 6);
  });
  test('row FB-7, open flange, bend 78: allowance 0.189411, K 0.809784, setback 0.127136', () => {
    const bend = { radius: 0.125, thickness: 0.032, angle: 78 };
    expect(bendAllowance(bend)).toBeCloseTo(0.189411, 6);
    expect(setbackFactor(78)).toBeCloseTo(0.809784, 6);
    expect(setbackOf(bend)).toBeCloseTo(0.127136, 6);
  });
  test('the rules differ only in the figure for the radius', () => {
    expect(HANDBOOK_RULE.thickness).toBe(MANUAL_RULE.thickness);
    expect([HANDBOOK_RULE.radius, MANUAL_RULE.radius]).toEqual([0.01743, 0.0173]);
  });
});

describe('setback', () => {
  test('AC 43.13-1B worked: 0.064 sheet, R 0.25, 45 degrees is 0.130; 135 degrees 0.758', () => {
    expect(setbackOf({ radius: 0.25, thickness: 0.064, angle: 45 })).toBeCloseTo(0.13, 3);
    expect(setbackOf({ radius: 0.25, thickness: 0.064, angle: 135 })).toBeCloseTo(0.758, 3);
  });
  // Table 4-7; many entries are cut off, not rounded: within 1.5 of the last place.
  test.each([
    [5, 0.0436, 4],
    [15, 0.1316, 4],
    [30, 0.2679, 4],
    [45, 0.4142, 4],
    [60, 0.5773, 4],
    [75, 0.7673, 4],
    [85, 0.9163, 4],
    [90, 1, 3],
    [95, 1.091, 3],
    [110, 1.428, 3],
    [120, 1.732, 3],
    [135, 2.414, 3],
    [150, 3.732, 3],
    [170, 11.43, 2],
    [179, 114.59, 2],
  ])('K of %d degrees is %d', (angle, k, places) => {
    expect(Math.abs(setbackFactor(angle) - k)).toBeLessThanOrEqual(1.5 * 10 ** -places);
  });
});

describe('relief holes (row FB-9)', () => {
  const inch = 25.4;
  test('1/8 in for 0.040 sheet, 3/16 in for 0.080', () => {
    expect(leastRelief(0.04 * inch)).toEqual({ diameter: inch / 8, covered: true });
    expect(leastRelief(0.08 * inch)).toEqual({ diameter: (3 * inch) / 16, covered: true });
  });
  test('0.071 in, a stock size, lies between the printed ranges: 3/16 in, and said not to be covered', () => {
    // Its name is a mil short of the range; the table says 0.072.
    expect(leastRelief(0.071 * inch)).toEqual({ diameter: (3 * inch) / 16, covered: false });
    expect(leastRelief(0.19 * inch).covered).toBe(false);
  });
  test('a corner further off takes the next 32nd that holds it', () => {
    expect(bendRelief(0.635, 1)).toBeCloseTo(inch / 8, 9);
    expect(bendRelief(0.635, 1.7)).toBeCloseTo((5 * inch) / 32, 9);
    expect(bendRelief(0.635, (3 * inch) / 32)).toBeCloseTo((3 * inch) / 16, 9);
  });
});

describe('a channel developed', () => {
  test('panel A: 84.37 over legs of 14.0, R 1.98, T 0.635: by the manual BA 3.53 and flat 108.97', () => {
    const sizes = { height: 84.37, leg: 14, radius: 1.98, thickness: 0.635 };
    const found = developChannel(sizes, bendAllowance(sizes, MANUAL_RULE));
    expect(found.allowance).toBeCloseTo(3.53, 2);
    expect(found.length).toBeCloseTo(108.97, 2);
    // By the handbook's 0.01743, worked by hand: 2 × 90 × 0.00013 × 1.98 longer.
    expect(developChannel(sizes).length - found.length).toBeCloseTo(2 * 90 * 0.00013 * 1.98, 9);
  });

  test('the handbook’s U channel (1 in flanges, 2 in web, R 0.16, T 0.040): 3.74 with its printed BA 0.27, 3.758144 with its own formula', () => {
    const sizes = { height: 2, leg: 1, radius: 0.16, thickness: 0.04 };
    expect(developChannel(sizes, 0.27).length).toBeCloseTo(3.74, 10);
    expect(developChannel(sizes).length).toBeCloseTo(3.758144, 10);
    expect(developChannel(sizes, 0.27305).length).toBeLessThan(4);
  });

  test('bends that leave no flat are refused', () => {
    expect(() => developChannel({ height: 5, leg: 14, radius: 2, thickness: 0.6 })).toThrow(RangeError);
    expect(() => developChannel({ height: 50, leg: 2.5, radius: 2, thickness: 0.6 })).toThrow(RangeError);
  });
});
