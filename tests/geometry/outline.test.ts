import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  arcPoints,
  centroid,
  channelSection,
  girth,
  inset,
  type Outline,
  perimeter,
  resample,
  sameWay,
  signedArea,
} from '../../src/geometry/outline.ts';

const BOX: Outline = Object.freeze([
  [0, 0],
  [4, 0],
  [4, 3],
  [0, 3],
] as const);
const backwards = (outline: Outline): Outline => [...outline].reverse();
const ring = (radius: number, count: number): Outline =>
  arcPoints({ centre: [5, -3], radius, from: 0, to: 2 * Math.PI, count: count + 1 }).slice(1);
const closeTo = (outline: Outline, expected: Outline): void => {
  expect(outline.length).toBe(expected.length);
  outline.forEach((p, i) => {
    p.forEach((v, k) => {
      expect(v).toBeCloseTo(expected[i]![k]!, 9);
    });
  });
};

describe('measures of a 4 by 3 box, by hand', () => {
  test('area, centroid, perimeter, girth', () => {
    expect([signedArea(BOX), signedArea(backwards(BOX))]).toEqual([12, -12]);
    expect(centroid(BOX)).toEqual([2, 1.5]);
    expect(centroid(backwards(BOX))).toEqual([2, 1.5]);
    expect([perimeter(BOX), girth(BOX)]).toEqual([14, 11]);
    expect([signedArea([]), perimeter([]), girth([])]).toEqual([0, 0, 0]);
    expect(() =>
      centroid([
        [0, 0],
        [1, 1],
      ]),
    ).toThrow(RangeError);
  });
  test('far from the origin no figures are lost', () => {
    const far = BOX.map(([x, y]) => [x + 1e7, y - 1e7] as const);
    expect(signedArea(far)).toBe(12);
    expect(centroid(far)).toEqual([1e7 + 2, -1e7 + 1.5]);
  });
});

describe('inset', () => {
  test('a box shrinks alike on all sides, either way round, and grows when the distance is below nothing', () => {
    closeTo(inset(BOX, 1), [
      [1, 1],
      [3, 1],
      [3, 2],
      [1, 2],
    ]);
    closeTo(inset(backwards(BOX), 1), [
      [1, 2],
      [3, 2],
      [3, 1],
      [1, 1],
    ]);
    closeTo(inset(BOX, -1), [
      [-1, -1],
      [5, -1],
      [5, 4],
      [-1, 4],
    ]);
  });
  test('an open shape keeps its cut ends on the cut', () => {
    closeTo(
      inset(
        [
          [4, 3],
          [0, 3],
          [0, 0],
          [4, 0],
        ],
        1,
        'open',
      ),
      [
        [4, 2],
        [1, 2],
        [1, 1],
        [4, 1],
      ],
    );
    closeTo(
      inset(
        [
          [4, 4],
          [0, 3],
          [0, 0],
          [4, 0],
        ],
        1,
        'open',
      ).slice(0, 1),
      [[4, 4 - Math.hypot(4, 1) / 4]],
    );
  });
  test('a corner drawn twice, or in the middle of a side, moves with the side', () => {
    closeTo(
      inset(
        [
          [0, 0],
          [2, 0],
          [4, 0],
          [4, 0],
          [4, 3],
          [0, 3],
        ],
        1,
      ),
      [
        [1, 1],
        [2, 1],
        [3, 1],
        [3, 1],
        [3, 2],
        [1, 2],
      ],
    );
  });
  test('a ring of many sides goes in by the distance between its sides', () => {
    const sides = 24;
    const flat = Math.cos(Math.PI / sides);
    closeTo(inset(ring(10 / flat, sides), 1), ring(9 / flat, sides));
    expect(inset(ring(10, sides), 0)).toEqual(ring(10, sides).map((p) => [...p]));
  });
  test('in and out again is where it was, for shapes with no corner turned over', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 8, max: 9, noNaN: true }), { minLength: 5, maxLength: 9 }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (radii, t) => {
          const shape: Outline = radii.map((r, i) => [
            r * Math.cos((2 * Math.PI * i) / radii.length),
            r * Math.sin((2 * Math.PI * i) / radii.length),
          ]);
          const inside = inset(shape, t);
          fc.pre(sameWay(shape, inside));
          closeTo(inset(inside, -t), shape);
        },
      ),
    );
  });
  test('one that turned over is told', () => {
    expect(sameWay(BOX, inset(BOX, 1))).toBe(true);
    expect(sameWay(BOX, inset(BOX, 1.8))).toBe(false);
  });
});

