import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { ellipseFront } from '../../../src/geometry/airfoil.ts';
import { openKernel } from '../../../src/geometry/kernel.ts';
import { perimeter, signedArea } from '../../../src/geometry/outline.ts';
import type { Vec2 } from '../../../src/geometry/vector.ts';
import { bendAllowance } from '../../../src/parts/flat/bend.ts';
import { type ChannelSizes, channelFlat, type FlatPattern, plateFlat } from '../../../src/parts/flat/flatPattern.ts';
import { blockOutline, ribFlat, shrinkOf, tabPlace } from '../../../src/parts/flat/flatRib.ts';
import {
  counterclockwise,
  easedCorner,
  flatSize,
  flatVolume,
  outlineArea,
  polygonOf,
  reversed,
  sideArc,
} from '../../../src/parts/flat/flatShape.ts';
import { doublerSolid } from '../../../src/parts/shapes/doubler.ts';
import { type EndShape, type MainRibShape, mainRibPressed } from '../../../src/parts/shapes/mainRib.ts';
import { noseRibPressed } from '../../../src/parts/shapes/noseRib.ts';
import { pressedSolid } from '../../../src/parts/shapes/pressed.ts';

const kernel = await openKernel();

/** Inside radius, thickness and angle of a bend, and how much flat sheet it uses. */
interface Folding {
  readonly radius: number;
  readonly thickness: number;
  readonly allowance: number;
}

/**
 * Folds a strip of sheet at its bend tangent lines, in small steps along its neutral line: straight outside the bends, a
 * quarter turn spread evenly over each. Returns the outside and the inside of the metal. The neutral line lies where a
 * quarter of a circle is as long as the allowance.
 */
function folded(
  from: number,
  to: number,
  bends: readonly (readonly [number, number])[],
  { radius, thickness, allowance }: Folding,
): { outside: Vec2[]; inside: Vec2[] } {
  const neutral = allowance / (Math.PI / 2) - radius;
  let [x, y, way] = [0, 0, 0];
  const [outside, inside]: [Vec2[], Vec2[]] = [[], []];
  const mark = (): void => {
    const [nx, ny] = [-Math.sin(way), Math.cos(way)];
    // Turning left: the inside of the bends is on the left.
    inside.push([x + nx * neutral, y + ny * neutral]);
    outside.push([x - nx * (thickness - neutral), y - ny * (thickness - neutral)]);
  };
  const go = (long: number, turn: number): void => {
    const many = turn === 0 ? 1 : 1000;
    for (let k = 0; k < many; k++) {
      const mid = way + turn / many / 2;
      x += (Math.cos(mid) * long) / many;
      y += (Math.sin(mid) * long) / many;
      way += turn / many;
      mark();
    }
  };
  mark();
  let at = from;
  for (const [a, b] of bends) {
    go(a - at, 0);
    go(b - a, ((Math.PI / 2) * (b - a)) / allowance);
    at = b;
  }
  go(to - at, 0);
  return { outside, inside };
}

const spanOf = (points: readonly Vec2[], k: 0 | 1): number => {
  let [a, b] = [Infinity, -Infinity];
  for (const p of points) {
    a = Math.min(a, p[k]);
    b = Math.max(b, p[k]);
  }
  return b - a;
};

function bendsOf(flat: FlatPattern): [number, number][] {
  return flat.bends
    .map((b): [number, number] => {
      const [p, q] = [b.inner[0]![1], b.outer[0]![1]];
      return [Math.min(p, q), Math.max(p, q)];
    })
    .sort((a, b) => a[0] - b[0]);
}

