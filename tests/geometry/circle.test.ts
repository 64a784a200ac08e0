import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Circle, smallestHolding } from '../../src/geometry/circle.ts';

const circle = fc.record({
  x: fc.double({ min: -2, max: 2, noNaN: true }),
  y: fc.double({ min: -2, max: 2, noNaN: true }),
  r: fc.double({ min: 0, max: 3, noNaN: true }),
});
const reach = (circles: readonly Circle[], x: number, y: number): number =>
  Math.max(...circles.map((c) => Math.hypot(c.x - x, c.y - y) + c.r));

/** The slow way: the least reach is a bowl, so thirds close in on it, x within y. */
function bySearch(circles: readonly Circle[]): number {
  const lowest = (f: (t: number) => number): number => {
    let [low, high] = [-6, 6];
    for (let i = 0; i < 70; i++) {
      const [a, b] = [low + (high - low) * 0.45, low + (high - low) * 0.55];
      if (f(a) < f(b)) high = b;
      else low = a;
    }
    return f((low + high) / 2);
  };
  return lowest((y) => lowest((x) => reach(circles, x, y)));
}

describe('smallest circle holding all', () => {
  test('one circle is itself, also when it holds the others', () => {
    const big = { x: 1, y: 2, r: 3 };
    expect(smallestHolding([big])).toEqual(big);
    expect(smallestHolding([{ x: 1, y: 2.5, r: 1 }, big, { x: 0, y: 2, r: 2 }])).toEqual(big);
  });

  test('two: max(r1, r2, (r1 + r2 + e) / 2)', () => {
    expect(
      smallestHolding([
        { x: 0, y: 0, r: 1.25 },
        { x: 0.4, y: 0, r: 1.25 },
      ]).r,
    ).toBeCloseTo(1.45, 12);
    fc.assert(
      fc.property(circle, circle, (p, q) => {
        const e = Math.hypot(p.x - q.x, p.y - q.y);
        expect(smallestHolding([p, q]).r).toBeCloseTo(Math.max(p.r, q.r, (p.r + q.r + e) / 2), 10);
      }),
    );
  });

  test('three alike on an even triangle: side / sqrt 3 + r; three mutually touching unit circles: 1 + 2 / sqrt 3', () => {
    const corner = (i: number): Circle => ({
      x: Math.cos((i * 2 * Math.PI) / 3),
      y: Math.sin((i * 2 * Math.PI) / 3),
      r: 0.5,
    });
    expect(smallestHolding([0, 1, 2].map(corner)).r).toBeCloseTo(1.5, 12);
    const touching = [
      { x: -1, y: 0, r: 1 },
      { x: 1, y: 0, r: 1 },
      { x: 0, y: Math.sqrt(3), r: 1 },
    ];
    expect(smallestHolding(touching).r).toBeCloseTo(1 + 2 / Math.sqrt(3), 12);
  });

  test('circles drawn inside one of radius 5, touching it all round, need exactly that one', () => {
    const turn = fc.double({ min: -0.9, max: 0.9, noNaN: true });
    const inside = fc.double({ min: 0.5, max: 4.5, noNaN: true });
    fc.assert(
      fc.property(fc.tuple(turn, turn, turn), fc.tuple(inside, inside, inside), (turns, radii) => {
        // Near thirds of a turn, so no half of the rim is free of them.
        const touching = radii.map((r, i) => {
          const way = (i * 2 * Math.PI) / 3 + turns[i]! / 2;
          return { x: 7 + (5 - r) * Math.cos(way), y: -2 + (5 - r) * Math.sin(way), r };
        });
        const held = smallestHolding(touching);
        expect(held.r).toBeCloseTo(5, 9);
        expect(Math.hypot(held.x - 7, held.y + 2)).toBeLessThan(1e-6);
      }),
    );
  });

  test('any count, against a search', () => {
    fc.assert(
      fc.property(fc.array(circle, { minLength: 1, maxLength: 12 }), (circles) => {
        const held = smallestHolding(circles);
        expect(reach(circles, held.x, held.y)).toBeLessThanOrEqual(held.r);
        expect(Math.abs(held.r - bySearch(circles))).toBeLessThan(1e-6);
      }),
      { numRuns: 80 },
    );
  });

  test('almost in a row is as good as in a row', () => {
    for (const lift of [0, 1e-15, 1e-12, 1e-9, 1e-6]) {
      const row = [
        { x: -1, y: 0, r: 1 },
        { x: 0, y: lift, r: 1.1 },
        { x: 1, y: 0, r: 1 },
      ];
      expect(smallestHolding(row).r).toBeCloseTo(2, 9);
    }
  });

  test('moving and mirroring change nothing; nothing and nonsense are refused', () => {
    fc.assert(
      fc.property(fc.array(circle, { minLength: 2, maxLength: 5 }), (circles) => {
        const moved = circles.map(({ x, y, r }) => ({ x: 100 - x, y: y + 50, r }));
        expect(smallestHolding(moved).r).toBeCloseTo(smallestHolding(circles).r, 9);
      }),
    );
    expect(() => smallestHolding([])).toThrow(RangeError);
    expect(() => smallestHolding([{ x: 0, y: 0, r: -1 }])).toThrow(RangeError);
    expect(() => smallestHolding([{ x: NaN, y: 0, r: 1 }])).toThrow(RangeError);
  });
});
