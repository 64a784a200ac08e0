import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { bentTo, continuousBeam, drawn, fibreStress, stripInertia } from '../../src/mechanics/beam.ts';
import { inverse } from '../chains/dense.ts';

const spans = (...lengths: number[]) => lengths.map((length) => ({ length, stiffness: 1 }));
const near = (found: readonly number[], expected: readonly number[], digits = 9): void => {
  expect(found.length).toBe(expected.length);
  found.forEach((v, i) => {
    expect(v).toBeCloseTo(expected[i]!, digits);
  });
};

describe('published and exact cases', () => {
  // Row 7.1: A. Kassimali, Structural Analysis, ex. 15.5/16.5: 8, 8, 8 m, EI 56 000 kN·m², B sunk 20 mm, ends fixed: 98, 91, 56, 28 kN·m.
  test('7.1 three spans, ends fixed, one support sunk', () => {
    const { moments, forces } = continuousBeam({
      spans: [8, 8, 8].map((length) => ({ length, stiffness: 56000 })),
      heights: [0, -0.02, 0, 0],
      left: 'fixed',
      right: 'fixed',
    });
    near(moments, [-98, 91, -56, 28]);
    near(forces, [23.625, -42, 28.875, -10.5]);
  });

  // Row 7.4: the equations 2Ma + Mb = -337.5 and Ma + 5Mb = -810 (k·ft) give -97.5 and -142.5. The loads here are ours, chosen
  // to give those equations: 20 ft of 3.375 beside 30 ft of 2 with an overhang's -135 at its end.
  test('7.4 fixed end and overhang', () => {
    const { moments } = continuousBeam({
      spans: [
        { length: 20, stiffness: 1, even: 3.375 },
        { length: 30, stiffness: 1, even: 2 },
      ],
      heights: [0, 0, 0],
      left: 'fixed',
      right: { moment: -135 },
    });
    near(moments, [-97.5, -142.5, -135], 9);
  });

  // Row 7.5: national e-learning course, ex. 5.22: M_B -56.25 kN·m, R_B 157.5 kN.
  test('7.5 two spans, a point load and an even one', () => {
    const { moments, forces } = continuousBeam({
      spans: [
        { length: 3, stiffness: 1, points: [{ load: 120, at: 1.5 }] },
        { length: 3, stiffness: 1, even: 40 },
      ],
      heights: [0, 0, 0],
    });
    near(moments, [0, -56.25, 0]);
    near(forces, [41.25, 157.5, 41.25]);
  });

  // Row 7.6: J. Gere and B. Goodno, prob. 10.4-14: R 2qL/5 and 11qL/10.
  test('7.6 three equal spans, even load', () => {
    const { moments, forces } = continuousBeam({
      spans: spans(1, 1, 1).map((s) => ({ ...s, even: 1 })),
      heights: [0, 0, 0, 0],
    });
    near(moments, [0, -0.1, -0.1, 0]);
    near(forces, [0.4, 1.1, 1.1, 0.4]);
  });

  // Rows 7.8, 7.9, 7.11, 7.13: support 1 raised by 1, exact fractions.
  test.each([
    ['7.8', 2, [0, -3, 0], [-3, 6, -3]],
    ['7.9', 3, [0, -18 / 5, 12 / 5, 0], [-3.6, 9.6, -8.4, 2.4]],
    [
      '7.11',
      4,
      [0, -51 / 14, 18 / 7, -9 / 14, 0],
      [-3.64285714286, 9.85714285714, -9.42857142857, 3.85714285714, -0.642857142857],
    ],
    [
      '7.13',
      5,
      [0, -762 / 209, 540 / 209, -144 / 209, 36 / 209, 0],
      [-3.64593301435, 9.87559808612, -9.5023923445, 4.13397129187, -1.03349282297, 0.172248803828],
    ],
  ] as const)('%s equal spans, one support raised: %d spans', (_, n, m, r) => {
    const { moments, forces } = continuousBeam({
      spans: spans(...new Array<number>(n).fill(1)),
      heights: Array.from({ length: n + 1 }, (_, i) => (i === 1 ? 1 : 0)),
    });
    near(moments, m);
    near(forces, r);
  });

  // Rows 7.16, 7.17: skin strip t 0.5, E 71000, 1 mm wide, over ribs out of line.
  test.each([
    [
      '7.16',
      [150, 200, 150],
      [0, 0.6, 0, 0],
      [0, -0.0542361111111, 0.0345138888889, 0],
      [-0.000361574074074, 0.000805324074074, -0.000673842592593, 0.000230092592593],
      1.30166666667,
    ],
    [
      '7.17',
      [120, 120, 120, 120, 120],
      [0, 0, 0.8, 0, 0, 0],
      [0, 0.106160287081, -0.178113370548, 0.113237639553, -0.0283094098884, 0],
      [0.000884669059011, -0.00325361620592, 0.00479687223108, -0.00360748382952, 0.00141547049442, -0.00023591174907],
      4.27472089314,
    ],
  ] as const)('%s skin strip', (_, bays, heights, m, r, stress) => {
    const { moments, forces } = continuousBeam({
      spans: bays.map((length) => ({ length, stiffness: 71000 * stripInertia(1, 0.5) })),
      heights,
    });
    near(moments, m);
    near(forces, r);
    expect(Math.max(...moments.map((v) => fibreStress(v, 1, 0.5)))).toBeCloseTo(stress, 9);
  });

  // Row 7.20: supports on a straight line bend nothing.
  test('7.20 rigid-body rule', () => {
    for (const v of continuousBeam({ spans: spans(150, 200, 150), heights: [1, 2.5, 4.5, 6] }).moments)
      expect(Math.abs(v)).toBeLessThan(1e-9);
  });

  // Rows 8.1, 8.2: M = 6EIΔ/L² with both ends held, P = 3EIδ/L³ at a free one.
  test.each([
    [
      '8.1',
      { modulus: 71000, thickness: 0.5, width: 1, length: 50 },
      1,
      { force: 0.01775, stress: 21.3, slope: 0.03 },
      { force: 0.071, moment: 1.775, stress: 42.6 },
    ],
    [
      '8.2',
      { modulus: 71000, thickness: 0.5, width: 25, length: 60 },
      1.2,
      { force: 0.308159722222, stress: 17.75, slope: 0.03 },
      { force: 1.23263888889, moment: 36.9791666667, stress: 35.5 },
    ],
  ] as const)('%s strip lifted at its end', (_, strip, gap, cantilever, guided) => {
    for (const [end, expected] of [
      ['cantilever', cantilever],
      ['guided', guided],
    ] as const) {
      const found = drawn(strip, gap, end);
      for (const [k, v] of Object.entries(expected)) expect(found[k as keyof typeof found], k).toBeCloseTo(v, 9);
    }
  });

  // Published pull-up oracles GP-1, GP-3 (inch, psi): one inch of width.
  test.each([
    [{ modulus: 9.9e6, thickness: 0.025, width: 1, length: 0.625 }, 0.03, [4.752, 28512], [19.008, 57024]],
    [{ modulus: 9.9e6, thickness: 0.063, width: 1, length: 1 }, 0.01, [6.189, 9355.5], [24.755, 18711]],
  ] as const)('a flange drawn shut, inch: %j', (strip, gap, c, g) => {
    for (const [end, [force, stress]] of [
      ['cantilever', c],
      ['guided', g],
    ] as const) {
      expect(drawn(strip, gap, end).force).toBeCloseTo(force, 2);
      expect(drawn(strip, gap, end).stress).toBeCloseTo(stress, 1);
    }
  });

  // Row 8.6: the elastica (Bisshopp and Drucker 1945; Mattiasson 1981): at PL²/EI = 1 the tip goes 0.30172 L, where small deflections say 1/3.
  test('8.6 what small deflections leave out', () => {
    const small = drawn({ modulus: 12, thickness: 1, width: 1, length: 1 }, 1 / 3, 'cantilever');
    expect(small.force).toBeCloseTo(1, 12);
    const tip = elasticaTip(1);
    expect(tip.v).toBeCloseTo(0.30172077, 5);
    expect(tip.short).toBeCloseTo(0.056433236, 5);
    expect(tip.angle).toBeCloseTo(0.46135195, 5);
    expect(elasticaTip(5).v).toBeCloseTo(0.71379152, 5);
    expect(elasticaTip(5).angle).toBeCloseTo(1.2153681, 5);
    // Below a tip of length/20 the error is under 0.3 %.
    expect(elasticaTip(0.1).v / (0.1 / 3)).toBeCloseTo(0.99886, 4);
  });

  // Row 8.8: bend to a radius.
  test('8.8 sheet bent to a radius', () => {
    expect(bentTo(71000, 0.5, 300)).toBeCloseTo(59.1666666667, 9);
    expect(bentTo(71000, 0.5, 300, 0.33)).toBeCloseTo(66.3973366251, 9);
  });
});

