import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ellipseFront } from '../../../src/geometry/airfoil.ts';
import { openKernel } from '../../../src/geometry/kernel.ts';
import { mirroredSolid } from '../../../src/geometry/solids.ts';
import type { Vec2 } from '../../../src/geometry/vector.ts';
import { type EndShape, type MainRibShape, mainRibSolid } from '../../../src/parts/shapes/mainRib.ts';
import { noseOutline } from '../../../src/parts/shapes/noseOutline.ts';
import { type NoseRibShape, noseRibSolid } from '../../../src/parts/shapes/noseRib.ts';
import { tipRibSolid } from '../../../src/parts/shapes/tipRib.ts';
import { chordalLoss, expectBox, expectClosed, extentOf } from '../measuring.ts';

const kernel = await openKernel();

const end = (height: number, joggle: number, more: Partial<EndShape> = {}): EndShape => ({
  height,
  joggle,
  flat: joggle > 0 ? 17 : 0,
  tab: 14,
  corner: 2.4,
  ...more,
});
const RIB: MainRibShape = {
  length: 262.5,
  thickness: 0.635,
  radius: 1.6,
  flange: 14,
  turns: 1,
  front: end(83.1, 1.45),
  rear: end(50.6, 0.7),
};
const outline = (length: number, height: number, count = 49) =>
  ellipseFront({ length, height, count }).map(([x, z]): Vec2 => [x - length, z]);
const NOSE: NoseRibShape = {
  thickness: 0.635,
  radius: 1.6,
  flange: 14,
  turns: 1,
  outline: outline(121, 86),
  tail: end(86, 0),
};

