import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { hullOf } from '../../src/geometry/hull.ts';
import { cross2, type Vec2 } from '../../src/geometry/vector.ts';

describe('the outline round points', () => {
  test('of a square with points inside and on its sides is the square', () => {
    const square: Vec2[] = [
      [0, 0],
      [2, 0],
      [2, 2],
      [0, 2],
    ];
    const outline = hullOf([...square, [1, 1], [1, 0], [2, 1]]);
    expect(outline).toHaveLength(4);
    expect(outline).toEqual(expect.arrayContaining(square));
  });

  test('of two points is the two', () => {
    const two: Vec2[] = [
      [0, 1],
      [3, 2],
    ];
    expect(hullOf(two)).toEqual(two);
  });

  test('law: every corner turns one way, and no point lies outside', () => {
    const place = fc.integer({ min: -40, max: 40 });
    fc.assert(
      fc.property(fc.array(fc.tuple(place, place), { minLength: 3, maxLength: 30 }), (points) => {
        const outline = hullOf(points);
        const away = (a: Vec2, b: Vec2): Vec2 => [b[0] - a[0], b[1] - a[1]];
        outline.forEach((a, i) => {
          const b = outline[(i + 1) % outline.length]!;
          for (const p of points) expect(cross2(away(a, b), away(a, p))).toBeLessThanOrEqual(0);
        });
      }),
      { seed: 41 },
    );
  });
});
