import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { laidOut } from '../../../src/app/view3d/labels/layout.ts';

const FIELD = { width: 900, height: 600, hull: [] };

describe('labels on the screen', () => {
  it('never lie over one another and never leave the canvas', () => {
    const label = fc.record({
      x: fc.integer({ min: 0, max: 900 }),
      y: fc.integer({ min: 0, max: 600 }),
      width: fc.integer({ min: 30, max: 220 }),
      height: fc.constant(26),
    });
    fc.assert(
      fc.property(fc.array(label, { maxLength: 12 }), (list) => {
        const wanted = list.map((l, i) => ({ ...l, id: String(i) }));
        const boxes = laidOut(wanted, FIELD).map((p) => ({ ...p, ...wanted[Number(p.id)]! }));
        for (const [i, a] of boxes.entries()) {
          expect(a.left).toBeGreaterThanOrEqual(0);
          expect(a.left + a.width).toBeLessThanOrEqual(900);
          expect(a.top).toBeGreaterThanOrEqual(0);
          expect(a.top + a.height).toBeLessThanOrEqual(600);
          for (const b of boxes.slice(i + 1))
            expect(
              a.left + a.width <= b.left ||
                b.left + b.width <= a.left ||
                a.top + a.height <= b.top ||
                b.top + b.height <= a.top,
            ).toBe(true);
        }
      }),
      { seed: 7, numRuns: 60 },
    );
  });

  it('leave out what is not in the picture', () => {
    expect(laidOut([{ id: 'a', x: -500, y: 10, width: 80, height: 26 }], FIELD)).toEqual([]);
  });

  it('keep off the skeleton where there is room', () => {
    const hull = [
      [200, 300],
      [700, 300],
      [700, 400],
      [200, 400],
    ] as const;
    const [label] = laidOut([{ id: 'a', x: 450, y: 320, width: 100, height: 26 }], { ...FIELD, hull });
    expect(label!.top + 26).toBeLessThanOrEqual(300);
  });

  it('keep off places that other writing has taken', () => {
    const taken = [{ left: 300, top: 200, width: 300, height: 90 }];
    const [label] = laidOut([{ id: 'a', x: 450, y: 320, width: 100, height: 26 }], { ...FIELD, taken });
    expect(label!.top >= 290 || label!.top + 26 <= 200 || label!.left + 100 <= 300 || label!.left >= 600).toBe(true);
  });
});
