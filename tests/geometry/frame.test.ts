import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  directionToPart,
  directionToWing,
  frameFrom,
  handOf,
  mirrored,
  partPoint,
  toPart,
  toWing,
  wingPoint,
} from '../../src/geometry/frame.ts';
import { between, cross, distance, dot, norm, unit, type Vec3 } from '../../src/geometry/vector.ts';

const size = fc.double({ min: -3000, max: 3000, noNaN: true });
const triple = fc.tuple(size, size, size);
const frame = fc
  .tuple(triple, triple, triple, fc.constantFrom('right' as const, 'left' as const))
  .filter(([, x, y]) => norm(x) > 1 && norm(y) > 1 && norm(cross(unit(x), unit(y))) > 0.01)
  .map(([o, x, y, hand]) => frameFrom(wingPoint(...o), x, y, hand));

test('a rib drawn x aft and y up, 400 mm out: by hand', () => {
  const rib = frameFrom(wingPoint(0, 400, 0), [1, 0, 0], [0, 0, 1]);
  expect(toWing(rib, partPoint(10, 20, 3))).toEqual([10, 397, 20]);
  expect(toPart(rib, wingPoint(10, 397, 20))).toEqual([10, 20, 3]);
  expect(toWing(mirrored(rib), partPoint(10, 20, 3))).toEqual([10, -397, 20]);
  expect([handOf(rib), handOf(mirrored(rib))]).toEqual([1, -1]);
});

test('there and back is the same place, and lengths stay, in right- and left-handed frames', () => {
  fc.assert(
    fc.property(frame, triple, triple, (f, p, q) => {
      const there = toWing(f, partPoint(...p));
      expect(distance(toPart(f, there), p)).toBeLessThan(1e-8);
      expect(distance(there, toWing(f, partPoint(...q)))).toBeCloseTo(distance(p, q), 7);
      expect(distance(directionToPart(f, directionToWing(f, p)), p)).toBeLessThan(1e-8);
    }),
  );
});

test('axes are square and one long, whatever was given; the mirror turns the hand and mirrors every place', () => {
  fc.assert(
    fc.property(frame, triple, (f, p) => {
      const [x, y, z] = f.axes;
      for (const [a, b, expected] of [
        [x, x, 1],
        [y, y, 1],
        [z, z, 1],
        [x, y, 0],
        [y, z, 0],
        [z, x, 0],
      ] as [Vec3, Vec3, number][]) {
        expect(dot(a, b)).toBeCloseTo(expected, 9);
      }
      expect(handOf(mirrored(f))).toBe(-handOf(f));
      const [wx, wy, wz] = toWing(f, partPoint(...p));
      expect(distance(toWing(mirrored(f), partPoint(...p)), [wx, -wy, wz])).toBeLessThan(1e-9);
    }),
  );
});

test('directions that give no frame are refused', () => {
  expect(() => frameFrom(wingPoint(0, 0, 0), [1, 0, 0], [-2, 0, 0])).toThrow(RangeError);
  expect(() => unit([0, 0, 0])).toThrow(RangeError);
  expect(between([0, 0, 0], [10, 0, 0], 0.3)).toEqual([3, 0, 0]);
});
