import { describe, expect, test } from 'vitest';
import { cells, closedTorsion, openStress, openTorsion, solidTorsion } from '../../src/mechanics/torsion.ts';

describe('published torsion', () => {
  // Row 5.1: T. H. G. Megson, Aircraft Structures, 3rd ed., ex. 9.8: J 316.7 mm⁴, 78.9 N/mm².
  test('5.1 open channel', () => {
    const walls = [
      { length: 25, thickness: 1.5 },
      { length: 50, thickness: 2.5 },
      { length: 25, thickness: 1.5 },
    ];
    expect(openTorsion(walls)).toBeCloseTo(316.666666667, 8);
    expect(openStress(walls, 10_000)).toBeCloseTo(78.9473684211, 9);
    expect(10_000 / (25_000 * openTorsion(walls))).toBeCloseTo(0.00126315789474, 13);
  });

  // Row 5.2: Megson ex. 10.7, three-cell tube of mixed shear modulus under 11.3 kN·m: 7.1, 8.9, 4.2 N/mm. Walls: nose arc 1650 × 1.22
  // at 24 200, its web 508 × 2.03 at 27 600, four skins 775 × 1.22 at 24 200 and 508 × 0.92 at 20 700, webs 380 × 1.63 and 254 × 0.92.
  test('5.2 three cells', () => {
    const wall = (length: number, thickness: number, shear: number) => ({ length, thickness, shear });
    const found = cells(
      [
        { area: 258_000, walls: [wall(1650, 1.22, 24_200)] },
        { area: 355_000, walls: [wall(775, 1.22, 24_200), wall(775, 1.22, 24_200)] },
        { area: 161_000, walls: [wall(508, 0.92, 20_700), wall(508, 0.92, 20_700), wall(254, 0.92, 20_700)] },
      ],
      [wall(508, 2.03, 27_600), wall(380, 1.63, 27_600)],
      11.3e6,
      27_600,
    );
    [7.08643283141, 8.8820544406, 4.152614926].forEach((q, i) => {
      expect(found.flows[i]).toBeCloseTo(q, 8);
    });
    expect(found.rate).toBeCloseTo(7.35962964222e-7, 16);
    expect(found.constant / 556305561.228).toBeCloseTo(1, 10);
  });

  // Row 5.5: R. C. Hibbeler, Mechanics of Materials, thin tube: 1.75 and 2.92 MPa, 6.29e-3 rad.
  test('5.5 rectangular tube', () => {
    const area = 57 * 35;
    const walls = [
      { length: 57, thickness: 5 },
      { length: 35, thickness: 3 },
      { length: 57, thickness: 5 },
      { length: 35, thickness: 3 },
    ];
    expect(area).toBe(1995);
    // The tube carries 35 N·m along all of it and 25 more over the first half metre: 35 N·m is read at A and B.
    expect(35_000 / (2 * area * 5)).toBeCloseTo(1.75438596491, 9);
    expect(35_000 / (2 * area * 3)).toBeCloseTo(2.92397660819, 9);
    expect((60_000 * 500 + 35_000 * 1500) / (38_000 * closedTorsion(area, walls))).toBeCloseTo(0.00629128552816, 12);
  });

  // Row 5.6: thin tube r 50, t 1, and slit; 5.11: a box 300 × 100 of 0.5, closed and slit.
  test('5.6 and 5.11 closed against slit', () => {
    const round = [{ length: 2 * Math.PI * 50, thickness: 1 }];
    expect(closedTorsion(Math.PI * 2500, round)).toBeCloseTo(785398.163397, 5);
    expect(openTorsion(round)).toBeCloseTo(104.71975512, 8);
    expect(closedTorsion(Math.PI * 2500, round) / openTorsion(round)).toBeCloseTo(7500, 8);
    const box = [{ length: 800, thickness: 0.5 }];
    expect(closedTorsion(30_000, box)).toBeCloseTo(2_250_000, 6);
    expect(openTorsion(box)).toBeCloseTo(33.3333333333, 9);
  });

  // Row 5.9: Timoshenko's rectangle: .1406, .229, .312.
  test.each([
    [1, 0.14057701],
    [2, 0.22868168],
    [10, 0.31232504],
  ])('5.9 solid bar, a/b = %d', (a, c2) => expect(solidTorsion(a, 1) / a).toBeCloseTo(c2, 7));

  // Row 5.13: own working, two cells.
  test('5.13 two cells', () => {
    const w = (length: number) => ({ length, thickness: 1 });
    const found = cells(
      [
        { area: 20_000, walls: [w(500)] },
        { area: 10_000, walls: [w(300)] },
      ],
      [w(100)],
      1e6,
      1,
    );
    [17.3076923077, 15.3846153846].forEach((q, i) => {
      expect(found.flows[i]).toBeCloseTo(q, 9);
    });
    expect(found.constant).toBeCloseTo(4521739.13043, 4);
  });

  test('a wall between two like cells carries nothing, and one cell is one cell', () => {
    const w = (length: number) => ({ length, thickness: 1 });
    const two = cells(
      [
        { area: 10_000, walls: [w(300)] },
        { area: 10_000, walls: [w(300)] },
      ],
      [w(100)],
      1e6,
      1,
    );
    expect(two.flows[0]).toBeCloseTo(two.flows[1]!, 9);
    expect(two.constant).toBeCloseTo(closedTorsion(20_000, [w(600)]), 4);
    expect(cells([{ area: 10_000, walls: [w(400)] }], [], 1e6, 1).constant).toBeCloseTo(
      closedTorsion(10_000, [w(400)]),
      6,
    );
  });
});