describe('folding a flat up again', () => {
  test('a channel doubler comes out at its outside height and legs', () => {
    fc.assert(
      fc.property(
        fc.record({
          height: fc.double({ min: 30, max: 160, noNaN: true }),
          leg: fc.double({ min: 8, max: 25, noNaN: true }),
          radius: fc.double({ min: 0.8, max: 4, noNaN: true }),
          thickness: fc.double({ min: 0.4, max: 1.7, noNaN: true }),
        }),
        (sizes) => {
          const flat = channelFlat({ ...sizes, width: 28 });
          const tall = flatSize(flat).height;
          const { outside, inside } = folded(-tall / 2, tall / 2, bendsOf(flat), {
            ...sizes,
            allowance: bendAllowance(sizes),
          });
          // Begun along a leg: its height lies across the way, its legs along it.
          expect(Math.abs(spanOf(outside, 1) - sizes.height)).toBeLessThan(1e-4);
          expect(Math.abs(spanOf(outside, 0) - sizes.leg)).toBeLessThan(1e-4);
          expect(Math.abs(spanOf(inside, 1) - (sizes.height - 2 * sizes.thickness))).toBeLessThan(1e-4);
        },
      ),
      { seed: 7, numRuns: 100 },
    );
  });

  test('a bend line a hair off, or an allowance of the wrong thickness, does not', () => {
    const sizes: ChannelSizes = { height: 84.37, leg: 14, width: 28, radius: 1.98, thickness: 0.635 };
    const flat = channelFlat(sizes);
    const off = bendsOf(flat).map(([a, b], i): [number, number] => (i === 0 ? [a + 0.1, b + 0.1] : [a, b]));
    const tall = flatSize(flat).height;
    const { outside } = folded(-tall / 2, tall / 2, off, { ...sizes, allowance: bendAllowance(sizes) });
    expect(Math.abs(spanOf(outside, 1) - sizes.height)).toBeGreaterThan(0.05);
  });

  test('a rib’s tab and flange come out at their widths and the rib at its length', () => {
    const bend = { radius: RIB.radius, thickness: RIB.thickness };
    const flat = ribFlat(mainRibPressed(RIB));
    const tabs = flat.bends.filter((b) => b.name.endsWith('tab'));
    const xs = flat.outline.map((p) => p.at[0]);
    const bends = tabs
      .map((b): [number, number] => {
        const [p, q] = [b.inner[0]![0], b.outer[0]![0]];
        return [Math.min(p, q), Math.max(p, q)];
      })
      .sort((a, b) => a[0] - b[0]);
    const { outside } = folded(Math.min(...xs), Math.max(...xs), bends, { ...bend, allowance: bendAllowance(bend) });
    expect(Math.abs(spanOf(outside, 1) - RIB.length)).toBeLessThan(1e-4);
    expect(Math.abs(spanOf(outside, 0) - 14)).toBeLessThan(1e-4);
  });
});

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
  radius: 1.9,
  flange: 14,
  turns: 1,
  front: end(83.1, 1.45, { relief: { diameter: 4.7625, fromEnd: 15.8 } }),
  rear: end(50.6, 0.7),
};

