import { describe, expect, test } from 'vitest';
import { checkAll } from '../../../src/checks/checkAll.ts';
import { solidLength } from '../../../src/checks/holes/grip.ts';
import { layersOf } from '../../../src/checks/holes/layers.ts';
import { skeletonOf } from '../../../src/parts/layout/skeleton.ts';
import { changed, finding, flat, panel, printed, readAs } from '../../model/panels.ts';

const A = panel('narrow-tail');
const inch = (mm: number): number => mm / 25.4;

describe('panel A', () => {
  test('the design stack at a front web hole: 0.025 + 0.032 + 0.025 + 0.025 = 0.107 in', () => {
    expect(printed(inch(finding(A, 'grip', 'F4').value), 3)).toBe('0.107');
    expect(finding(A, 'grip', 'F4').verdict).toBe('fits');
  });

  test('item 8: with the packer behind N4 it is 0.139 in: out of 0.063 to 0.125, into the next range', () => {
    const packed = changed(A, (m) => {
      m.doublers.push(flat('P4', 'N4', 'tail', 's032', 'web', 80));
      m.joints.find((j) => j.id === 'F4')!.layers.splice(1, 0, 'P4');
    });
    const f = finding(packed, 'grip', 'F4');
    expect(printed(inch(f.value), 3)).toBe('0.139');
    expect(f.limits.fits.map((v) => printed(inch(v!), 3))).toEqual(['0.063', '0.125']);
    expect(f).toMatchObject({ verdict: 'act', sense: 'too thick for the rivet' });
    const next = changed(packed, (m) => {
      m.joints.find((j) => j.id === 'F4')!.rivet.grip = m.stock.rivets[2]!.grip;
    });
    expect(finding(next, 'grip', 'F4').verdict).toBe('fits');
    expect(finding(packed, 'grip', 'F5').value).toBe(finding(A, 'grip', 'F5').value);
  });
});

/* A stack of two sheets, inches, measured without error, at F2 of the plain panel. */
const stack = (front: number, rib: number, grip: [number, number], u = 0) =>
  finding(
    changed(panel('plain'), (m) => {
      m.instruments.push({ id: 'sure', name: 'given', u: { thickness: u } });
      for (const [sheet, t] of [
        ['s032', front],
        ['s025', rib],
      ] as const)
        for (const r of m.readings)
          if (r.size === `sheet.${sheet}`) Object.assign(r, { value: t * 25.4, instrument: 'sure' });
      m.joints[0]!.layers = ['front', 'M2'];
      m.joints[0]!.rivet = { kind: 'blind', diameter: 3.175, grip: [grip[0] * 25.4, grip[1] * 25.4] };
    }),
    'grip',
    'F2',
  );

describe('blind rivets: TM 10-5410-221-14/1 table 4-3, 1/8 in', () => {
  // BR-1: .032 + .025 = .057 wants number 41, which grips .020 to .062.
  test('BR-1: .057 in is in .020 to .062 and not in .063 to .125', () => {
    expect(stack(0.032, 0.025, [0.02, 0.062]).verdict).toBe('fits');
    expect(stack(0.032, 0.025, [0.063, 0.125])).toMatchObject({ verdict: 'act', sense: 'too thin for the rivet' });
  });

  // BR-3: .0625 falls between the printed ranges: it must be said, not thrown.
  test('BR-3: .0625 in lies between two ranges', () => {
    expect(stack(0.0375, 0.025, [0.02, 0.062]).verdict).toBe('act');
    expect(stack(0.0375, 0.025, [0.063, 0.125]).verdict).toBe('act');
    expect(stack(0.0375, 0.025, [0.063, 0.125], 0.01).verdict).toBe('unsettled');
  });

  test('the marked limits themselves are in', () => {
    // exact in binary, so nothing is rounded away: 1.5 mm and 3 mm
    const at = (grip: [number, number]) => stack(1 / 25.4, 0.5 / 25.4, [grip[0] / 25.4, grip[1] / 25.4]).verdict;
    expect(at([1.4, 3])).toBe('fits');
    expect(at([0.5, 1.4])).toBe('act');
  });
});

describe('solid rivets: length = grip + 1.5 D (NAVEDTRA 14018 ch. 13)', () => {
  // RV-1: .050 + .050 and 5/32 in: .100 + .234375 = .334375 in; a printed example has .334.
  test('RV-1', () => {
    expect(inch(solidLength(0.1 * 25.4, (5 / 32) * 25.4))).toBeCloseTo(0.334375, 9);
    expect(inch(solidLength(0.1 * 25.4, (5 / 32) * 25.4)).toFixed(3)).toBe('0.334');
  });

  const solid = (length: number) =>
    finding(
      changed(panel('plain'), (m) => {
        m.joints[0]!.rivet = { kind: 'solid', diameter: 3.175, length };
      }),
      'grip',
      'F2',
    );
  // By hand: 4 layers 2.7178 + 1.5 × 3.175 = 7.4803 mm.
  test('the one in the bag against the one wanted', () => {
    expect(solid(7.4803)).toMatchObject({ value: expect.closeTo(0, 9), verdict: 'fits' });
    expect(solid(7.4803 - 1.2)).toMatchObject({ verdict: 'act', sense: 'rivet short' });
    expect(solid(7.4803 + 2)).toMatchObject({ verdict: 'act', sense: 'rivet long' });
    expect(solid(7.4803 + 1).verdict).toBe('watch');
  });
});

describe('layers', () => {
  test('in order from the drill side, each with its own sheet', () => {
    const joint = A.joints.find((j) => j.id === 'K2')!;
    expect(layersOf(skeletonOf(A), joint).map((l) => [l.part, l.thickness.key])).toEqual([
      ['H2', 'sheet.s063'],
      ['rear', 'sheet.s025'],
    ]);
  });

  test('two layers of one sheet move together: 2 × its uncertainty', () => {
    // three of 0.025 in and one of 0.032 in by micrometer 0.005: √((3 × 0.005)² + 0.005²)
    expect(finding(A, 'grip', 'F4').u).toBeCloseTo(Math.hypot(0.015, 0.005), 12);
  });

  test('a thicker reading of the sheet thickens the stack by each of its layers', () => {
    const thick = changed(A, (m) => readAs(m, 'sheet.s025', 0.655, 'micrometer'));
    expect(finding(thick, 'grip', 'F4').value - finding(A, 'grip', 'F4').value).toBeCloseTo(0.06, 9);
  });
});

test('a rivet without a grip range or length is not asked', () => {
  const bare = changed(A, (m) => {
    for (const j of m.joints) delete j.rivet.grip;
  });
  expect(checkAll(bare).some((f) => f.check === 'grip')).toBe(false);
});
