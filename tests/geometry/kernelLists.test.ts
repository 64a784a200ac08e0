import Module from 'manifold-3d';
import { beforeAll, describe, expect, it } from 'vitest';
import { sectionLoops, trianglesOf } from '../../src/geometry/kernelLists.ts';
import { signedArea } from '../../src/geometry/outline.ts';
import type { Vec2 } from '../../src/geometry/vector.ts';
import { wasmMemories } from '../bench/wasmMemory.ts';

/* Lists in and out of the kernel. Set against the closed form of an area, against the package's own calls, and against the memory they must not leave behind. */

const memories = wasmMemories();
let wasm: Awaited<ReturnType<typeof Module>>;
beforeAll(async () => {
  wasm = await Module();
  wasm.setup();
});

const ring = (n: number, r: number, turn: 1 | -1 = 1): Vec2[] =>
  Array.from({ length: n }, (_, i) => [
    r * Math.cos((turn * 2 * Math.PI * i) / n),
    r * Math.sin((turn * 2 * Math.PI * i) / n),
  ]);
const used = (): number => memories.reduce((sum, m) => sum + m.buffer.byteLength, 0);

describe('triangles of a face', () => {
  it('cover a ring with a hole: n/2 sin(2π/n) (R² − r²)', () => {
    const loops = [ring(40, 10), ring(40, 4, -1)];
    const points = loops.flat();
    const area = trianglesOf(wasm, loops).reduce((sum, t) => sum + signedArea(t.map((i) => points[i]!)), 0);
    expect(area).toBeCloseTo(20 * Math.sin((2 * Math.PI) / 40) * (100 - 16), 9);
  });
  it("are the package's own", () => {
    const loops = [ring(60, 10), ring(30, 4, -1)];
    expect(trianglesOf(wasm, loops)).toEqual(
      wasm.triangulate(loops.map((l) => l.map(([x, y]): [number, number] => [x, y]))),
    );
  });
});

describe('loops of a section', () => {
  it("are the package's own", () => {
    const bar = wasm.Manifold.cylinder(10, 5, 5, 32);
    const pipe = bar.subtract(wasm.Manifold.cylinder(30, 2, 2, 16, true));
    const section = pipe.slice(5);
    expect(sectionLoops(section)).toEqual(section.toPolygons());
    expect(sectionLoops(section)).toHaveLength(2);
  });
});

it('leave nothing behind: 450 faces of 4000 points, whose triangles alone would be 21 MB', () => {
  const loops = [ring(4000, 10)];
  const section = new wasm.CrossSection(loops.map((l) => l.map(([x, y]): [number, number] => [x, y])));
  for (let i = 0; i < 20; i++) trianglesOf(wasm, loops);
  const before = used();
  expect(before).toBeGreaterThan(0);
  for (let i = 0; i < 450; i++) {
    trianglesOf(wasm, loops);
    sectionLoops(section);
  }
  expect(used()).toBe(before);
});