describe('the flat of a rib', () => {
  test('is 262.5 + 2 (14 - 2 × 2.535 + BA) long, by hand, and its tabs are cut back from its flanges', () => {
    const allowance = 90 * (0.01743 * 1.9 + 0.0078 * 0.635);
    expect(flatSize(ribFlat(mainRibPressed(RIB))).width).toBeCloseTo(262.5 + 2 * (14 - 2 * 2.535 + allowance), 9);
  });

  test('Steiner: a straight-sided blank is the web between its tangent lines and strips of the developed widths', () => {
    const plain = { height: 60, joggle: 0, flat: 0, tab: 0, corner: 0 };
    const flat = ribFlat(mainRibPressed({ ...RIB, front: plain, rear: plain, length: 350 }));
    const strip = 14 - 2.535 + bendAllowance({ radius: 1.9, thickness: 0.635 });
    expect(outlineArea(flat.outline)).toBeCloseTo(350 * (60 - 2 * 2.535 + 2 * strip), 6);
    expect(flatSize(flat)).toEqual({ width: 350, height: expect.closeTo(60 - 2 * 2.535 + 2 * strip, 9) });
  });

  test('Steiner round a half round nose: the blank’s edge is a half circle of the developed radius', () => {
    const half = 40;
    const outline: Vec2[] = [
      [0, half],
      ...Array.from(
        { length: 721 },
        (_, i): Vec2 => [-60 - half * Math.sin((Math.PI * i) / 720), half * Math.cos((Math.PI * i) / 720)],
      ),
      [0, -half],
    ];
    const tail: EndShape = { height: 80, joggle: 0, flat: 0, tab: 0, corner: 0 };
    const shape = noseRibPressed({ thickness: 0.635, radius: 1.9, flange: 14, turns: 1, outline, tail });
    const out = 14 - 2 * 2.535 + bendAllowance({ radius: 1.9, thickness: 0.635 });
    const flat = ribFlat(shape);
    expect(outlineArea(flat.outline)).toBeCloseTo(60 * 2 * (half + out) + (Math.PI / 2) * (half + out) ** 2, -0.5);
    // Parallel curves: longer by the half turn times how far out.
    expect(shrinkOf(shape)).toBeCloseTo(Math.PI * out, 2);
  });

  test('weighs what the solid weighs: within a hundredth of the kernel’s volume', () => {
    for (const shape of [
      mainRibPressed(RIB),
      mainRibPressed({ ...RIB, thickness: 0.8128, radius: 2.4, webHoles: [{ x: 100, z: 0, diameter: 40 }] }),
    ]) {
      expect(flatVolume(ribFlat(shape)) / kernel.volume(pressedSolid(shape))).toBeCloseTo(1, 2);
    }
    const nose = noseRibPressed({
      thickness: 0.635,
      radius: 1.9,
      flange: 14,
      turns: 1,
      outline: ellipseFront({ length: 121, height: 86, count: 97 }).map(([x, z]): Vec2 => [x - 121, z]),
      tail: end(86, 0),
    });
    // Round the nose there is metal to shrink: the area between parallel curves of half the flange is what is over.
    const over = flatVolume(ribFlat(nose)) - kernel.volume(pressedSolid(nose));
    expect(over).toBeGreaterThan(0);
    expect(over / kernel.volume(pressedSolid(nose))).toBeLessThan(0.03);
  });

  test('a channel doubler and a packer weigh what their solids weigh', () => {
    const channel = { height: 84.37, leg: 14, width: 28, radius: 1.98, thickness: 0.635 };
    const solid = kernel.volume(doublerSolid({ form: 'channel', side: 1, ...channel, facets: 40 }));
    expect(flatVolume(channelFlat(channel)) / solid).toBeCloseTo(1, 2);
    const plate = { height: 46, width: 30, thickness: 0.8128 };
    expect(flatVolume(plateFlat(plate))).toBeCloseTo(
      kernel.volume(doublerSolid({ form: 'packer', side: 1, ...plate })),
      4,
    );
  });

  test('corners are drilled at the crossing of the inside bend tangent lines, and the outline follows the hole', () => {
    const flat = ribFlat(mainRibPressed(RIB));
    expect(flat.corners).toHaveLength(4);
    const front = flat.corners.filter((c) => c.at[0] < 100);
    // Tangent lines: 2.535 from the tab's face, 2.535 inside the 83.1 end.
    expect(front.map((c) => c.at[0])).toEqual([expect.closeTo(2.535, 9), expect.closeTo(2.535, 9)]);
    expect(front.map((c) => Math.abs(c.at[1]))).toEqual([
      expect.closeTo(83.1 / 2 - 2.535, 9),
      expect.closeTo(83.1 / 2 - 2.535, 9),
    ]);
    for (const { at, diameter } of flat.corners) {
      expect(diameter).toBeGreaterThanOrEqual(25.4 / 8 - 1e-9);
      const arcs = flat.outline
        .map((p, i) => ({ p, q: flat.outline[(i + 1) % flat.outline.length]! }))
        .filter(({ p }) => p.bulge)
        .map(({ p, q }) => sideArc(p.at, q.at, p.bulge!));
      const own = arcs.find((a) => Math.hypot(a.centre[0] - at[0], a.centre[1] - at[1]) < 1e-6);
      expect(own?.radius).toBeCloseTo(diameter / 2, 9);
      // Nothing of the outline lies inside the hole.
      for (const p of polygonOf(flat.outline, 0.001))
        expect(Math.hypot(p[0] - at[0], p[1] - at[1])).toBeGreaterThan(diameter / 2 - 0.002);
    }
  });

  test('where the spar’s bend has the flange cut back further, the hole is larger and holds the notch’s corner', () => {
    const shape = mainRibPressed({ ...RIB, front: end(83.1, 1.45, { corner: 4.5 }) });
    const flat = ribFlat(shape);
    const [hole] = flat.corners.filter((c) => c.at[0] < 100);
    // The notch is 4.5 - 2.535 past the tangent lines both ways.
    expect(hole!.diameter / 2).toBeGreaterThan(Math.SQRT2 * (4.5 - 2.535));
    expect(hole!.diameter).toBeLessThan(2 * (Math.SQRT2 * (4.5 - 2.535) + 0.3) + 25.4 / 32);
  });

  test('a relief hole lies on the middle of the flange bend, as far from the end as the drawing says', () => {
    const flat = ribFlat(mainRibPressed(RIB));
    const holes = flat.holes.filter((h) => h.kind === 'relief');
    expect(holes).toHaveLength(2);
    const allowance = bendAllowance({ radius: 1.9, thickness: 0.635 });
    for (const h of holes) {
      expect(h.at[0]).toBeCloseTo(15.8, 9);
      expect(Math.abs(h.at[1])).toBeCloseTo(83.1 / 2 - 2.535 + allowance / 2, 9);
    }
  });

  test('a hole 7.2 along the tab lies 7.2 along it once folded', () => {
    const bend = { radius: 1.9, thickness: 0.635 };
    const [x] = tabPlace({ x: 0, inward: 1 }, bend, { row: 7.2, up: 24 });
    const allowance = bendAllowance(bend);
    const { outside } = folded(x, 40, [[2.535 - allowance, 2.535]], { ...bend, allowance });
    // From the hole, along the tab, round the bend, along the web: the hole is 7.2 off the web's outer face.
    expect(Math.abs(spanOf(outside, 0) - 7.2)).toBeLessThan(1e-4);
  });

  test('flanges that pass a spar are notched to the tangent line, with drilled corners', () => {
    const flat = ribFlat(mainRibPressed({ ...RIB, front: end(83.1, 0), rear: end(83.1, 0) }), { passes: [100, 124] });
    const inNotch = polygonOf(flat.outline).filter(([x]) => x > 103 && x < 121);
    expect(inNotch.length).toBeGreaterThan(1);
    for (const [, z] of inNotch) expect(Math.abs(z)).toBeCloseTo(83.1 / 2 - 2.535, 6);
    expect(flat.corners).toHaveLength(8);
    expect(
      flat.bends
        .filter((b) => b.name.endsWith('flange'))
        .every((b) => b.inner.every(([x]) => x <= 100 + 1e-9 || x >= 124 - 1e-9)),
    ).toBe(true);
  });

  test('the forming block is the contour less one sheet all round', () => {
    const plain = { height: 60, joggle: 0, flat: 0, tab: 14, corner: 2.4 };
    const block = blockOutline(mainRibPressed({ ...RIB, front: plain, rear: plain, length: 200 }));
    expect(Math.abs(signedArea(block))).toBeCloseTo((200 - 2 * 0.635) * (60 - 2 * 0.635), 6);
    expect(perimeter(block)).toBeCloseTo(2 * (200 + 60 - 4 * 0.635), 6);
  });
});

