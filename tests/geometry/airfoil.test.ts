import { describe, expect, test } from 'vitest';
import {
  type AirfoilProfile,
  ellipseFront,
  frontPart,
  heightsAt,
  nacaAt,
  nacaDigits,
  nacaProfile,
  sized,
} from '../../src/geometry/airfoil.ts';
import { centroid, girth, perimeter, signedArea } from '../../src/geometry/outline.ts';

const digits = (code: string) => nacaDigits(code)!;
const STATIONS = [0, 1.25, 2.5, 5, 7.5, 10, 15, 20, 25, 30, 40, 50, 60, 70, 80, 90, 95, 100];

describe('four-digit sections', () => {
  test.each([
    [
      '4.1',
      '0012',
      [
        0, 1.8939, 2.61472, 3.55469, 4.1999, 4.68277, 5.34516, 5.73754, 5.94124, 6.00173, 5.80301, 5.29403, 4.56337,
        3.66391, 2.62312, 1.44772, 0.80656, 0.126,
      ],
      [
        0, 1.894, 2.615, 3.555, 4.2, 4.683, 5.345, 5.737, 5.941, 6.002, 5.803, 5.294, 4.563, 3.664, 2.623, 1.448, 0.807,
        0.126,
      ],
    ],
    [
      '4.2',
      '0009',
      [
        0, 1.42043, 1.96104, 2.66601, 3.14993, 3.51208, 4.00887, 4.30316, 4.45593, 4.50129, 4.35226, 3.97052, 3.42253,
        2.74793, 1.96734, 1.08579, 0.60492, 0.0945,
      ],
      [
        0, 1.42, 1.961, 2.666, 3.15, 3.512, 4.009, 4.303, 4.456, 4.501, 4.352, 3.971, 3.423, 2.748, 1.967, 1.086, 0.605,
        0.095,
      ],
    ],
  ] as const)('row %s: %s half thickness, formula and printed table', (_, code, formula, table) => {
    STATIONS.forEach((x, i) => {
      const half = nacaAt(digits(code), x / 100).half * 100;
      expect(Math.abs(half - formula[i]!)).toBeLessThan(6e-6);
      expect(Math.abs(half - table[i]!)).toBeLessThan(6e-4);
    });
  });

  test('row 4.6: 2412 at 0.2', () => {
    const place = nacaAt(digits('2412'), 0.2);
    const expected = [0.19713480776, 0.0723038448091, 0.20286519224, -0.0423038448091, 0.015, 0.05];
    [...place.upper, ...place.lower, place.camber, place.slope].forEach((v, i) => {
      expect(v).toBeCloseTo(expected[i]!, 11);
    });
  });

  test('row 4.9: area, girth and centroid of 0012', () => {
    const [few, more] = [801, 1601].map((count) => nacaProfile(digits('0012'), { count, trailingEdge: 'open' }).points);
    const carried = (measure: (p: AirfoilProfile['points']) => number): number =>
      (4 * measure(more!) - measure(few!)) / 3;
    expect(carried(signedArea)).toBeCloseTo(0.08221, 9);
    expect(carried(girth)).toBeCloseTo(2.039271633, 8);
    expect(carried((p) => centroid(p)[0])).toBeCloseTo(0.4204354701, 8);
    expect(more![0]![1]).toBeCloseTo(0.00126, 12);
    expect(Math.max(...more!.map((p) => p[1]))).toBeCloseTo(0.0600172731, 7);
  });

  test('closed, the two ends meet; camber leaves the chord one long', () => {
    for (const code of ['0012', '2412', '4415']) {
      const { points, nose } = nacaProfile(digits(code));
      expect(points[0]).toEqual([1, 0]);
      points.at(-1)!.forEach((v, i) => {
        expect(v).toBeCloseTo([1, 0][i]!, 15);
      });
      expect(points[nose]![0]).toBeLessThanOrEqual(0);
      expect(perimeter(points)).toBeCloseTo(girth(points), 12);
    }
  });

  test('text that names no section', () => {
    expect(['', '12', '0000', '2012', 'abcd', '23012', '00 12'].map(nacaDigits)).toEqual(Array(7).fill(undefined));
    expect(nacaDigits('2412')).toEqual({ camber: 0.02, at: 0.4, thickness: 0.12 });
  });
});

describe('nose', () => {
  const profile = nacaProfile(digits('2412'), { count: 201 });

  test('heights at a station agree with the formula to the flatness of the pieces', () => {
    const place = nacaAt(digits('2412'), 0.3);
    // Pieces 0.014 long under a curvature of about a half lie h^2 / 16 low at most: 1.3e-5.
    expect(Math.abs(heightsAt(profile, place.upper[0])!.upper - place.upper[1])).toBeLessThan(2e-5);
    expect(Math.abs(heightsAt(profile, place.lower[0])!.lower - place.lower[1])).toBeLessThan(2e-5);
    expect([heightsAt(profile, -0.1), heightsAt(profile, 1.1)]).toEqual([undefined, undefined]);
  });

  test('the front part runs from cut to cut round the nose, in any size', () => {
    const rib = frontPart(sized(profile, 300), 60)!;
    const heights = heightsAt(sized(profile, 300), 60)!;
    expect(rib[0]).toEqual([60, heights.upper]);
    expect(rib.at(-1)).toEqual([60, heights.lower]);
    expect(rib.slice(1, -1).every(([x]) => x < 60)).toBe(true);
    expect(signedArea(rib)).toBeGreaterThan(0);
    expect([
      frontPart(profile, 1.2),
      frontPart(profile, -0.1),
      frontPart(profile, profile.points[profile.nose]![0]),
    ]).toEqual([undefined, undefined, undefined]);
  });

  test('a cut at a point of the profile does not repeat it', () => {
    const at = profile.points[60]![0];
    const rib = frontPart(profile, at)!;
    expect(rib[0]).toEqual(profile.points[60]);
    expect(rib[1]).toEqual(profile.points[61]);
  });

  test('half an ellipse: area pi a b / 2, nose at the origin, ends on the cut', () => {
    const nose = ellipseFront({ length: 100, height: 60, count: 2001 });
    expect(nose[0]).toEqual([100, 30]);
    expect(nose.at(-1)).toEqual([100, -30]);
    expect(nose[1000]).toEqual([0, 0]);
    expect(signedArea(nose) / ((Math.PI * 100 * 30) / 2)).toBeCloseTo(1, 5);
  });
});
