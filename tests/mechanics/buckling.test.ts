import { describe, expect, test } from 'vitest';
import {
  curvedPanel,
  knockDown,
  LONG_PLATE,
  plateStress,
  restingPlate,
  roundStress,
  shearPlate,
} from '../../src/mechanics/buckling.ts';

describe('published buckling', () => {
  // Row 6.1: G. Gerard and H. Becker, NACA TN 3781: 4.00 and 6.98 by chart.
  test('6.1 long plate', () => {
    expect(LONG_PLATE.resting).toBe(4);
    expect(Math.abs(LONG_PLATE.fast / 6.98 - 1)).toBeLessThan(0.002);
  });

  // Row 6.3: Megson, 3rd ed., p. 171: k = (mb/a + a/mb)², 4 at whole a/b.
  test.each([
    [1, 4],
    [1.4, 4.47020408163],
    [Math.SQRT2, 4.5],
    [2.5, 4.13444444444],
    [7, 4],
  ])('6.3 resting plate, a/b = %d', (aspect, k) => expect(restingPlate(aspect)).toBeCloseTo(k, 9));

  // Row 6.5: Timoshenko and Gere, 9.7; exact 5.336323 and 9.32452.
  test('6.5 shear', () => {
    expect(Math.abs(shearPlate(1e6) / 5.336323 - 1)).toBeLessThan(0.003);
    expect(Math.abs(shearPlate(1) / 9.32452 - 1)).toBeLessThan(0.003);
  });

  // Rows 6.7, 6.8: the formula, mm and MPa, inch and psi.
  test('6.7 and 6.8 stress', () => {
    expect(plateStress(4, 71000, 0.5, 100)).toBeCloseTo(6.55315445776, 10);
    expect(plateStress(4, 1.05e7, 0.025, 4, 0.3)).toBeCloseTo(1482.81316122, 7);
  });

  // Rows 6.13, 6.14: S. Batdorf, NACA TR 874: 4 + 3Z²/π⁴, then 0.702 Z.
  test('6.13 and 6.14 curved panel', () => {
    expect(curvedPanel(5)).toBeCloseTo(4.7699486691, 9);
    expect(curvedPanel(50)).toBeCloseTo(35.0986875903, 9);
    expect(curvedPanel(0)).toBe(4);
    const turn = (2 * Math.PI ** 2) / Math.sqrt(3);
    expect(curvedPanel(turn - 1e-9)).toBeCloseTo(curvedPanel(turn + 1e-9), 6);
  });

  // Rows 6.18, 6.19: NASA SP-8007.
  test.each([
    [200, 0.47127088737, 0.5710310973],
    [1000, 0.223846092665, 0.370290226125],
  ])('6.18, 6.19 knock-down at r/t = %d', (ratio, axial, bending) => {
    expect(knockDown(ratio)).toBeCloseTo(axial, 11);
    expect(knockDown(ratio, 'bending')).toBeCloseTo(bending, 11);
  });

  // Row 6.23: E 71000, r 150, t 0.5.
  test('6.23 cylinder', () => {
    const { perfect, likely } = roundStress(71000, 0.5, 150);
    expect(perfect).toBeCloseTo(144.748224328, 8);
    expect(likely).toBeCloseTo(58.5075063259, 8);
  });
});
