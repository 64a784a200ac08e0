import fc from 'fast-check';
import Module from 'manifold-3d';
import { beforeAll, describe, expect, it } from 'vitest';
import { type Kernel, kernelOn } from '../../src/geometry/kernel.ts';
import type { Mesh } from '../../src/geometry/mesh.ts';
import {
  box,
  cylinder,
  difference,
  extrusion,
  loft,
  mirroredSolid,
  placed,
  type Solid,
  sectionFrame,
  union,
} from '../../src/geometry/solids.ts';
import type { Vec2, Vec3 } from '../../src/geometry/vector.ts';
import { wasmMemories } from '../bench/wasmMemory.ts';
import { expectClosed } from '../parts/measuring.ts';

let kernel: Kernel;
// The kernel keeps its memory to itself; the test sees it by watching what the loader starts.
const memories = wasmMemories();

beforeAll(async () => {
  const wasm = await Module();
  wasm.setup();
  kernel = kernelOn(wasm);
});

/** Area of a regular n-gon over that of its circle. */
const roundness = (n: number) => (n / (2 * Math.PI)) * Math.sin((2 * Math.PI) / n);
const circle = ([x, z]: Vec2, r: number, n: number): Vec2[] =>
  Array.from({ length: n }, (_, i) => [
    x + r * Math.cos((2 * Math.PI * i) / n),
    z + r * Math.sin((2 * Math.PI * i) / n),
  ]);

/** Volume of a mesh by the divergence theorem: the slow twin of the kernel's own figure. */
function meshVolume({ positions, triangles }: Mesh): number {
  let six = 0;
  const p = (i: number): Vec3 => [positions[3 * i]!, positions[3 * i + 1]!, positions[3 * i + 2]!];
  for (let i = 0; i < triangles.length; i += 3) {
    const [a, b, c] = [p(triangles[i]!), p(triangles[i + 1]!), p(triangles[i + 2]!)];
    six += a[0] * (b[1] * c[2] - b[2] * c[1]) + a[1] * (b[2] * c[0] - b[0] * c[2]) + a[2] * (b[0] * c[1] - b[1] * c[0]);
  }
  return six / 6;
}

describe('volumes', () => {
  it('row 13.10: a frustum 20 to 30 by 100 holds 198 967.53, less the chords of its facets', () => {
    const facets = 360;
    const v = kernel.volume(cylinder([5, 6, 7], [5, 106, 7], 20, { radiusTo: 30, facets }));
    expect(v / roundness(facets)).toBeCloseTo(198967.534727, 5);
    expect(1 - v / 198967.534727).toBeLessThan(6e-5);
  });

  it('row 13.5: a 300 by 80 plate with two holes has 21 939.115 of area, plus the chords of its holes', () => {
    const facets = 720;
    const v = kernel.volume(
      extrusion(
        [
          [0, 0],
          [300, 0],
          [300, 80],
          [0, 80],
        ],
        { axis: 'y', from: 0, to: 0.5, holes: [circle([75, 40], 20, facets), circle([160, 40], 16, facets)] },
      ),
    );
    const holes = Math.PI * (20 ** 2 + 16 ** 2);
    expect(v / 0.5 - (1 - roundness(facets)) * holes).toBeCloseTo(21939.11521925, 6);
  });

  it('keeps double precision far from the origin', () => {
    const ring = (y: number): Vec3[] => [
      [0.1, y, 0.2],
      [16.123, y, 0.2],
      [16.123, y, 86.0331],
      [0.1, y, 86.0331],
    ];
    expect(kernel.volume(loft([ring(2500.777), ring(2650.123456)]))).toBeCloseTo(16.023 * 85.8331 * 149.346456, 6);
  });

  it('does not mind which way a recipe is wound', () => {
    const square: Vec2[] = [
      [0, 0],
      [4, 0],
      [4, 3],
      [0, 3],
    ];
    for (const outline of [square, [...square].reverse()]) {
      for (const axis of ['x', 'y', 'z'] as const) {
        for (const [from, to] of [
          [0, 2],
          [2, 0],
        ] as const)
          expect(kernel.volume(extrusion(outline, { axis, from, to }))).toBeCloseTo(24, 10);
      }
    }
  });
});