describe('paths', () => {
  test('resample spaces evenly and keeps both ends', () => {
    closeTo(resample(BOX, 12), [
      [0, 0],
      [1, 0],
      [2, 0],
      [3, 0],
      [4, 0],
      [4, 1],
      [4, 2],
      [4, 3],
      [3, 3],
      [2, 3],
      [1, 3],
      [0, 3],
    ]);
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.integer({ min: -50, max: 50 }), fc.integer({ min: -50, max: 50 })), {
          minLength: 2,
          maxLength: 8,
        }),
        fc.integer({ min: 2, max: 40 }),
        (path, n) => {
          const spaced = resample(path, n);
          expect([spaced.length, spaced[0], spaced.at(-1)]).toEqual([n, path[0], path.at(-1)]);
          expect(girth(spaced)).toBeLessThanOrEqual(girth(path) + 1e-9);
        },
      ),
    );
    expect(() => resample(BOX, 1)).toThrow(RangeError);
  });
  test('arc points lie on the arc, ends included', () => {
    closeTo(arcPoints({ centre: [1, 1], radius: 2, from: 0, to: Math.PI / 2, count: 3 }), [
      [3, 1],
      [1 + Math.SQRT2, 1 + Math.SQRT2],
      [1, 3],
    ]);
  });
});

describe('formed channel', () => {
  test.each([
    ['13.1', { depth: 80, cap: 20, thickness: 0.8, radius: 3 }, 92.38513201776, 3.739846020545, 115.4814150222],
    ['13.2', { depth: 60, cap: 16, thickness: 0.635, radius: 2.4 }, 56.13227155294, 3.110790041076, 88.39727803613],
  ] as const)('row %s: area, centroid, midline', (_, sizes, area, xbar, midline) => {
    const fine = channelSection({ ...sizes, facets: 4000 });
    expect(Math.abs(signedArea(fine) / area - 1)).toBeLessThan(1e-7);
    expect(centroid(fine)[0]).toBeCloseTo(xbar, 6);
    expect(centroid(fine)[1]).toBeCloseTo(0, 9);
    // Twice the facets has a quarter of the error: carried to no facets at all, the bend's own figures.
    const [few, more] = [64, 128].map((facets) => channelSection({ ...sizes, facets }));
    const carried = (measure: (outline: Outline) => number): number => (4 * measure(more!) - measure(few!)) / 3;
    expect(Math.abs(carried(signedArea) / area - 1)).toBeLessThan(1e-9);
    expect(carried((outline) => centroid(outline)[0])).toBeCloseTo(xbar, 8);
    expect(carried(signedArea) / sizes.thickness).toBeCloseTo(midline, 7);
  });
  test('lies where it is said to, with a sharp inside too', () => {
    const sharp = channelSection({ depth: 80, cap: 20, thickness: 1, radius: 0, facets: 200 });
    expect(
      [Math.min(...sharp.map((p) => p[0])), Math.max(...sharp.map((p) => p[0]))].map((v) => Number(v.toFixed(9))),
    ).toEqual([0, 20]);
    expect(Math.max(...sharp.map((p) => p[1]))).toBe(40);
    expect(signedArea(sharp)).toBeCloseTo(78 + 2 * 19 + Math.PI / 2, 4);
    expect(() => channelSection({ depth: 8, cap: 20, thickness: 1, radius: 3, facets: 4 })).toThrow(RangeError);
    expect(() => channelSection({ depth: 80, cap: 4, thickness: 1, radius: 3, facets: 4 })).toThrow(RangeError);
  });
});
