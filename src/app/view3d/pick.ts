import { type OrthographicCamera, Raycaster, Vector2, Vector3 } from 'three';
import type { Vec3 } from '../../geometry/vector.ts';
import type { Scene, SceneGap, SceneHole } from '../../scene/shown.ts';
import { LEAST_MARK } from './HoleMarks.tsx';
import { GAP_TRIANGLES } from './metal.ts';
import type { ShownPart } from './useSolids.ts';

/** What is under the pointer. */
export interface Hit {
  readonly part?: ShownPart;
  readonly face?: string;
  readonly gap?: SceneGap;
  readonly hole?: SceneHole;
  readonly at: Vec3;
}

interface Ray {
  readonly from: Vec3;
  readonly way: Vec3;
}

const boxes = new WeakMap<Float32Array, readonly [low: Vec3, high: Vec3]>();

/** The box round some positions; remembered with them. */
export function boxOf(positions: Float32Array): readonly [Vec3, Vec3] {
  let box = boxes.get(positions);
  if (!box) {
    const low: [number, number, number] = [Infinity, Infinity, Infinity];
    const high: [number, number, number] = [-Infinity, -Infinity, -Infinity];
    for (let i = 0; i < positions.length; i++) {
      const k = i % 3;
      low[k] = Math.min(low[k]!, positions[i]!);
      high[k] = Math.max(high[k]!, positions[i]!);
    }
    box = [low, high];
    boxes.set(positions, box);
  }
  return box;
}

/** Whether a ray passes through a box at all. */
function meets({ from, way }: Ray, [low, high]: readonly [Vec3, Vec3]): boolean {
  let [near, far] = [-Infinity, Infinity];
  for (const i of [0, 1, 2] as const) {
    if (Math.abs(way[i]) < 1e-12) {
      if (from[i] < low[i] || from[i] > high[i]) return false;
      continue;
    }
    const [a, b] = [(low[i] - from[i]) / way[i], (high[i] - from[i]) / way[i]];
    near = Math.max(near, Math.min(a, b));
    far = Math.min(far, Math.max(a, b));
  }
  return near <= far;
}

/** How far along the ray a triangle is met, from either side; undefined where it is missed. */
function triangleAt({ from, way }: Ray, a: Vec3, b: Vec3, c: Vec3): number | undefined {
  const [ux, uy, uz] = [b[0] - a[0], b[1] - a[1], b[2] - a[2]];
  const [vx, vy, vz] = [c[0] - a[0], c[1] - a[1], c[2] - a[2]];
  const [px, py, pz] = [way[1] * vz - way[2] * vy, way[2] * vx - way[0] * vz, way[0] * vy - way[1] * vx];
  const det = ux * px + uy * py + uz * pz;
  if (Math.abs(det) < 1e-12) return undefined;
  const [tx, ty, tz] = [from[0] - a[0], from[1] - a[1], from[2] - a[2]];
  const s = (tx * px + ty * py + tz * pz) / det;
  if (s < 0 || s > 1) return undefined;
  const [qx, qy, qz] = [ty * uz - tz * uy, tz * ux - tx * uz, tx * uy - ty * ux];
  const t = (way[0] * qx + way[1] * qy + way[2] * qz) / det;
  if (t < 0 || s + t > 1) return undefined;
  return (vx * qx + vy * qy + vz * qz) / det;
}

const raycaster = new Raycaster();
const spot = new Vector3();

export interface Pickable {
  readonly parts: readonly ShownPart[];
  readonly scene: Scene;
  readonly holes: boolean;
  /** What is cut away: nothing of it can be picked. */
  readonly gone: (y: number) => boolean;
  /** How far a part stands from its place. */
  readonly moved: (part: string) => Vec3 | undefined;
}

/** A gap counts as nearer than metal by this much, so that it can be picked inside the parts that it is between, mm. */
const GAP_FIRST = 40;

/** The nearest thing at a place on the canvas, px from its top left; holes first where they are marked, then gaps, then metal. */
export function hitAt(
  camera: OrthographicCamera,
  size: { width: number; height: number },
  x: number,
  y: number,
  shown: Pickable,
): Hit | undefined {
  if (shown.holes) {
    let nearest: SceneHole | undefined;
    let least = Infinity;
    for (const hole of shown.scene.holes) {
      if (shown.gone(hole.at[1])) continue;
      spot.set(...hole.at).project(camera);
      const away = Math.hypot((spot.x + 1) * 0.5 * size.width - x, (1 - spot.y) * 0.5 * size.height - y);
      if (away < Math.max(LEAST_MARK + 3, hole.radius * camera.zoom) && away < least) {
        least = away;
        nearest = hole;
      }
    }
    if (nearest) return { hole: nearest, at: nearest.at };
  }
  raycaster.setFromCamera(new Vector2((x / size.width) * 2 - 1, 1 - (y / size.height) * 2), camera);
  const { origin, direction } = raycaster.ray;
  const ray: Ray = { from: [origin.x, origin.y, origin.z], way: [direction.x, direction.y, direction.z] };
  let least = Infinity;
  let hit: Omit<Hit, 'at'> | undefined;
  const first = camera.near;
  for (const part of shown.parts) {
    const by = shown.moved(part.id);
    const own: Ray = by ? { ...ray, from: [ray.from[0] - by[0], ray.from[1] - by[1], ray.from[2] - by[2]] } : ray;
    if (part.kind === 'skin' || !meets(own, boxOf(part.mesh.positions))) continue;
    const { positions: p, triangles: t, faces } = part.mesh;
    const corner = (i: number): Vec3 => [p[3 * t[i]!]!, p[3 * t[i]! + 1]!, p[3 * t[i]! + 2]!];
    for (let i = 0; i < t.length; i += 3) {
      const d = triangleAt(own, corner(i), corner(i + 1), corner(i + 2));
      if (d === undefined || d < first - 1 || d >= least || shown.gone(ray.from[1] + ray.way[1] * d)) continue;
      least = d;
      const face = faces.find((f) => i / 3 >= f.start && i / 3 < f.start + f.count)?.name;
      hit = { part, ...(face === undefined ? {} : { face }) };
    }
  }
  for (const gap of shown.scene.gaps) {
    if (!gap.shown) continue;
    for (let i = 0; i < GAP_TRIANGLES.length; i += 3) {
      const [a, b, c] = [
        gap.corners[GAP_TRIANGLES[i]!]!,
        gap.corners[GAP_TRIANGLES[i + 1]!]!,
        gap.corners[GAP_TRIANGLES[i + 2]!]!,
      ];
      const d = triangleAt(ray, a, b, c);
      if (d === undefined || d < first - 1 || d - GAP_FIRST >= least || shown.gone(ray.from[1] + ray.way[1] * d))
        continue;
      least = d - GAP_FIRST;
      hit = { gap };
    }
  }
  if (!hit) return undefined;
  const d = hit.gap ? least + GAP_FIRST : least;
  return { ...hit, at: [ray.from[0] + ray.way[0] * d, ray.from[1] + ray.way[1] * d, ray.from[2] + ray.way[2] * d] };
}