describe('overlap and distance', () => {
  const a = box([0, 0, 0], [10, 20, 30]);

  it('measures a shared plate exactly', () => {
    const { volume, depth, lumps } = kernel.overlap(a, box([9.5, 5, 5], [15, 10, 12]));
    expect(volume).toBeCloseTo(0.5 * 5 * 7, 9);
    expect(depth).toBeCloseTo(0.5, 9);
    expect(lumps[0]?.low).toEqual([9.5, 5, 5]);
  });

  it('tells lumps apart', () => {
    const fork = union([box([9, 0, 0], [20, 20, 5]), box([9.8, 0, 25], [20, 20, 30]), box([18, 0, 0], [20, 20, 30])]);
    const { lumps, depth } = kernel.overlap(a, fork);
    expect(lumps.map((l) => l.volume)).toEqual([expect.closeTo(100, 6), expect.closeTo(20, 6)]);
    expect(depth).toBeCloseTo(1, 9);
  });

  it('calls a bare touch no overlap and no distance', () => {
    const touching = box([10, 0, 0], [12, 20, 30]);
    expect(kernel.overlap(a, touching)).toEqual({ volume: 0, depth: 0, lumps: [] });
    expect(kernel.distance(a, touching, 5)).toBe(0);
  });

  it('measures daylight exactly, and no further than asked', () => {
    expect(kernel.distance(a, box([10.25, 0, 0], [12, 20, 30]), 5)).toBeCloseTo(0.25, 9);
    expect(kernel.distance(a, box([13, 24, 30], [20, 30, 31]), 10)).toBeCloseTo(5, 9);
    expect(kernel.distance(a, box([40, 0, 0], [41, 20, 30]), 5)).toBe(5);
    expect(kernel.distance(a, box([9, 0, 0], [12, 20, 30]), 5)).toBe(0);
  });
});

describe('meshes', () => {
  const plate = difference(box([0, 0, 0], [40, 2, 30], 'plate'), [
    cylinder([20, -1, 15], [20, 3, 15], 5, { name: 'hole', facets: 24 }),
  ]);

  it('keeps face names through a cut, each in one run', () => {
    const { faces, triangles } = kernel.build(plate);
    expect(faces.map((f) => f.name).sort()).toEqual(['hole', 'plate']);
    expect(faces.reduce((sum, f) => sum + f.count, 0)).toBe(triangles.length / 3);
    expect(faces.find((f) => f.name === 'hole')?.count).toBe(48);
  });

  it('draws crisp edges only: twelve of the plate and two rims', () => {
    const { edges } = kernel.build(plate);
    let [rims, outer] = [0, 0];
    for (let i = 0; i < edges.length; i += 6) {
      const length = Math.hypot(
        edges[i]! - edges[i + 3]!,
        edges[i + 1]! - edges[i + 4]!,
        edges[i + 2]! - edges[i + 5]!,
      );
      const inside = edges[i]! > 1 && edges[i]! < 39 && edges[i + 2]! > 1 && edges[i + 2]! < 29;
      if (inside) rims += length;
      else outer += length;
    }
    expect(outer).toBeCloseTo(4 * (40 + 2 + 30), 4);
    expect(rims).toBeCloseTo(2 * 24 * 2 * 5 * Math.sin(Math.PI / 24), 4);
  });

  it('remembers what it built for a recipe', () => {
    expect(kernel.build(plate)).toBe(kernel.build(plate));
  });

  it('refuses a recipe that leaves no metal', () => {
    expect(() => kernel.build(difference(box([0, 0, 0], [1, 1, 1]), [box([-1, -1, -1], [2, 2, 2])]))).toThrow(
      'no metal',
    );
    expect(() =>
      kernel.build(
        loft([
          [
            [0, 0, 0],
            [1, 0, 0],
            [0, 0, 1],
          ],
        ]),
      ),
    ).toThrow('two rings');
  });

  it('closes every random stack of rings and cuts, and agrees with the divergence theorem', () => {
    const size = fc.double({ min: 1, max: 60, noNaN: true });
    const shift = fc.double({ min: -20, max: 20, noNaN: true });
    const shape = fc.record({
      w: size,
      d: size,
      rings: fc.array(fc.tuple(size, size, shift), { minLength: 2, maxLength: 5 }),
      facets: fc.integer({ min: 3, max: 24 }),
      cut: shift,
      pitch: fc.double({ min: -1, max: 1, noNaN: true }),
      mirror: fc.boolean(),
    });
    fc.assert(
      fc.property(shape, ({ rings, facets, cut, pitch, mirror }) => {
        const stack = loft(rings.map(([r, , s], i) => circle([s, 0], r, facets).map(([x, z]): Vec3 => [x, 30 * i, z])));
        const whole: Solid = placed(mirror ? mirroredSolid(stack, 'y') : stack, sectionFrame([1000, -700, 3], pitch));
        const v = kernel.volume(whole);
        expect(v).toBeGreaterThan(0);
        expect(v).toBeCloseTo(kernel.volume(stack), 4);
        const drilled = difference(stack, [cylinder([cut, -1, 0], [cut, 200, 0], 0.4, { facets: 8 })]);
        expect(kernel.volume(drilled)).toBeLessThanOrEqual(kernel.volume(stack) + 1e-6);
        const mesh = kernel.build(drilled);
        expectClosed(mesh);
        expect(meshVolume(mesh) / kernel.volume(drilled)).toBeCloseTo(1, 3);
      }),
      { numRuns: 200, seed: 1311 },
    );
  });
});

