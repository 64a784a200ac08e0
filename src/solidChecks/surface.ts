import type { Kernel } from '../geometry/kernel.ts';
import { alongRay } from '../geometry/lump.ts';
import type { Mesh } from '../geometry/mesh.ts';
import { add, dot, scale, subtract, unit, type Vec3 } from '../geometry/vector.ts';
import type { PlacedSolid } from '../parts/placed/build.ts';

/*
 * Sizes taken off built parts as a caliper takes them: from one named face to another, along a straight line. Wing
 * frame, mm. Nothing here knows the numbers the parts were made from.
 */

/**
 * Directions in which a section at one y is measured: along the web and square to it; its middle on the web's forward
 * face.
 */
export interface SectionAxes {
  readonly middle: Vec3;
  readonly up: Vec3;
  readonly aft: Vec3;
}

interface Triangle {
  readonly corners: readonly [Vec3, Vec3, Vec3];
  /** Least and greatest y of its corners. */
  readonly low: number;
  readonly high: number;
}

/** The built parts of one skeleton, by id. */
export class Surfaces {
  readonly #kernel: Kernel;
  readonly #parts: ReadonlyMap<string, PlacedSolid>;
  readonly #faces = new Map<string, ReadonlyMap<string, readonly Triangle[]>>();
  readonly #some = new Map<string, readonly Triangle[]>();
  readonly #sections = new Map<string, SectionAxes | undefined>();

  constructor(kernel: Kernel, parts: readonly PlacedSolid[]) {
    this.#kernel = kernel;
    this.#parts = new Map(parts.map((p) => [p.id, p]));
  }

  has(id: string): boolean {
    return this.#parts.has(id);
  }

  /** Ids that begin with a text, such as all strips of a spar. */
  named(start: string): string[] {
    return [...this.#parts.keys()].filter((id) => id.startsWith(start));
  }

  /** Triangles of the named faces of a part. */
  #named(id: string, names: readonly string[]): readonly Triangle[] {
    const key = `${id}/${names.join('/')}`;
    const known = this.#some.get(key);
    if (known) return known;
    let all = this.#faces.get(id);
    if (all === undefined) {
      const part = this.#parts.get(id);
      all = part ? opened(this.#kernel.build(part.solid)) : new Map<string, readonly Triangle[]>();
      this.#faces.set(id, all);
    }
    const found = names.flatMap((name) => [...(all.get(name) ?? [])]);
    this.#some.set(key, found);
    return found;
  }

  /**
   * Distances from a point along a way (length one) to named faces; behind the point they are below nothing. Nearest
   * first.
   */
  along(from: Vec3, way: Vec3, id: string, names: readonly string[]): number[] {
    const hits: number[] = [];
    const still = way[1] === 0;
    for (const t of this.#named(id, names)) {
      if (still && (from[1] < t.low - 1e-6 || from[1] > t.high + 1e-6)) continue;
      const hit = alongRay(from, way, t.corners);
      if (hit !== undefined) hits.push(hit);
    }
    return hits.sort((p, q) => p - q);
  }

  /** Least and greatest of named faces along a way, from a point. */
  extent(
    from: Vec3,
    way: Vec3,
    id: string,
    names: readonly string[],
    keep: (middle: Vec3) => boolean = () => true,
  ): readonly [number, number] | undefined {
    let [least, most] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
    for (const {
      corners: [a, b, c],
    } of this.#named(id, names)) {
      if (!keep(scale(add(add(a, b), c), 1 / 3))) continue;
      for (const p of [a, b, c]) {
        const at = dot(p, way);
        least = Math.min(least, at);
        most = Math.max(most, at);
      }
    }
    const zero = dot(from, way);
    return least > most ? undefined : [least - zero, most - zero];
  }

  /** Where named faces cross the plane y: points in no order. */
  cut(id: string, names: readonly string[], y: number): Vec3[] {
    const points: Vec3[] = [];
    for (const {
      corners: [a, b, c],
      low,
      high,
    } of this.#named(id, names)) {
      if (y < low || y > high) continue;
      for (const [p, q] of [
        [a, b],
        [b, c],
        [c, a],
      ] as const) {
        if ((p[1] - y) * (q[1] - y) > 0 || p[1] === q[1]) continue;
        const s = (y - p[1]) / (q[1] - p[1]);
        points.push([p[0] + (q[0] - p[0]) * s, y, p[2] + (q[2] - p[2]) * s]);
      }
    }
    return points;
  }

  /** How a spar's section lies at y, from the flat outside and inside of its web; undefined where the spar is not. */
  section(spar: string, y: number): SectionAxes | undefined {
    const key = `${spar} ${y}`;
    if (!this.#sections.has(key)) this.#sections.set(key, this.#cutSection(spar, y));
    return this.#sections.get(key);
  }

  #cutSection(spar: string, y: number): SectionAxes | undefined {
    const faces = ['web', 'web inside'].map((name) => this.cut(spar, [name], y)).filter((points) => points.length > 1);
    const line = faces[0];
    if (line === undefined) return undefined;
    const [low, high] = ends(line, (p) => p[2]);
    const up = unit(subtract(high, low));
    const aft: Vec3 = [up[2], 0, -up[0]];
    const across = faces.map((points) => dot(subtract(points[0] ?? low, low), aft));
    return { middle: add(scale(add(low, high), 0.5), scale(aft, Math.min(...across))), up, aft };
  }
}

function opened({ positions, triangles, faces }: Mesh): Map<string, Triangle[]> {
  const point = (i: number): Vec3 => [positions[3 * i] ?? 0, positions[3 * i + 1] ?? 0, positions[3 * i + 2] ?? 0];
  const all = new Map<string, Triangle[]>();
  for (const { name, start, count } of faces) {
    const list = all.get(name) ?? [];
    all.set(name, list);
    for (let t = start; t < start + count; t++) {
      const corners = [
        point(triangles[3 * t] ?? 0),
        point(triangles[3 * t + 1] ?? 0),
        point(triangles[3 * t + 2] ?? 0),
      ] as const;
      const ys = corners.map((p) => p[1]);
      list.push({ corners, low: Math.min(...ys), high: Math.max(...ys) });
    }
  }
  return all;
}

/** The two points at the ends of a measure. */
function ends(points: readonly Vec3[], measure: (p: Vec3) => number): [Vec3, Vec3] {
  const sorted = [...points].sort((p, q) => measure(p) - measure(q));
  return [sorted[0] ?? [0, 0, 0], sorted[sorted.length - 1] ?? [0, 0, 0]];
}
