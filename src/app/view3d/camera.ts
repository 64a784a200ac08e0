import type { OrthographicCamera, Vector3 } from 'three';
import { dot, type Vec3 } from '../../geometry/vector.ts';

export type ViewName = 'bench' | 'plan' | 'front' | 'along';

/**
 * Where the camera looks from: turned about z from the builder's place behind the trailing edge, tipped down from
 * straight above.
 */
export interface Look {
  /** 0 behind the trailing edge, negative from the left, radians. */
  readonly turn: number;
  /** 0 straight down, π/2 level, radians. */
  readonly tip: number;
}

/** A whole placing of the camera. */
export interface Placing extends Look {
  readonly target: Vec3;
  /** Screen pixels per mm. */
  readonly zoom: number;
}

export interface CanvasSize {
  readonly width: number;
  readonly height: number;
}

/** Room left at the edges of the canvas, px: labels stand mostly above. */
const MARGIN = { left: 32, right: 32, top: 60, bottom: 36 };
const REACH = 6000;
const LEAST_ROOM = 40;

/** Screen right, screen up and towards the viewer, in the wing frame. */
function axesOf({ turn, tip }: Look): { right: Vec3; up: Vec3; out: Vec3 } {
  const [c, s, ct, st] = [Math.cos(turn), Math.sin(turn), Math.cos(tip), Math.sin(tip)];
  return { right: [-s, c, 0], up: [-ct * c, -ct * s, st], out: [st * c, st * s, ct] };
}

/** The placing that shows all the points as large as the canvas allows. */
export function fitted(points: readonly Vec3[], look: Look, size: CanvasSize): Placing {
  const { right, up, out } = axesOf(look);
  const span = (axis: Vec3): [number, number] => {
    const along = points.map((p) => dot(axis, p));
    return [Math.min(...along), Math.max(...along)];
  };
  const [[r0, r1], [u0, u1], [o0, o1]] = [span(right), span(up), span(out)];
  const wide = Math.max(size.width - MARGIN.left - MARGIN.right, LEAST_ROOM);
  const tall = Math.max(size.height - MARGIN.top - MARGIN.bottom, LEAST_ROOM);
  const zoom = Math.min(wide / Math.max(r1 - r0, 1), tall / Math.max(u1 - u0, 1));
  const r = (r0 + r1) / 2 - (MARGIN.left - MARGIN.right) / 2 / zoom;
  const u = (u0 + u1) / 2 + (MARGIN.top - MARGIN.bottom) / 2 / zoom;
  const o = (o0 + o1) / 2;
  return {
    ...look,
    zoom,
    target: [
      right[0] * r + up[0] * u + out[0] * o,
      right[1] * r + up[1] * u + out[1] * o,
      right[2] * r + up[2] * u + out[2] * o,
    ],
  };
}

/** Three-quarter looks from the builder's place, from the left: the wider the canvas, the squarer to the span. */
export function benchLook(points: readonly Vec3[], size: CanvasSize): Look {
  const tip = (57 * Math.PI) / 180;
  let best: Look = { turn: (-24 * Math.PI) / 180, tip };
  let largest = 0;
  for (let degrees = 24; degrees <= 66; degrees += 2) {
    const look = { turn: (-degrees * Math.PI) / 180, tip };
    // A quarter turn more is only taken for a picture that is larger by a good deal.
    const { zoom } = fitted(points, look, size);
    const worth = zoom * (1 - 0.004 * (degrees - 24));
    if (worth > largest) {
      largest = worth;
      best = look;
    }
  }
  return best;
}

export const PLAN: Look = { turn: 0, tip: 0 };
export const FRONT: Look = { turn: 0, tip: Math.PI / 2 };

/** Looking along the span, the way `way` (+1 to the right). */
export const alongLook = (way: 1 | -1): Look => ({ turn: (-way * Math.PI) / 2, tip: Math.PI / 2 });

/** Sets the camera. */
export function place(camera: OrthographicCamera, placing: Placing, target: Vector3): void {
  const { out } = axesOf({ ...placing, tip: Math.max(placing.tip, 1e-5) });
  target.set(...placing.target);
  camera.position.set(
    placing.target[0] + out[0] * REACH,
    placing.target[1] + out[1] * REACH,
    placing.target[2] + out[2] * REACH,
  );
  camera.zoom = placing.zoom;
  camera.near = 1;
  camera.far = 3 * REACH;
  camera.up.set(0, 0, 1);
  camera.lookAt(target);
  camera.updateProjectionMatrix();
  camera.updateMatrixWorld();
}

/** Where the camera is now. */
export function placingNow(camera: OrthographicCamera, target: Vector3): Placing {
  const out = camera.position.clone().sub(target).normalize();
  const flat = Math.hypot(out.x, out.y);
  return {
    turn: flat < 1e-9 ? 0 : Math.atan2(out.y, out.x),
    tip: Math.acos(Math.min(Math.max(out.z, -1), 1)),
    target: [target.x, target.y, target.z],
    zoom: camera.zoom,
  };
}

/** Part of the way from one placing to another; turns take the short way round, zoom goes by ratio. */
export function between(a: Placing, b: Placing, share: number): Placing {
  if (share >= 1) return b;
  const s = share * share * (3 - 2 * share);
  const mix = (p: number, q: number): number => p + (q - p) * s;
  const turn = Math.atan2(Math.sin(b.turn - a.turn), Math.cos(b.turn - a.turn));
  // Looking straight down, the turn is only which way the picture hangs.
  return {
    turn: a.turn + turn * s,
    tip: mix(a.tip, b.tip),
    zoom: a.zoom * (b.zoom / a.zoom) ** s,
    target: [mix(a.target[0], b.target[0]), mix(a.target[1], b.target[1]), mix(a.target[2], b.target[2])],
  };
}
