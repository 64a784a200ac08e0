import { describe, expect, it } from 'vitest';
import { wingPoint } from '../../src/geometry/frame.ts';
import { openKernel } from '../../src/geometry/kernel.ts';
import { alongRay } from '../../src/geometry/lump.ts';
import { box, cylinder, difference, extrusion, placed, recipeKey, type Solid } from '../../src/geometry/solids.ts';
import type { Vec2 } from '../../src/geometry/vector.ts';

const kernel = await openKernel();
const moved = (of: Solid, x: number, y: number, z: number): Solid =>
  placed(of, {
    origin: wingPoint(x, y, z),
    axes: [
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
    ],
  });

describe('how deep two solids bite', () => {
  it('is the thickness of a plate of shared metal, wherever it lies', () => {
    const found = kernel.overlap(
      box([0, 0, 0], [100, 40, 10], 'top'),
      moved(box([0, 0, 0], [60, 20, 5], 'foot'), 10, 700 - 690, 9.7),
    );
    expect(found.depth).toBeCloseTo(0.3, 5);
    expect(found.lumps[0]!.faces.map((f) => `${f.of} ${f.name}`).sort()).toEqual(['a top', 'b foot']);
  });

  it('is the deep end of a wedge', () => {
    const wedge: Vec2[] = [
      [0, 10],
      [50, 9.5],
      [50, 12],
      [0, 12],
    ];
    expect(
      kernel.overlap(box([0, 0, 0], [50, 20, 10]), extrusion(wedge, { axis: 'y', from: 2, to: 18 })).depth,
    ).toBeCloseTo(0.5, 2);
  });

  it('is that of a film even where it runs on round a corner, and where the two only touch beside it', () => {
    // A bracket of metal in a corner: 0.2 under the top, touching along the side.
    const corner = difference(box([0, 0, 0], [60, 30, 60]), [box([0, -1, 0], [50, 31, 50])]);
    const piece = box([10, 5, 20], [50, 25, 50.2]);
    expect(kernel.overlap(corner, piece).depth).toBeCloseTo(0.2, 5);
  });

  it('is no more than a sheet is thick where it is wholly inside', () => {
    expect(kernel.overlap(box([0, 0, 0], [100, 100, 20]), box([10, 10, 5], [90, 90, 5.6])).depth).toBeCloseTo(0.6, 5);
  });
});

it('a ray meets a triangle ahead, behind, or not at all', () => {
  const triangle = [
    [-1, -1, 0],
    [3, -1, 0],
    [-1, 3, 0],
  ] as const;
  expect(alongRay([0, 0, 5], [0, 0, -1], triangle)).toBeCloseTo(5, 12);
  expect(alongRay([0, 0, -2], [0, 0, -1], triangle)).toBeCloseTo(-2, 12);
  expect(alongRay([4, 4, 5], [0, 0, -1], triangle)).toBeUndefined();
  expect(alongRay([0, 0, 5], [1, 0, 0], triangle)).toBeUndefined();
});

describe('a recipe’s name', () => {
  const hole = (x: number, name = 'hole') =>
    difference(box([0, 0, 0], [50, 2, 20], 'plate'), [cylinder([x, -1, 10], [x, 3, 10], 3, { name })]);

  it('is the same for equal recipes and another for any other number or word', () => {
    expect(recipeKey(hole(10))).toBe(recipeKey(hole(10)));
    const others = [
      hole(10 + 1e-12),
      hole(10, 'slot'),
      moved(hole(10), 0, 1e-9, 0),
      moved(hole(10), 0, 0, 0),
      box([0, 0, 0], [50, 2, 20], 'plate'),
    ].map(recipeKey);
    expect(new Set([recipeKey(hole(10)), ...others]).size).toBe(6);
  });

  it('spreads: ten thousand near alike have ten thousand names', () => {
    expect(new Set(Array.from({ length: 10_000 }, (_, i) => recipeKey(box([0, 0, 0], [1 + i / 1e6, 1, 1])))).size).toBe(
      10_000,
    );
  });

  it('lets the kernel hand out the mesh of equal metal again', () => {
    expect(kernel.build(hole(12))).toBe(kernel.build(hole(12)));
    expect(kernel.build(hole(12))).not.toBe(kernel.build(hole(13)));
  });
});
