import Module, { type Manifold, type ManifoldToplevel } from 'manifold-3d';
import { type Bounds, boxesApart } from './boxes.ts';
import { KeptAnswers } from './kernel/kept.ts';
import { heldBox } from './kernel/kernelBox.ts';
import { solidMaker } from './kernel/makeSolid.ts';
import { NO_OVERLAP, type Overlap, sharer } from './kernel/overlap.ts';
import { plainMesh } from './kernel/plainMesh.ts';
import { Workshop } from './kernel/workshop.ts';
import { sectionLoops } from './kernelLists.ts';
import type { Mesh } from './mesh.ts';
import { recipeKey, type Solid } from './solids.ts';
import { cross, dot, type Vec2, type Vec3 } from './vector.ts';

/** Where to cut: the section is drawn with `u` to the right and `v` up, both square to each other, from `origin`. */
export interface Plane {
  readonly origin: Vec3;
  readonly u: Vec3;
  readonly v: Vec3;
}

/**
 * The solid modeller: takes recipes, gives plain arrays and numbers. mm, mm³.
 *
 * Everything the kernel holds is freed before a call returns; what it answered is remembered by recipe, as plain
 * data, up to a bound. Inside `together` the built solids are kept until the
 * outermost one ends, so that many questions about the same parts build each part once.
 */
export interface Kernel {
  /**
   * The surface; remembered for the recipe, so asking again for equal metal costs next to nothing. Throws Error on a
   * recipe that closes no space.
   */
  build(solid: Solid): Mesh;
  volume(solid: Solid): number;
  bounds(solid: Solid): Bounds;
  overlap(a: Solid, b: Solid): Overlap;
  /**
   * Least distance between two solids, 0 where they touch or overlap; `within` when they are further apart than that.
   */
  distance(a: Solid, b: Solid, within: number): number;
  /** The cut faces as closed loops in (u, v): outlines counterclockwise, holes clockwise. */
  section(solid: Solid, plane: Plane): Vec2[][];
  together<T>(job: () => T): T;
}

/** What is remembered at most: triangles of meshes (about 40 bytes each), and answers in numbers. */
const MOST_TRIANGLES = 1_500_000;
const MOST_ANSWERS = 20_000;

let loaded: Promise<Kernel> | undefined;

/**
 * The one kernel of this program, loaded on the first call. In a browser give the address of `manifold.wasm`; in Node
 * it finds its own file.
 */
export function openKernel(wasmUrl?: string): Promise<Kernel> {
  loaded ??= load(wasmUrl);
  return loaded;
}

async function load(wasmUrl: string | undefined): Promise<Kernel> {
  const wasm = await (wasmUrl === undefined ? Module() : Module({ locateFile: () => wasmUrl }));
  wasm.setup();
  return kernelOn(wasm);
}

interface Measured {
  readonly volume: number;
  readonly bounds: Bounds;
}

/** A kernel on a module of its own, with a memory of its own; the program has one, `openKernel`. */
export function kernelOn(wasm: ManifoldToplevel): Kernel {
  const shop = new Workshop(wasm);
  const made = solidMaker(shop);
  const shareOf = sharer(shop, made);
  const together = <T>(job: () => T): T => shop.together(job);
  const meshes = new KeptAnswers<Mesh>(MOST_TRIANGLES, (mesh) => mesh.triangles.length / 3);
  const sizes = new KeptAnswers<Measured>(MOST_ANSWERS, () => 1);
  const shares = new KeptAnswers<Overlap>(MOST_ANSWERS, () => 1);

  const measured = (solid: Solid): Measured => {
    const key = recipeKey(solid);
    return sizes.get(key) ?? together(() => sizes.keep(key, measure(made(solid))));
  };

  const build = (solid: Solid): Mesh => {
    const key = recipeKey(solid);
    const known = meshes.get(key);
    if (known) return known;
    return together(() => {
      const m = made(solid);
      if (m.status() !== 'NoError' || !(m.volume() > 0))
        throw new Error(`a ${solid.kind} leaves no metal (${m.status()})`);
      sizes.keep(key, measure(m));
      return meshes.keep(key, plainMesh(m.getMesh(), shop.names));
    });
  };

  const overlap = (a: Solid, b: Solid): Overlap =>
    together(() => {
      const [boxA, boxB] = [measured(a).bounds, measured(b).bounds];
      if (boxesApart(boxA, boxB) > 0) return NO_OVERLAP;
      const key = `${recipeKey(a)} ${recipeKey(b)}`;
      return shares.get(key) ?? shares.keep(key, shareOf({ solid: a, box: boxA }, { solid: b, box: boxB }));
    });

  const distance = (a: Solid, b: Solid, within: number): number =>
    together(() => {
      if (boxesApart(measured(a).bounds, measured(b).bounds) >= within) return within;
      return Math.min(within, made(a).minGap(made(b), within));
    });

  const section = (solid: Solid, plane: Plane): Vec2[][] =>
    together(() => {
      const turned = shop.own(laidOn(made(solid), plane));
      return sectionLoops(shop.own(turned.slice(0)));
    });

  return {
    build,
    overlap,
    distance,
    section,
    together,
    volume: (solid) => measured(solid).volume,
    bounds: (solid) => measured(solid).bounds,
  };
}

const measure = (m: Manifold): Measured => ({ volume: m.volume(), bounds: heldBox(m) });

/** A solid turned so that the plane lies at z = 0, its u along x and its v along y. */
function laidOn(m: Manifold, { origin, u, v }: Plane): Manifold {
  const w = cross(u, v);
  const column = (k: 0 | 1 | 2) => [u[k], v[k], w[k], 0] as const;
  return m.transform([...column(0), ...column(1), ...column(2), -dot(origin, u), -dot(origin, v), -dot(origin, w), 1]);
}