/** Cantilever under an end load of PL²/EI, integrated along its arc: θ'' = -load·cos θ, θ(0) = 0, θ'(1) = 0; the tip angle found by halving. */
function elasticaTip(load: number): { v: number; short: number; angle: number } {
  const n = 4000;
  const shoot = (angle: number) => {
    // From the tip inward: s is arc from the tip, curvature 0 there.
    let [t, k, v, x] = [angle, 0, 0, 0];
    const h = 1 / n;
    for (let i = 0; i < n; i++) {
      const slope = (a: number, b: number): [number, number] => [-b, load * Math.cos(a)];
      const [a1, b1] = slope(t, k);
      const [a2, b2] = slope(t + (h / 2) * a1, k + (h / 2) * b1);
      const mid = t + (h / 2) * a2;
      const [a3, b3] = slope(mid, k + (h / 2) * b2);
      const [a4, b4] = slope(t + h * a3, k + h * b3);
      const next = t + (h / 6) * (a1 + 2 * a2 + 2 * a3 + a4);
      v += (h / 6) * (Math.sin(t) + 4 * Math.sin(mid) + Math.sin(next));
      x += (h / 6) * (Math.cos(t) + 4 * Math.cos(mid) + Math.cos(next));
      k += (h / 6) * (b1 + 2 * b2 + 2 * b3 + b4);
      t = next;
    }
    return { root: t, v, short: 1 - x };
  };
  let [lo, hi] = [0, Math.PI / 2];
  for (let i = 0; i < 50; i++) {
    const mid = (lo + hi) / 2;
    if (shoot(mid).root > 0) hi = mid;
    else lo = mid;
  }
  return { ...shoot(lo), angle: lo };
}

