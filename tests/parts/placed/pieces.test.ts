import { describe, expect, it } from 'vitest';
import { ellipseFront } from '../../../src/geometry/airfoil.ts';
import { openKernel } from '../../../src/geometry/kernel.ts';
import { placed, sectionFrame } from '../../../src/geometry/solids.ts';
import { bracketSolid } from '../../../src/parts/shapes/bracket.ts';
import { doublerSolid } from '../../../src/parts/shapes/doubler.ts';
import { rivetSolid } from '../../../src/parts/shapes/rivet.ts';
import { skinSolid } from '../../../src/parts/shapes/skin.ts';
import { sparSolid } from '../../../src/parts/shapes/spar.ts';
import { channelArea, chordalLoss, expectBox, expectClosed, extentOf } from '../measuring.ts';

const kernel = await openKernel();
const spar = sparSolid({
  thickness: 0.8,
  radius: 2.4,
  opens: 'aft',
  stations: [0, 200].map((y) => ({ y, x: 0, z: 0, depth: 86, capWidth: 16 })),
});
const channel = (radius: number, height: number) =>
  ({ form: 'channel', thickness: 0.6, radius, height, leg: 14, width: 28, side: 1 }) as const;

describe('a channel doubler', () => {
  it('holds a formed channel’s metal, with its face at x = 0 on either side', () => {
    const aft = doublerSolid(channel(2, 84));
    const forward = doublerSolid({ ...channel(2, 84), side: -1 });
    expect(kernel.volume(aft)).toBeCloseTo(28 * (channelArea(84, 14, 0.6, 2) - 2 * chordalLoss(2, 0.6, 6)), 6);
    expectBox(kernel, aft, [0, -14, -42], [14, 14, 42]);
    expectBox(kernel, forward, [-14, -14, -42], [0, 14, 42]);
    expect(extentOf(kernel.build(aft), 'to spar').high[0]).toBe(0);
    expect(extentOf(kernel.build(forward), 'to part').low[0]).toBeCloseTo(-0.6, 6);
  });

  it('nests in its spar with exact daylight at the caps, and rides on the bend when bent tighter', () => {
    const laid = (radius: number, height: number) =>
      placed(doublerSolid(channel(radius, height)), sectionFrame([0.8, 100, 0]));
    const nested = laid(1.8, 84);
    expect(kernel.overlap(spar, nested).volume).toBe(0);
    expect(
      extentOf(kernel.build(spar), 'top cap inside').low[2] - extentOf(kernel.build(nested), 'top leg').high[2],
    ).toBeCloseTo(0.2, 5);
    const tight = kernel.overlap(spar, laid(0.6, 84.4));
    expect(tight.volume).toBeGreaterThan(1);
  });

  it('bites by exactly what its height is over', () => {
    const { volume } = kernel.overlap(
      spar,
      placed(
        doublerSolid({ form: 'shim', thickness: 0.6, length: 10, width: 28, side: 1, under: 'top' }),
        sectionFrame([4, 100, 42.2 + 0.25]),
      ),
    );
    expect(volume).toBeCloseTo(0.25 * 10 * 28, 6);
  });
});

it('a packer and a shim are the plates they say', () => {
  const packer = doublerSolid({ form: 'packer', thickness: 0.8, height: 40, width: 28, side: -1 });
  expectBox(kernel, packer, [-0.8, -14, -20], [0, 14, 20]);
  expect(kernel.volume(packer)).toBeCloseTo(0.8 * 40 * 28, 9);
  expect(extentOf(kernel.build(packer), 'to spar').low[0]).toBe(0);
  const shim = doublerSolid({ form: 'shim', thickness: 0.3, length: 12, width: 28, side: 1, under: 'bottom' });
  expectBox(kernel, shim, [0, -14, 0], [12, 14, 0.3]);
  expect(extentOf(kernel.build(shim), 'to part').low[2]).toBeCloseTo(0.3, 6);
});

it('a bracket is an angle on its foot', () => {
  const solid = bracketSolid({ thickness: 1.6, radius: 3.2, width: 40, height: 36, edge: 22, side: 1 });
  expectBox(kernel, solid, [0, -20, -18], [22, 20, 18]);
  const o = 4.8;
  const area = 1.6 * (40 - o + 22 - o) + (Math.PI / 4) * (o ** 2 - 3.2 ** 2) - chordalLoss(3.2, 1.6, 6);
  expect(kernel.volume(solid)).toBeCloseTo(area * 36, 6);
});

it('a rivet fills its grip', () => {
  const solid = rivetSolid({ from: [2, 10, 5], axis: [1, 0, 0], diameter: 3.2, grip: 4, set: true });
  expectClosed(kernel.build(solid));
  expect(kernel.bounds(solid).low[0]).toBeCloseTo(2 - 1.6, 9);
  expect(kernel.bounds(solid).high[0]).toBeCloseTo(2 + 4 + 1.6, 9);
});

it('a skin is its girth, its thickness and its span', () => {
  const half = ellipseFront({ length: 120, height: 80, count: 181 }).map(([x, z]) => [x - 120, z] as const);
  const outline = [[260, 25] as const, ...half, [260, -25] as const];
  const solid = skinSolid({
    thickness: 0.5,
    pieces: 400,
    stations: [
      { y: 0, outline },
      { y: 300, outline },
    ],
  });
  const girth = outline.reduce(
    (sum, [x, z], i) => (i === 0 ? 0 : sum + Math.hypot(x - outline[i - 1]![0], z - outline[i - 1]![1])),
    0,
  );
  // Outside a curve turning by about pi the sheet's middle is pi t/2 longer than its inside.
  expect(kernel.volume(solid) / (0.5 * 300)).toBeCloseTo(girth + (Math.PI * 0.5) / 2, 0);
  expect(kernel.bounds(solid).low[0]).toBeCloseTo(-120.5, 2);
  expectClosed(kernel.build(solid));
});
