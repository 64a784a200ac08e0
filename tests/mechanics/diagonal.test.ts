import { describe, expect, test } from 'vitest';
import { angleFromSides, squareness, warp } from '../../src/mechanics/diagonal.ts';

const degrees = (rad: number): number => (rad * 180) / Math.PI;

describe('squareness', () => {
  test.each([
    ['10.1', { a: 400, b: 300, d1: 501, d2: 499 }, 0.00416666666667, 89.7612668946, 1.25, 2],
    ['10.2', { a: 1500, b: 600, d1: 1616.2, d2: 1614.9 }, 0.00116678611111, 89.9331480651, 0.700071666667, 4.45],
  ] as const)('row %s', (_, sides, cos, angle, off, closure) => {
    const found = squareness(sides)!;
    expect(found.cos).toBeCloseTo(cos, 13);
    expect(degrees(found.angle)).toBeCloseTo(angle, 9);
    expect(found.offOverB).toBeCloseTo(off, 11);
    expect(found.closure).toBeCloseTo(closure, 8);
  });

  test('SQ-1: 96 by 24 racked by 0.1 degrees', () => {
    const found = squareness({ a: 96, b: 24, d1: 98.99516, d2: 98.91389 })!;
    expect(90 - degrees(found.angle)).toBeCloseTo(0.1, 4);
    expect(squareness({ a: 96, b: 24, d1: Math.hypot(96, 24), d2: Math.hypot(96, 24) })!.angle).toBe(Math.PI / 2);
  });

  test('row 10.11: angle from three sides', () => {
    expect(degrees(angleFromSides(400, 300, 500)!)).toBeCloseTo(90, 11);
    expect(degrees(angleFromSides(401, 299.5, 499.2)!)).toBeCloseTo(89.6897579593, 9);
  });

  test('lengths that close no frame have no answer', () => {
    expect(angleFromSides(1, 1, 3)).toBeUndefined();
    expect(squareness({ a: 10, b: 10, d1: 40, d2: 1 })).toBeUndefined();
    expect(squareness({ a: 0, b: 10, d1: 10, d2: 10 })).toBeUndefined();
    expect(squareness({ a: NaN, b: 10, d1: 10, d2: 10 })).toBeUndefined();
  });
});

test.each([
  ['10.6', { z00: 0, z10: 0, z01: 0, z11: 4 }, 400, [4, 3.33333333333e-5, 1, 0.572938697683, 1.90979565894]],
  ['10.7', { z00: 0, z10: 1, z01: -0.5, z11: 2.5 }, 1200, [2, 5.55555555556e-6, 0.5, 0.0954926784932, 0.318308928311]],
] as const)('row %s: warp of four corners', (_, corners, a, [fourth, area, residual, twist, perMetre]) => {
  const found = warp(corners, a, 300);
  expect(found.fourthCorner).toBeCloseTo(fourth, 12);
  expect(found.perArea).toBeCloseTo(area, 15);
  expect(found.leastSquaresResidual).toBeCloseTo(residual, 12);
  expect(degrees(found.twist)).toBeCloseTo(twist, 11);
  expect(degrees(found.twistPerUnit) * 1000).toBeCloseTo(perMetre, 10);
});
