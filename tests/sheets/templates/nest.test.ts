import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { leastBlanks, type NestPiece, nested } from '../../../src/sheets/templates/nest.ts';

/* Laws of any packing, small cases with known answers, and against every way to lay three pieces. */

const piece = (id: string, along: number, across: number, turns = true): NestPiece => ({ id, along, across, turns });
const PIECES = fc
  .array(
    fc.record({
      along: fc.integer({ min: 5, max: 120 }),
      across: fc.integer({ min: 5, max: 120 }),
      turns: fc.boolean(),
    }),
    { minLength: 1, maxLength: 14 },
  )
  .map((list) => list.map((p, i): NestPiece => ({ id: `p${i}`, ...p })));

describe('laws', () => {
  test('nothing overlaps, all is on its blank, a gap is kept, grain is kept, nothing is lost or doubled', () => {
    fc.assert(
      fc.property(
        PIECES,
        fc.integer({ min: 60, max: 250 }),
        fc.integer({ min: 60, max: 200 }),
        fc.integer({ min: 1, max: 5 }),
        fc.integer({ min: 0, max: 6 }),
        (pieces, width, height, count, gap) => {
          const { used, left, least } = nested(pieces, [{ width, height, count }], gap);
          const placed = used.flatMap((u) => u.placed);
          expect([...placed.map((p) => p.piece.id), ...left.map((p) => p.id)].sort()).toEqual(
            pieces.map((p) => p.id).sort(),
          );
          expect(used.length).toBeLessThanOrEqual(count);
          expect(used.length).toBeGreaterThanOrEqual(least);
          for (const p of placed) {
            expect([p.width, p.height]).toEqual(
              p.turned ? [p.piece.across, p.piece.along] : [p.piece.along, p.piece.across],
            );
            if (p.turned) expect(p.piece.turns).toBe(true);
            expect(p.x >= 0 && p.y >= 0 && p.x + p.width <= width + 1e-6 && p.y + p.height <= height + 1e-6).toBe(true);
          }
          for (const u of used) {
            u.placed.forEach((p, i) => {
              u.placed.slice(i + 1).forEach((q) => {
                const apart = Math.max(
                  q.x - p.x - p.width,
                  p.x - q.x - q.width,
                  q.y - p.y - p.height,
                  p.y - q.y - q.height,
                );
                expect(apart).toBeGreaterThanOrEqual(gap - 1e-6);
              });
            });
          }
        },
      ),
      { seed: 5, numRuns: 300 },
    );
  });

  test('what can never fit is left, and only as many blanks are used as there are', () => {
    const { used, left } = nested(
      [piece('long', 300, 20), piece('a', 90, 90), piece('b', 90, 90)],
      [{ width: 100, height: 100, count: 1 }],
    );
    expect(left.map((p) => p.id).sort()).toEqual(['b', 'long']);
    expect(used).toHaveLength(1);
  });
});

describe('known answers', () => {
  test('four quarters fill one blank, a fifth takes a second', () => {
    const quarters = (n: number) => Array.from({ length: n }, (_, i) => piece(`q${i}`, 50, 40));
    expect(nested(quarters(4), [{ width: 100, height: 80, count: 9 }]).used).toHaveLength(1);
    expect(nested(quarters(5), [{ width: 100, height: 80, count: 9 }])).toMatchObject({ least: 2, left: [] });
  });

  test('a piece with its grain across does not fit a blank it would fit turned', () => {
    expect(nested([piece('a', 40, 90, false)], [{ width: 100, height: 50, count: 1 }]).left).toHaveLength(1);
    expect(nested([piece('a', 40, 90, true)], [{ width: 100, height: 50, count: 1 }]).left).toHaveLength(0);
  });

  test('no gap is needed at the edge', () =>
    expect(
      nested([piece('a', 100, 23.5), piece('b', 100, 23.5)], [{ width: 100, height: 50, count: 1 }], 3).used,
    ).toHaveLength(1));

  test('the smaller blank is taken where it does', () => {
    const { used } = nested(
      [piece('a', 50, 50)],
      [
        { width: 600, height: 300, count: 1 },
        { width: 60, height: 60, count: 1 },
      ],
    );
    expect(used[0]!.blank.width).toBe(60);
  });

  test('bound by area: 2.1 blanks’ worth takes three, largest blanks counted first', () => {
    expect(leastBlanks([piece('a', 210, 100)], [{ width: 100, height: 100, count: 9 }])).toBe(3);
    expect(
      leastBlanks(
        [piece('a', 100, 100)],
        [
          { width: 50, height: 100, count: 9 },
          { width: 100, height: 100, count: 1 },
        ],
      ),
    ).toBe(1);
    expect(leastBlanks([], [{ width: 50, height: 100, count: 9 }])).toBe(0);
  });

  test('three rectangles: whenever a straight row or column of them fits, one blank is enough', () => {
    fc.assert(
      fc.property(
        fc.array(fc.record({ w: fc.integer({ min: 5, max: 60 }), h: fc.integer({ min: 5, max: 60 }) }), {
          minLength: 3,
          maxLength: 3,
        }),
        (list) => {
          const [width, height] = [100, 70];
          const pieces = list.map((p, i) => piece(`p${i}`, p.w, p.h));
          const ways = [0, 1, 2, 3, 4, 5, 6, 7].map((bits) =>
            list.map((p, i) => (bits & (1 << i) ? { w: p.h, h: p.w } : p)),
          );
          const sum = (k: number[]): number => k.reduce((a, b) => a + b, 0);
          const obvious = ways.some(
            (way) =>
              (sum(way.map((p) => p.w)) <= width && Math.max(...way.map((p) => p.h)) <= height) ||
              (sum(way.map((p) => p.h)) <= height && Math.max(...way.map((p) => p.w)) <= width),
          );
          const { used, left } = nested(pieces, [{ width, height, count: 3 }]);
          if (obvious) expect([used.length, left.length]).toEqual([1, 0]);
        },
      ),
      { seed: 11, numRuns: 400 },
    );
  });
});
