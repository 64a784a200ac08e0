import { describe, expect, it } from 'vitest';
import type { Mesh } from '../../src/geometry/mesh.ts';
import { shaded } from '../../src/geometry/shade.ts';

/** A unit cube of 8 corners, wound outward. */
const CUBE: Mesh = {
  positions: Float32Array.from([0, 0, 0, 1, 0, 0, 1, 1, 0, 0, 1, 0, 0, 0, 1, 1, 0, 1, 1, 1, 1, 0, 1, 1]),
  triangles: Uint32Array.from([
    0, 2, 1, 0, 3, 2, 4, 5, 6, 4, 6, 7, 0, 1, 5, 0, 5, 4, 1, 2, 6, 1, 6, 5, 2, 3, 7, 2, 7, 6, 3, 0, 4, 3, 4, 7,
  ]),
  faces: [{ name: 'all', start: 0, count: 12 }],
  edges: new Float32Array(0),
};

describe('shading', () => {
  it('gives a cube three corners at each corner, each square to its side', () => {
    const s = shaded(CUBE);
    expect(s.positions.length / 3).toBe(24);
    expect(s.triangles.length).toBe(36);
    for (let i = 0; i < s.normals.length; i += 3) {
      const n = [...s.normals.slice(i, i + 3)].map((v) => Math.abs(Math.round(v * 1e6) / 1e6)).sort();
      expect(n).toEqual([0, 0, 1]);
    }
  });

  it('keeps every triangle where it was', () => {
    const s = shaded(CUBE);
    const corners = (m: Mesh) => [...m.triangles].flatMap((v) => [...m.positions.slice(3 * v, 3 * v + 3)]);
    expect(corners(s)).toEqual(corners(CUBE));
  });

  it('rounds a bend of 15 degrees: both sides share the normal between them', () => {
    const [c, k] = [Math.cos(Math.PI / 12), Math.sin(Math.PI / 12)];
    const bend: Mesh = {
      positions: Float32Array.from([-1, 0, 0, -1, 1, 0, 0, 0, 0, 0, 1, 0, c, 0, -k, c, 1, -k]),
      triangles: Uint32Array.from([0, 2, 3, 0, 3, 1, 2, 4, 5, 2, 5, 3]),
      faces: [{ name: 'bend', start: 0, count: 4 }],
      edges: new Float32Array(0),
    };
    const s = shaded(bend);
    const tilt = [...s.normals].filter((_, i) => i % 3 === 0);
    expect(s.positions.length / 3).toBe(6);
    expect(Math.max(...tilt)).toBeLessThan(Math.sin(Math.PI / 12) + 1e-6);
    expect(tilt.some((x) => x > 0.05 && x < 0.22)).toBe(true);
  });
});