/** Slow twin: the beam as two-node elements with a deflection and a slope at every support (direct stiffness), heights given. */
function byStiffness(lengths: readonly number[], ei: readonly number[], heights: readonly number[]): number[] {
  const n = lengths.length + 1;
  const k = Array.from({ length: n }, () => new Array<number>(n).fill(0));
  const f = new Array<number>(n).fill(0);
  lengths.forEach((l, i) => {
    const c = ei[i]! / l;
    k[i]![i]! += 4 * c;
    k[i + 1]![i + 1]! += 4 * c;
    k[i]![i + 1]! += 2 * c;
    k[i + 1]![i]! += 2 * c;
    const slope = (heights[i + 1]! - heights[i]!) / l;
    f[i]! += 6 * c * slope;
    f[i + 1]! += 6 * c * slope;
  });
  const turn = inverse(k).map((row) => row.reduce((s, v, j) => s + v * f[j]!, 0));
  const m = lengths.map((l, i) => {
    const c = ei[i]! / l;
    const slope = (heights[i + 1]! - heights[i]!) / l;
    return -(c * (4 * turn[i]! + 2 * turn[i + 1]!) - 6 * c * slope);
  });
  const last = lengths.length - 1;
  const c = ei[last]! / lengths[last]!;
  return [
    ...m,
    c * (2 * turn[last]! + 4 * turn[last + 1]!) - (6 * c * (heights[last + 1]! - heights[last]!)) / lengths[last]!,
  ];
}

test('any spans and heights: against direct stiffness', () => {
  const span = fc.record({
    length: fc.double({ min: 20, max: 400, noNaN: true }),
    stiffness: fc.double({ min: 100, max: 5000, noNaN: true }),
  });
  fc.assert(
    fc.property(
      fc.array(span, { minLength: 1, maxLength: 7 }),
      fc.array(fc.double({ min: -3, max: 3, noNaN: true }), { minLength: 8, maxLength: 8 }),
      (list, all) => {
        const heights = all.slice(0, list.length + 1);
        const { moments, forces } = continuousBeam({ spans: list, heights });
        const twin = byStiffness(
          list.map((s) => s.length),
          list.map((s) => s.stiffness),
          heights,
        );
        moments.forEach((v, i) => {
          expect(Math.abs(v - twin[i]!)).toBeLessThan(1e-7 * (1 + Math.abs(v)));
        });
        expect(forces.reduce((a, b) => a + b, 0)).toBeCloseTo(0, 6);
      },
    ),
    { seed: 101, numRuns: 200 },
  );
});

test('counts that do not match are a fault', () =>
  expect(() => continuousBeam({ spans: spans(1, 1), heights: [0, 0] })).toThrow(RangeError));
