import type { Manifold } from 'manifold-3d';
import { NEAR } from '../../units/near.ts';
import { boxesApart } from '../boxes.ts';
import { trianglesOf } from '../kernelLists.ts';
import {
  type BoxSolid,
  type Cylinder,
  type Extrusion,
  type Loft,
  type Placed,
  type Solid,
  shellOf,
} from '../solids.ts';
import { cross, dot, norm, scale, subtract, unit, type Vec2, type Vec3 } from '../vector.ts';
import { roughened } from './exactCorners.ts';
import { heldBox } from './kernelBox.ts';
import type { Workshop } from './workshop.ts';

/** Builds recipes inside the kernel, each once while it is held. */
export function solidMaker(shop: Workshop): (solid: Solid) => Manifold {
  const made = shop.whileHeld((solid): Manifold => shop.own(fresh(solid)));
  const fresh = (solid: Solid): Manifold => {
    switch (solid.kind) {
      case 'union':
        return shop.wasm.Manifold.union(solid.of.map(made));
      case 'difference':
        return cut(shop, made(solid.from), solid.less.map(made));
      case 'placed':
        return put(made(solid.of), solid);
      case 'box':
        return box(shop, solid);
      case 'cylinder':
        return cylinder(shop, solid);
      default:
        return shell(shop, solid);
    }
  };
  return made;
}

/** Cutters that keep clear of one another, as holes do, go in as one body, which is a quarter quicker. */
function cut(shop: Workshop, from: Manifold, cutters: readonly Manifold[]): Manifold {
  const boxes = cutters.map(heldBox);
  const clear = boxes.every((a, i) => boxes.every((b, j) => j <= i || boxesApart(a, b) > 0));
  if (!clear) return shop.wasm.Manifold.difference([from, ...cutters]);
  return from.subtract(shop.own(shop.wasm.Manifold.compose(cutters)));
}

function put(solid: Manifold, { frame }: Placed): Manifold {
  const [x, y, z] = frame.axes;
  const [ox, oy, oz] = frame.origin;
  return solid.transform([...x, 0, ...y, 0, ...z, 0, ox, oy, oz, 1]);
}

function box(shop: Workshop, { low, high, name }: BoxSolid): Manifold {
  const [x, y, z] = subtract(high, low);
  const atOrigin = shop.own(shop.wasm.Manifold.cube([x, y, z]));
  return named(shop, atOrigin.translate([...low]), name);
}

function cylinder(shop: Workshop, { from, to, radius, radiusTo, facets, name }: Cylinder): Manifold {
  const along = subtract(to, from);
  const w = unit(along);
  const u = acrossOf(w);
  const bar = shop.own(shop.wasm.Manifold.cylinder(norm(along), radius, radiusTo, facets));
  return named(shop, bar.transform([...u, 0, ...cross(w, u), 0, ...w, 0, ...from, 1]), name);
}

/** A fresh copy of a one-face solid under its own number, so that its faces can be told apart later. */
function named(shop: Workshop, solid: Manifold, name: string): Manifold {
  const original = shop.own(solid).asOriginal();
  shop.names.set(original.originalID(), name);
  return original;
}

/** A loft or an extrusion: its walls and filled ends as one closed surface, each face under a number of its own. */
function shell(shop: Workshop, solid: Loft | Extrusion): Manifold {
  const { wasm, names } = shop;
  const { points, triangles, ends } = shellOf(solid);
  for (const end of ends) {
    const list = triangles.get(end.name) ?? [];
    triangles.set(end.name, list);
    fillEnd(shop, points, end.loops, list);
  }
  let id = wasm.Manifold.reserveIDs(triangles.size);
  const corners: number[] = [];
  const runIndex: number[] = [0];
  const runOriginalID: number[] = [];
  for (const [name, list] of triangles) {
    names.set(id, name);
    runOriginalID.push(id++);
    for (const corner of list) corners.push(corner);
    runIndex.push(corners.length);
  }
  const { rough, exact } = roughened(points);
  const mesh = new wasm.Mesh({
    numProp: 3,
    vertProperties: rough,
    triVerts: Uint32Array.from(corners),
    runIndex: Uint32Array.from(runIndex),
    runOriginalID: Uint32Array.from(runOriginalID),
  });
  // Meshes go in with single precision; the warp puts every corner back to the double it was.
  const sharp = shop.own(shop.own(wasm.Manifold.ofMesh(mesh)).warpBatch(exact));
  const status = sharp.status();
  if (status !== 'NoError') throw new Error(`a ${solid.kind} does not close a space (${status})`);
  return sharp.setTolerance(NEAR);
}

/** Fills a flat end with triangles, onto a list of corners. */
function fillEnd(
  { wasm }: Workshop,
  points: Float64Array,
  loops: readonly (readonly number[])[],
  list: number[],
): void {
  const at = (i: number): Vec3 => [points[3 * i] ?? 0, points[3 * i + 1] ?? 0, points[3 * i + 2] ?? 0];
  const normal = normalOf((loops[0] ?? []).map(at));
  const u = acrossOf(normal);
  const v = cross(normal, u);
  const flat = loops.map((loop) => loop.map((i): [number, number] => [dot(at(i), u), dot(at(i), v)]));
  const order = loops.flat();
  const only = flat.length === 1 ? flat[0] : undefined;
  if (only !== undefined && isConvex(only)) {
    for (let i = 1; i + 1 < order.length; i++) list.push(order[0] ?? 0, order[i] ?? 0, order[i + 1] ?? 0);
    return;
  }
  for (const [a, b, c] of trianglesOf(wasm, flat)) list.push(order[a] ?? 0, order[b] ?? 0, order[c] ?? 0);
}

/** A direction square to another of length one. */
function acrossOf(w: Vec3): Vec3 {
  return unit(Math.abs(w[0]) < 0.8 ? subtract([1, 0, 0], scale(w, w[0])) : subtract([0, 1, 0], scale(w, w[1])));
}

/** Newell's mean normal of a loop that need not be quite flat. */
function normalOf(loop: readonly Vec3[]): Vec3 {
  let n: Vec3 = [0, 0, 0];
  loop.forEach((p, i) => {
    const q = loop[(i + 1) % loop.length] ?? p;
    n = [
      n[0] + (p[1] - q[1]) * (p[2] + q[2]),
      n[1] + (p[2] - q[2]) * (p[0] + q[0]),
      n[2] + (p[0] - q[0]) * (p[1] + q[1]),
    ];
  });
  return unit(n);
}

/** Whether every corner of a counterclockwise loop turns left, none of them straight on. */
function isConvex(loop: readonly Vec2[]): boolean {
  return loop.every((b, i) => {
    const a = loop[(i + loop.length - 1) % loop.length] ?? b;
    const c = loop[(i + 1) % loop.length] ?? b;
    return (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0]) > NEAR;
  });
}