describe('a main rib', () => {
  it('row 13.2: without tabs, joggles or taper it is the formed channel, less the chords of its facets', () => {
    const plain = { height: 60, joggle: 0, flat: 0, tab: 0, corner: 0 };
    for (const facets of [3, 6, 10]) {
      const v = kernel.volume(
        mainRibSolid({
          length: 350,
          thickness: 0.635,
          radius: 2.4,
          flange: 16,
          turns: 1,
          front: plain,
          rear: plain,
          facets,
        }),
      );
      expect(v + 2 * chordalLoss(2.4, 0.635, facets) * 350).toBeCloseTo(19646.29504353, 6);
    }
  });

  it('is as long as it says, with its tabs flat on the end planes and its web on y = 0', () => {
    const mesh = kernel.build(mainRibSolid(RIB));
    const front = extentOf(mesh, 'front tab');
    const rear = extentOf(mesh, 'rear tab');
    expect([front.low[0], front.high[0]]).toEqual([0, 0]);
    expect([rear.low[0], rear.high[0]]).toEqual([262.5, 262.5]);
    expect(front.high[1]).toBe(14);
    expect(extentOf(mesh, 'front tab inside').high[0]).toBeCloseTo(0.635, 6);
    expect(extentOf(mesh, 'web').high[1]).toBe(0);
    expect(extentOf(mesh, 'web inside').low[1]).toBeCloseTo(0.635, 6);
    // Both tabs keep 2.4 clear of the contour, as the spar's bend asks.
    expect(front.high[2]).toBeCloseTo(83.1 / 2 - 2.4, 5);
    expect(rear.low[2]).toBeCloseTo(2.4 - 50.6 / 2, 5);
  });

  it('is level at its end height under the caps and back on its contour behind the joggle', () => {
    const solid = mainRibSolid(RIB);
    const heightAt = (x: number) => {
      const z = kernel
        .section(solid, { origin: [x, 0, 0], u: [0, 1, 0], v: [0, 0, 1] })
        .flat()
        .map((p) => p[1]);
      return Math.max(...z) - Math.min(...z);
    };
    for (const x of [3, 10, 16.9]) expect(heightAt(x)).toBeCloseTo(83.1, 6);
    for (const back of [3, 10, 16.9]) expect(heightAt(262.5 - back)).toBeCloseTo(50.6, 6);
    const contour = (x: number) => 86 + ((52 - 86) * x) / 262.5;
    for (const x of [24, 100, 200, 240]) expect(heightAt(x)).toBeCloseTo(contour(x), 6);
  });

  it('turns its flanges the other way as its own mirror image', () => {
    const other = mainRibSolid({ ...RIB, turns: -1 });
    expect(kernel.volume(other)).toBeCloseTo(kernel.volume(mainRibSolid(RIB)), 8);
    expect(kernel.bounds(other).low[1]).toBeCloseTo(-14, 9);
    expect(extentOf(kernel.build(other), 'web inside').low[1]).toBeCloseTo(-0.635, 6);
  });

  it('has lightening, relief and tab holes where they are told', () => {
    const relieved = { relief: { diameter: 4.76, fromEnd: 15.8 } };
    const mesh = kernel.build(
      mainRibSolid({
        ...RIB,
        front: end(83.1, 1.45, relieved),
        webHoles: [{ x: 80, z: 3, diameter: 40 }],
        holes: [{ at: [0, 7.2, 20], axis: [1, 0, 0], diameter: 3.2, reach: 2 }],
      }),
    );
    const web = extentOf(mesh, 'web hole');
    expect([web.low[0], web.high[0], web.low[2], web.high[2]]).toEqual([
      expect.closeTo(60, 0),
      expect.closeTo(100, 0),
      expect.closeTo(-17, 0),
      expect.closeTo(23, 0),
    ]);
    const relief = extentOf(mesh, 'relief hole');
    expect((relief.low[0] + relief.high[0]) / 2).toBeCloseTo(15.8, 4);
    const hole = extentOf(mesh, 'hole');
    expect([hole.low[0], hole.high[0]]).toEqual([0, expect.closeTo(0.635, 5)]);
    expect((hole.low[1] + hole.high[1]) / 2).toBeCloseTo(7.2, 4);
  });

  it('lays a bevelled tab along the web it meets', () => {
    const mesh = kernel.build(
      mainRibSolid({ ...RIB, rear: end(50.6, 0.7, { attitude: { tilt: 0, bevel: -0.06, twist: 0 } }) }),
    );
    const tab = extentOf(mesh, 'rear tab');
    expect(tab.low[0]).toBeCloseTo(262.5 - 0.06 * 14, 4);
  });

  it('is closed, has its outside sizes and mirrors, for any sensible shape', () => {
    const d = (min: number, max: number) => fc.double({ min, max, noNaN: true });
    const ends = fc.record({
      height: d(40, 160),
      joggle: d(0, 3),
      flat: d(10, 25),
      tab: d(8, 20),
      corner: d(0, 5),
      relief: fc.option(fc.record({ diameter: d(2, 7), fromEnd: d(10, 25) }), { nil: undefined }),
    });
    const slant = fc.record({
      x: d(0, 120),
      run: fc.constant(0),
      top: d(-0.02, 0.02),
      bottom: d(-0.02, 0.02),
      open: d(-0.3, 0.3),
    });
    const shape = fc.record({
      length: d(120, 700),
      thickness: d(0.4, 1.3),
      radius: d(0, 3),
      flange: d(10, 20),
      turns: fc.constantFrom(1 as const, -1 as const),
      slants: fc.array(slant, { maxLength: 3 }),
      front: ends,
      rear: ends,
      holes: fc.boolean(),
    });
    fc.assert(
      fc.property(shape, ({ front, rear, holes, slants, ...rest }) => {
        const body = { ...rest, slants: [...slants].sort((p, q) => p.x - q.x) };
        const whole = (e: typeof front): EndShape => {
          const { relief, ...rest } = e;
          return relief ? { ...rest, relief } : rest;
        };
        const solid = mainRibSolid({
          ...body,
          front: whole(front),
          rear: whole(rear),
          webHoles: holes ? [{ x: body.length / 2, z: 0, diameter: 20 }] : [],
        });
        const mesh = kernel.build(solid);
        expectClosed(mesh);
        const { low, high } = kernel.bounds(solid);
        expect(high[0] - low[0]).toBeCloseTo(body.length, 4);
        const wide = Math.max(body.flange, front.tab, rear.tab);
        expect(high[1] - low[1]).toBeCloseTo(wide, 4);
        expect(kernel.volume(mirroredSolid(solid, 'y'))).toBeCloseTo(kernel.volume(solid), 6);
      }),
      { numRuns: 150, seed: 5 },
    );
  });
});