describe('section', () => {
  it('cuts a holed plate into one loop round and one hole, in the plane’s own axes', () => {
    const tube = difference(box([0, 0, 0], [10, 10, 10]), [box([2, -1, 3], [8, 11, 7])]);
    const loops = kernel.section(tube, { origin: [0, 5, 0], u: [1, 0, 0], v: [0, 0, 1] });
    const area = (loop: readonly Vec2[]) =>
      loop.reduce(
        (s, [x, z], i) => s + (x * loop[(i + 1) % loop.length]![1] - z * loop[(i + 1) % loop.length]![0]) / 2,
        0,
      );
    expect(loops.map(area).sort((p, q) => p - q)).toEqual([expect.closeTo(-24, 6), expect.closeTo(100, 6)]);
    expect(kernel.section(tube, { origin: [0, 20, 0], u: [1, 0, 0], v: [0, 0, 1] })).toEqual([]);
  });
});

describe('memory', () => {
  it('does not grow over 500 builds', () => {
    expect(memories.length).toBeGreaterThan(0);
    const build = (i: number) => {
      const part = difference(
        box([0, 0, 0], [100 + i / 100, 2, 50], 'p'),
        [10, 30, 50, 70].map((x) => cylinder([x, -1, 25], [x, 3, 25], 4)),
      );
      kernel.build(part);
      kernel.overlap(part, box([0, 0, 0], [50, 1, 50]));
    };
    const held = () => memories.reduce((sum, m) => sum + m.buffer.byteLength, 0);
    for (let i = 0; i < 50; i++) build(i);
    const before = held();
    for (let i = 50; i < 550; i++) build(i);
    expect(held() - before).toBeLessThan(2 ** 21);
  });

  it('frees everything when a job inside fails', () => {
    const held = () => memories.reduce((sum, m) => sum + m.buffer.byteLength, 0);
    const before = held();
    for (let i = 0; i < 200; i++) {
      expect(() =>
        kernel.together(() => {
          kernel.volume(cylinder([0, 0, 0], [0, 10, 0], 5 + i / 100, { facets: 200 }));
          throw new Error('stopped');
        }),
      ).toThrow('stopped');
    }
    expect(held() - before).toBeLessThan(2 ** 21);
  });
});
