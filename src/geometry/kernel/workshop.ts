import type { ManifoldToplevel } from 'manifold-3d';
import type { Solid } from '../solids.ts';

interface Deletable {
  delete(): void;
}

/**
 * What is held inside the kernel's own memory while questions are asked, and when it is given back: what is owned, at
 * the end of the outermost job; within a scratch job, at the end of that.
 */
export class Workshop {
  readonly wasm: ManifoldToplevel;
  /** Names of faces, by the number the kernel gave each. */
  readonly names = new Map<number, string>();
  readonly #bin: Deletable[] = [];
  readonly #found: Map<Solid, unknown>[] = [];
  #depth = 0;

  constructor(wasm: ManifoldToplevel) {
    this.wasm = wasm;
  }

  /** Takes charge of a thing that the kernel made. */
  own<T extends Deletable>(thing: T): T {
    this.#bin.push(thing);
    return thing;
  }

  /** A job in which everything that is made stays until its end; the outermost frees it all. */
  together<T>(job: () => T): T {
    this.#depth++;
    try {
      return job();
    } finally {
      if (--this.#depth === 0) this.#clear();
    }
  }

  /** A job that makes nothing to be kept: what it holds is freed at its end, not at that of `together`. */
  scratch<T>(job: () => T): T {
    const before = this.#bin.length;
    try {
      return job();
    } finally {
      for (const thing of this.#bin.splice(before)) thing.delete();
    }
  }

  /** Finds something once of each solid, and knows it for as long as solids are held. */
  whileHeld<V>(find: (solid: Solid) => V): (solid: Solid) => V {
    const known = new Map<Solid, V>();
    this.#found.push(known);
    return (solid) => {
      const had = known.get(solid);
      if (had !== undefined) return had;
      const found = find(solid);
      known.set(solid, found);
      return found;
    };
  }

  #clear(): void {
    for (const thing of this.#bin) thing.delete();
    this.#bin.length = 0;
    for (const known of this.#found) known.clear();
    this.names.clear();
  }
}
