import { type OrthographicCamera, Raycaster, Vector2 } from 'three';
import type { Bounds } from '../../geometry/boxes.ts';
import { add, cross, dot, scale, subtract, type Vec3 } from '../../geometry/vector.ts';
import type { Scene, SceneGap, SceneHole } from '../../scene/shown.ts';
import { type Eye, onScreen, type Spot } from './onScreen.ts';
import { GAP_TRIANGLES } from './picture/gapShapes.ts';
import { LEAST_MARK } from './picture/HoleMarks.tsx';
import { boxOf, triangleOf } from './places.ts';
import type { ShownPart } from './useSolids.ts';

/** What is under the pointer. */
export interface Hit {
  readonly part?: ShownPart;
  readonly face?: string;
  readonly gap?: SceneGap;
  readonly hole?: SceneHole;
  readonly at: Vec3;
}

export interface Pickable {
  readonly parts: readonly ShownPart[];
  readonly scene: Scene;
  readonly holes: boolean;
  /** What is cut away: nothing of it can be picked. */
  readonly gone: (y: number) => boolean;
  /** How far a part stands from its place. */
  readonly moved: (part: string) => Vec3 | undefined;
}

interface Ray {
  readonly from: Vec3;
  readonly way: Vec3;
}

/** What a ray meets, and how far along it. */
interface Met {
  readonly far: number;
  readonly what: Omit<Hit, 'at'>;
}

/** A gap counts as nearer than metal by this much, so that it can be picked inside the parts that it is between, mm. */
const GAP_FIRST = 40;
/** Marks can be picked by this much round them, px. */
const ROUND_MARK = 3;

/** Whether a ray passes through a box at all. */
function meets({ from, way }: Ray, { low, high }: Bounds): boolean {
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
function triangleAt({ from, way }: Ray, [a, b, c]: readonly [Vec3, Vec3, Vec3]): number | undefined {
  const [u, v] = [subtract(b, a), subtract(c, a)];
  const p = cross(way, v);
  const det = dot(u, p);
  if (Math.abs(det) < 1e-12) return undefined;
  const t = subtract(from, a);
  const s = dot(t, p) / det;
  if (s < 0 || s > 1) return undefined;
  const q = cross(t, u);
  const r = dot(way, q) / det;
  return r < 0 || s + r > 1 ? undefined : dot(v, q) / det;
}

/** The hole whose mark is nearest a spot of the canvas, where one is near enough. */
function holeAt(eye: Eye, [x, y]: Spot, { scene, gone }: Pickable): SceneHole | undefined {
  let nearest: SceneHole | undefined;
  let least = Infinity;
  for (const hole of scene.holes) {
    if (gone(hole.at[1])) continue;
    const [right, down] = onScreen(eye, hole.at);
    const away = Math.hypot(right - x, down - y);
    const reach = Math.max(LEAST_MARK + ROUND_MARK, hole.radius * eye.camera.zoom);
    if (away >= reach || away >= least) continue;
    least = away;
    nearest = hole;
  }
  return nearest;
}

/** The nearest of some triangles that a ray meets where it can be seen: how far, and which. */
function firstOf(
  ray: Ray,
  triangles: Iterable<readonly [Vec3, Vec3, Vec3]>,
  seen: (far: number) => boolean,
): { readonly far: number; readonly t: number } | undefined {
  let nearest: { far: number; t: number } | undefined;
  let t = 0;
  for (const triangle of triangles) {
    const far = triangleAt(ray, triangle);
    if (far !== undefined && far < (nearest?.far ?? Infinity) && seen(far)) nearest = { far, t };
    t++;
  }
  return nearest;
}

function* trianglesOf(part: ShownPart): Iterable<readonly [Vec3, Vec3, Vec3]> {
  for (let t = 0; t < part.mesh.triangles.length / 3; t++) yield triangleOf(part.mesh, t);
}

/** Where a ray meets a part as it stands, and on which of its faces. */
function partAt(part: ShownPart, ray: Ray, by: Vec3 | undefined, seen: (far: number) => boolean): Met | undefined {
  const own: Ray = by ? { ...ray, from: subtract(ray.from, by) } : ray;
  if (part.kind === 'skin' || !meets(own, boxOf(part.mesh))) return undefined;
  const first = firstOf(own, trianglesOf(part), seen);
  if (!first) return undefined;
  const face = part.mesh.faces.find((f) => first.t >= f.start && first.t < f.start + f.count)?.name;
  return { far: first.far, what: { part, ...(face === undefined ? {} : { face }) } };
}

function gapAt(gap: SceneGap, ray: Ray, seen: (far: number) => boolean): Met | undefined {
  if (!gap.shown) return undefined;
  const sides = GAP_TRIANGLES.map(([a, b, c]) => [gap.corners[a], gap.corners[b], gap.corners[c]] as const);
  const first = firstOf(ray, sides, seen);
  return first && { far: first.far, what: { gap } };
}

const raycaster = new Raycaster();

/** The ray that goes into the picture at a spot of the canvas. */
function rayAt(camera: OrthographicCamera, { width, height }: Eye['size'], [x, y]: Spot): Ray {
  raycaster.setFromCamera(new Vector2((x / width) * 2 - 1, 1 - (y / height) * 2), camera);
  const { origin, direction } = raycaster.ray;
  return { from: [origin.x, origin.y, origin.z], way: [direction.x, direction.y, direction.z] };
}

/** The nearest thing at a spot of the canvas; holes first where they are marked, then gaps, then metal. */
export function hitAt(eye: Eye, at: Spot, shown: Pickable): Hit | undefined {
  const hole = shown.holes ? holeAt(eye, at, shown) : undefined;
  if (hole) return { hole, at: hole.at };
  const ray = rayAt(eye.camera, eye.size, at);
  const along = (far: number): Vec3 => add(ray.from, scale(ray.way, far));
  const seen = (far: number): boolean => far >= eye.camera.near - 1 && !shown.gone(along(far)[1]);
  const parts = shown.parts.map((part) => partAt(part, ray, shown.moved(part.id), seen));
  const gaps = shown.scene.gaps.map((gap) => gapAt(gap, ray, seen));
  const rank = ({ far, what }: Met): number => (what.gap ? far - GAP_FIRST : far);
  const met = [...parts, ...gaps].filter((m) => m !== undefined);
  if (met.length === 0) return undefined;
  const { far, what } = met.reduce((a, b) => (rank(b) < rank(a) ? b : a));
  return { ...what, at: along(far) };
}