describe('a nose rib', () => {
  it('reaches from its tail face to its nose point', () => {
    const solid = noseRibSolid(NOSE);
    const mesh = kernel.build(solid);
    expect(kernel.bounds(solid).low[0]).toBeCloseTo(-121, 6);
    expect(kernel.bounds(solid).high[0]).toBeCloseTo(0, 9);
    expect(extentOf(mesh, 'tail tab').low[0]).toBe(0);
    expect(extentOf(mesh, 'tail tab inside').low[0]).toBeCloseTo(-0.635, 5);
    expect(extentOf(mesh, 'web').high[1]).toBe(0);
    expect(extentOf(mesh, 'flange edge').low[1]).toBe(14);
    expectClosed(mesh);
  });

  it('has a flange one thickness wide all round its nose', () => {
    const round = kernel.section(noseRibSolid(NOSE), { origin: [0, 13, 0], u: [1, 0, 0], v: [0, 0, 1] });
    const area = round.reduce(
      (sum, loop) =>
        sum +
        loop.reduce(
          (s, [x, z], i) => s + (x * loop[(i + 1) % loop.length]![1] - z * loop[(i + 1) % loop.length]![0]) / 2,
          0,
        ),
      0,
    );
    const points = NOSE.outline.filter(([x]) => x < -2.4);
    const girth = points.reduce(
      (sum, [x, z], i) => (i === 0 ? 0 : sum + Math.hypot(x - points[i - 1]![0], z - points[i - 1]![1])),
      0,
    );
    // The flange plus the edge-on tab; inside a curve turning by pi the sheet's middle is pi t/2 shorter than its outside.
    const tab = 0.635 * (86 - 4.8);
    expect(area - tab).toBeGreaterThan(0.635 * (girth - Math.PI * 0.635));
    expect(area - tab).toBeLessThan(0.635 * (girth + 12));
  });

  it.each([
    ['ellipse', { kind: 'ellipse' }],
    ['four-digit', { kind: 'naca4', name: '2412', chord: 400 }],
    ['thin four-digit', { kind: 'naca4', name: '0003', chord: 400 }],
    [
      'points',
      {
        kind: 'points',
        chord: 200,
        points: [
          [200, 0],
          [100, 20],
          [40, 18],
          [10, 9],
          [0, 0],
          [10, -6],
          [40, -9],
          [100, -8],
          [200, 0],
        ],
      },
    ],
  ] as const)(
    'follows a %s profile, of its own length and height, and stays closed however tight the nose',
    (_, profile) => {
      const around = noseOutline(profile as Parameters<typeof noseOutline>[0], { length: 118, height: 60, cut: 120 });
      expect(around[0]).toEqual([0, expect.closeTo(30, 9)]);
      expect(around[around.length - 1]).toEqual([0, expect.closeTo(-30, 9)]);
      expect(Math.min(...around.map(([x]) => x))).toBeCloseTo(-118, 9);
      const solid = noseRibSolid({ ...NOSE, radius: 2.4, outline: around, tail: end(60, 0) });
      expectClosed(kernel.build(solid));
      expect(kernel.bounds(solid).low[0]).toBeCloseTo(-118, 6);
    },
  );

  it('is closed for any sensible length, height, thickness and radius, however sharp', () => {
    const d = (min: number, max: number) => fc.double({ min, max, noNaN: true });
    fc.assert(
      fc.property(
        fc.record({
          length: d(40, 260),
          height: d(30, 170),
          thickness: d(0.4, 1.3),
          radius: d(0, 4),
          flange: d(10, 20),
          joggle: d(0, 2),
          top: d(-0.02, 0.02),
          bottom: d(-0.02, 0.02),
          turns: fc.constantFrom(1 as const, -1 as const),
        }),
        ({ top, bottom, ...q }) => {
          const solid = noseRibSolid({
            ...q,
            slants: [{ x: 0, run: 0, top, bottom, open: 0 }],
            outline: outline(q.length, q.height + 2 * q.joggle),
            tail: { ...end(q.height, q.joggle), flat: q.joggle > 0.5 ? 14 : 0 },
          });
          expectClosed(kernel.build(solid));
          expect(Math.abs(kernel.bounds(solid).low[0] + q.length)).toBeLessThan(1e-6);
          expect(kernel.bounds(solid).high[0]).toBeCloseTo(0, 6);
        },
      ),
      { numRuns: 100, seed: 9 },
    );
  });
});

describe('a tip rib', () => {
  it('is one piece from the nose to a tab on the rear web, and lets the front spar up to its web', () => {
    const solid = tipRibSolid({ ...NOSE, thickness: 0.813, back: 264, rear: end(50.6, 0.7), passes: [-1, 18] });
    const mesh = kernel.build(solid);
    expectBox(kernel, solid, [-121, 0, -kernel.bounds(solid).high[2]], [264, 14, kernel.bounds(solid).high[2]]);
    expect(extentOf(mesh, 'rear tab').low[0]).toBeCloseTo(264, 5);
    expect(mesh.faces.map((f) => f.name)).not.toContain('front tab');
    expectClosed(mesh);
    const through = kernel
      .section(solid, { origin: [8, 0, 0], u: [0, 1, 0], v: [0, 0, 1] })
      .flat()
      .map((p) => p[0]);
    expect(Math.max(...through)).toBeCloseTo(0.813, 6);
  });
});
