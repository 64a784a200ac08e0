import type { CrossSection, ManifoldToplevel } from 'manifold-3d';
import type { Vec2 } from './vector.ts';

/*
 * Lists that go into the kernel and come back. The kernel's own `triangulate` and `toPolygons` leave a list behind in
 * its memory with every call, some 50 kB a picture, which an hour's work adds up to a hundred megabytes; these give
 * each back.
 */

/** A list inside the kernel; what `get` gives of a list of lists is a copy, to be given back too. */
interface Inside<T> {
  size(): number;
  get(i: number): T;
  push_back(v: T): void;
  delete(): void;
}

interface Point {
  readonly x: number;
  readonly y: number;
}

/** What the package has beneath its own wrapping, in the version that is pinned. */
interface Beneath {
  readonly Vector_vec2: new () => Inside<Point>;
  readonly Vector2_vec2: new () => Inside<Inside<Point>>;
  _Triangulate(
    loops: Inside<Inside<Point>>,
    epsilon: number,
    allowConvex: boolean,
  ): Inside<readonly [number, number, number]>;
}

function read<T, R>(list: Inside<T>, as: (v: T) => R): R[] {
  try {
    return Array.from({ length: list.size() }, (_, i) => as(list.get(i)));
  } finally {
    list.delete();
  }
}

/**
 * Triangles of a flat face with holes, as corners counted through all loops. Outline counterclockwise, holes
 * clockwise.
 */
export function trianglesOf(
  wasm: ManifoldToplevel,
  loops: readonly (readonly Vec2[])[],
): (readonly [number, number, number])[] {
  const beneath = wasm as unknown as Beneath;
  const list = new beneath.Vector2_vec2();
  try {
    for (const loop of loops) {
      const points = new beneath.Vector_vec2();
      for (const [x, y] of loop) points.push_back({ x, y });
      list.push_back(points);
      points.delete();
    }
    return read(beneath._Triangulate(list, -1, true), (t): [number, number, number] => [t[0], t[1], t[2]]);
  } finally {
    list.delete();
  }
}

/** The loops of a section. */
export function sectionLoops(section: CrossSection): Vec2[][] {
  const inside = section as unknown as { _ToPolygons(): Inside<Inside<Point>> };
  return read(inside._ToPolygons(), (loop) => read(loop, ({ x, y }): Vec2 => [x, y]));
}
