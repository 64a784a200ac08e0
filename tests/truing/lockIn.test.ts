import { describe, expect, test } from 'vitest';
import { shearModulusOf } from '../../src/mechanics/buckling.ts';
import { lockIn } from '../../src/truing/lockIn.ts';
import { changed, finding, panel } from '../model/panels.ts';

const A = panel('narrow-tail');

describe('panel A', () => {
  const found = lockIn(A)!;

  // By hand, Σbt³/3: front 86 + 2·16 of 0.8128, rear 52 + 2·14 of 0.635.
  test('bare: two open channels', () => expect(found.open).toBeCloseTo((118 * 0.8128 ** 3 + 80 * 0.635 ** 3) / 3, 6));

  // By hand: nose half-ellipse 121 × 86 and box (86 + 52)/2 × 264; the box alone is 4A²/∮ds/t.
  test('skinned: nose cell and box', () => {
    const box = (4 * (69 * 264) ** 2) / ((2 * Math.hypot(264, 17)) / 0.508 + 52 / 0.635 + 86 / 0.8128);
    expect(found.closed).toBeGreaterThan(box);
    expect(found.closed).toBeLessThan(1.6 * box);
    expect(found.times).toBeCloseTo(found.closed / found.open, 9);
    expect(found.times).toBeGreaterThan(10_000);
  });

  test('the torque that holds the found twist out, T = GJθ/L', () => {
    expect(found.twist).toBeCloseTo(finding(A, 'twist', 'whole panel by heights').value, 12);
    expect(found.torque).toBeCloseTo(
      (shearModulusOf('6061-T6') * found.closed * ((0.585979563 * Math.PI) / 180 / 2072)) / 1000,
      4,
    );
    expect(found.torque / found.torqueBare).toBeCloseTo(found.times, 6);
  });

  // 2 Σ Aᵢqᵢ = T (Bredt), nose area by the half-ellipse πab/2.
  test('the shear flows carry it', () => {
    const [q1, q2] = found.flows;
    expect((2 * ((Math.PI * 121 * 43) / 2) * q1! + 2 * 69 * 264 * q2!) / 1000 / found.torque).toBeCloseTo(1, 2);
  });

  test('said as an estimate', () =>
    expect(found.sentence).toMatch(/times as stiff in twist as bare, an estimate\. The 0\.59° found/));
});

// A hump twists and comes back: what is locked in lies between the stations that differ most, over the shorter length.
test('panel B: the hump is found between W4 and W6, not from end to end', () => {
  const found = lockIn(panel('washed-out-wing'))!;
  expect(found.between).toEqual(['W4', 'W6']);
  expect(found.twist).toBeCloseTo(-0.34, 9); // 0.02 at W4, -0.32 at W6: item F2 less the drawing's washout
  expect(found.sentence).toContain('The 0.34° found between W4 and W6 takes');
  // T = GJθ/L over W4 to W6, 660 mm: its J lies between those of the two ends of that stretch.
  const whole = (found.closed * shearModulusOf('6061-T6') * ((0.34 * Math.PI) / 180 / 660)) / 1000;
  expect(found.torque / whole).toBeGreaterThan(0.7);
  expect(found.torque / whole).toBeLessThan(1.3);
});

test('one spar closes the nose alone; no skin closes nothing', () => {
  const one = lockIn(
    changed(panel('plain'), (m) => {
      delete m.spars.rear;
    }),
  )!;
  expect(one.flows).toHaveLength(1);
  expect(
    lockIn(
      changed(A, (m) => {
        delete m.skin;
      }),
    ),
  ).toBeUndefined();
});

test('a thicker skin is stiffer, and the bare skeleton does not know it', () => {
  const thick = lockIn(
    changed(A, (m) => {
      m.skin!.sheet = 's032';
    }),
  )!;
  expect(thick.closed).toBeGreaterThan(lockIn(A)!.closed);
  expect(thick.open).toBe(lockIn(A)!.open);
});
