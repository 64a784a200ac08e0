import { expect } from 'vitest';
import type { Kernel } from '../../src/geometry/kernel.ts';
import type { Mesh } from '../../src/geometry/mesh.ts';
import type { Solid } from '../../src/geometry/solids.ts';
import type { Vec3 } from '../../src/geometry/vector.ts';

/** What a quarter bend of n facets lacks of a true one, as area: (Ro² − R²)(π/4 − (n/2) sin(π/2n)). */
export function chordalLoss(radius: number, thickness: number, facets: number): number {
  return ((radius + thickness) ** 2 - radius ** 2) * (Math.PI / 4 - (facets / 2) * Math.sin(Math.PI / (2 * facets)));
}

/** Section of a formed channel with true bends (rows 13.1, 13.2), by its flats and its two quarter rings. */
export function channelArea(h: number, b: number, t: number, r: number): number {
  const o = r + t;
  return t * (h - 2 * o + 2 * (b - o)) + (Math.PI / 2) * (o ** 2 - r ** 2);
}

/** Least and greatest x, y, z of one named face. */
export function extentOf(mesh: Mesh, name: string): { low: Vec3; high: Vec3 } {
  const low: [number, number, number] = [Infinity, Infinity, Infinity];
  const high: [number, number, number] = [-Infinity, -Infinity, -Infinity];
  for (const f of mesh.faces.filter((face) => face.name === name)) {
    for (let i = 3 * f.start; i < 3 * (f.start + f.count); i++) {
      for (const k of [0, 1, 2] as const) {
        const v = mesh.positions[3 * mesh.triangles[i]! + k]!;
        low[k] = Math.min(low[k], v);
        high[k] = Math.max(high[k], v);
      }
    }
  }
  if (low[0] > high[0]) throw new Error(`no face "${name}" among ${mesh.faces.map((f) => f.name).join(', ')}`);
  return { low, high };
}

export function expectBox(kernel: Kernel, solid: Solid, low: Vec3, high: Vec3): void {
  const found = kernel.bounds(solid);
  for (const k of [0, 1, 2] as const) {
    expect(Math.abs(found.low[k] - low[k]), `low ${'xyz'[k]} ${found.low[k]} for ${low[k]}`).toBeLessThan(1e-4);
    expect(Math.abs(found.high[k] - high[k]), `high ${'xyz'[k]} ${found.high[k]} for ${high[k]}`).toBeLessThan(1e-4);
  }
}

/** Every edge is run along once each way: the surface is closed. */
export function expectClosed({ triangles }: Mesh): void {
  const seen = new Set<string>();
  for (let i = 0; i < triangles.length; i += 3) {
    for (const [p, q] of [
      [0, 1],
      [1, 2],
      [2, 0],
    ] as const) {
      const key = `${triangles[i + p]} ${triangles[i + q]}`;
      if (seen.has(key)) throw new Error(`edge ${key} is run along twice`);
      seen.add(key);
    }
  }
  for (const key of seen) if (!seen.has(key.split(' ').reverse().join(' '))) throw new Error(`edge ${key} is open`);
}