describe('flat shapes', () => {
  test('areas with arcs: a box with quarter round corners, by its closed form', () => {
    const bulge = Math.tan(Math.PI / 8);
    const [w, h, r] = [40, 30, 5];
    const outline = [
      { at: [r, 0] },
      { at: [w - r, 0], bulge },
      { at: [w, r] },
      { at: [w, h - r], bulge },
      { at: [w - r, h] },
      { at: [r, h], bulge },
      { at: [0, h - r] },
      { at: [0, r], bulge },
    ] as { at: Vec2; bulge?: number }[];
    expect(outlineArea(outline)).toBeCloseTo(w * h - (4 - Math.PI) * r * r, 9);
    expect(outlineArea(reversed(outline))).toBeCloseTo(-(w * h - (4 - Math.PI) * r * r), 9);
    expect(counterclockwise(reversed(outline)).every((p) => (p.bulge ?? 0) >= 0)).toBe(true);
    expect(signedArea(polygonOf(outline, 1e-5))).toBeCloseTo(w * h - (4 - Math.PI) * r * r, 2);
  });

  test('an inside corner drilled on its point loses three quarters of the hole', () => {
    const hole = { at: [0, 0] as Vec2, diameter: 6 };
    const l: Vec2[] = [
      [20, 0],
      [20, 30],
      [-20, 30],
      [-20, -20],
      [0, -20],
    ];
    const eased = easedCorner([0, -20], [0, 0], [20, 0], hole);
    const outline = [...eased, ...l.map((at) => ({ at }))];
    const square = Math.abs(signedArea([[0, 0], ...l]));
    expect(Math.abs(outlineArea(outline))).toBeCloseTo(square - 0.75 * Math.PI * 9, 9);
  });

  test('a hole that misses its corner is refused', () => {
    expect(() => easedCorner([0, -20], [0, 0], [20, 0], { at: [10, 10], diameter: 3 })).toThrow(RangeError);
  });
});
