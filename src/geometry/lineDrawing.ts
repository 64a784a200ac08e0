import { NEAR } from '../units/near.ts';
import type { Mesh } from './mesh.ts';
import { loopsOf, simplified } from './pixelLoops.ts';
import { topologyOf } from './topology.ts';
import { dot, type Vec2, type Vec3 } from './vector.ts';

/*
 * A line drawing of solids as the eye sees them from far away: crisp edges and outlines, what is hidden left out.
 *
 * Every face turned to the eye is laid into a grid of depths; each edge is then walked grid step by grid step and
 * kept where nothing nearer covers it. An edge between two faces turned away can not be seen at all, so for one
 * convex solid the answer is exact; elsewhere it is good to about one grid step. Points are in the picture's plane:
 * mm to the right and up of the sight's own zero, not yet scaled to paper.
 */

/** How the picture is looked at, in the wing frame: unit directions to the right, up, and out towards the eye. */
export interface Sight {
  readonly right: Vec3;
  readonly up: Vec3;
  readonly out: Vec3;
}

/** What is looked at: the part of the plane that is drawn, and how fine the grid is, mm a step. */
export interface Pane {
  readonly left: number;
  readonly right: number;
  readonly bottom: number;
  readonly top: number;
  readonly step: number;
}

/** A solid in the picture. Only `chosen` ones are drawn dark. */
export interface Body {
  readonly mesh: Pick<Mesh, 'positions' | 'triangles'>;
  /** Moved from its place by so much, mm in the wing frame. */
  readonly shift?: Vec3;
  readonly chosen?: boolean;
}

export interface LineDrawing {
  /** Runs of visible edge of the chosen bodies, and of the rest. */
  readonly chosen: readonly (readonly Vec2[])[];
  readonly rest: readonly (readonly Vec2[])[];
  /** What is seen of the chosen bodies and of all the others, as closed loops; holes wind the other way. */
  readonly chosenShape: readonly (readonly Vec2[])[];
  readonly restShape: readonly (readonly Vec2[])[];
}

/** Right, up and out of an eye turned about z from behind the trailing edge and tipped from straight above, radians. */
export function sightFrom(turn: number, tip: number): Sight {
  const [c, s, ct, st] = [Math.cos(turn), Math.sin(turn), Math.cos(tip), Math.sin(tip)];
  return { right: [-s, c, 0], up: [-ct * c, -ct * s, st], out: [st * c, st * s, ct] };
}

/** Where a point of the wing is in the picture's plane. */
export const seenAt = (sight: Sight, p: Vec3): Vec2 => [dot(sight.right, p), dot(sight.up, p)];

/** A body's corners in the picture, grid steps from its lower left corner, and towards the eye, mm. */
interface Projected {
  readonly body: Body;
  readonly u: Float64Array;
  readonly v: Float64Array;
  readonly w: Float64Array;
  /** Whether each triangle is turned to the eye. */
  readonly turned: Uint8Array;
}

interface Grid {
  readonly width: number;
  readonly height: number;
  readonly depth: Float32Array;
  /** Which body is seen, counted from 1; 0 where none is. */
  readonly owner: Uint16Array;
  /**
   * Which face is seen, by its place in `planes` (three numbers each: depth where u and v are 0, and its gain a step
   * of u and of v); −1 where none is.
   */
  readonly face: Int32Array;
  readonly planes: Float64Array;
}

/** Least of a triangle's height over its longest side, so that a sliver's side is not taken from rounding. */
const FLAT = NEAR;

function projected(body: Body, sight: Sight, pane: Pane): Projected {
  const { positions, triangles } = body.mesh;
  const many = positions.length / 3;
  const [u, v, w] = [new Float64Array(many), new Float64Array(many), new Float64Array(many)];
  const [sx, sy, sz] = body.shift ?? [0, 0, 0];
  const { right, up, out } = sight;
  const k = 1 / pane.step;
  for (let i = 0; i < many; i++) {
    const x = positions[3 * i]! + sx;
    const y = positions[3 * i + 1]! + sy;
    const z = positions[3 * i + 2]! + sz;
    u[i] = (right[0] * x + right[1] * y + right[2] * z - pane.left) * k;
    v[i] = (up[0] * x + up[1] * y + up[2] * z - pane.bottom) * k;
    w[i] = out[0] * x + out[1] * y + out[2] * z;
  }
  const turned = new Uint8Array(triangles.length / 3);
  for (let t = 0; t < turned.length; t++) {
    const a = triangles[3 * t]!;
    const b = triangles[3 * t + 1]!;
    const c = triangles[3 * t + 2]!;
    turned[t] = (u[b]! - u[a]!) * (v[c]! - v[a]!) - (v[b]! - v[a]!) * (u[c]! - u[a]!) > FLAT ? 1 : 0;
  }
  return { body, u, v, w, turned };
}

/** Lays every face turned to the eye into the grid; the nearest stays. */
function laid(bodies: readonly Projected[], { width, height }: Pick<Grid, 'width' | 'height'>): Grid {
  const depth = new Float32Array(width * height).fill(Number.NEGATIVE_INFINITY);
  const owner = new Uint16Array(width * height);
  const face = new Int32Array(width * height).fill(-1);
  const planes = new Float64Array(3 * bodies.reduce((sum, b) => sum + b.turned.length, 0));
  let at3 = -3;
  bodies.forEach(
    (
      {
        body: {
          mesh: { triangles },
        },
        u,
        v,
        w,
        turned,
      },
      index,
    ) => {
      for (let t = 0; t < turned.length; t++) {
        at3 += 3;
        if (turned[t] === 0) continue;
        const a = triangles[3 * t]!;
        const b = triangles[3 * t + 1]!;
        const c = triangles[3 * t + 2]!;
        const ua = u[a]!;
        const va = v[a]!;
        const wa = w[a]!;
        const ub = u[b]! - ua;
        const vb = v[b]! - va;
        const uc = u[c]! - ua;
        const vc = v[c]! - va;
        const area = ub * vc - vb * uc;
        const du = ((w[b]! - wa) * vc - (w[c]! - wa) * vb) / area;
        const dv = ((w[c]! - wa) * ub - (w[b]! - wa) * uc) / area;
        planes[at3] = wa - du * ua - dv * va;
        planes[at3 + 1] = du;
        planes[at3 + 2] = dv;
        const low = Math.max(0, Math.ceil(Math.min(va, va + vb, va + vc) - 0.5));
        const high = Math.min(height - 1, Math.floor(Math.max(va, va + vb, va + vc) - 0.5));
        for (let row = low; row <= high; row++) {
          const y = row + 0.5;
          // Where the row's middle line goes in and out of the triangle.
          let from = Number.POSITIVE_INFINITY;
          let to = Number.NEGATIVE_INFINITY;
          for (let e = 0; e < 3; e++) {
            const p = triangles[3 * t + e]!;
            const q = triangles[3 * t + (e === 2 ? 0 : e + 1)]!;
            const y0 = v[p]!;
            const y1 = v[q]!;
            if (y0 === y1 || (y0 < y && y1 < y) || (y0 > y && y1 > y)) continue;
            const x = u[p]! + ((u[q]! - u[p]!) * (y - y0)) / (y1 - y0);
            if (x < from) from = x;
            if (x > to) to = x;
          }
          const first = Math.max(0, Math.ceil(from - 0.5));
          const last = Math.min(width - 1, Math.floor(to - 0.5));
          let at = row * width + first;
          let near = wa + du * (first + 0.5 - ua) + dv * (y - va);
          for (let col = first; col <= last; col++, at++, near += du) {
            if (near <= depth[at]!) continue;
            depth[at] = near;
            owner[at] = index + 1;
            face[at] = at3;
          }
        }
      }
    },
  );
  return { width, height, depth, owner, face, planes };
}

/** How much nearer a face must be to hide an edge, mm: sheets touch, and edges lie on the faces that meet in them. */
const SLACK = 0.05;

/**
 * Whether a point on an edge is seen: in one of the four grid cells round it no face, drawn on to the point, is
 * nearer.
 */
function isSeen(grid: Grid, u: number, v: number, w: number): boolean {
  const col = Math.floor(u - 0.5);
  const row = Math.floor(v - 0.5);
  for (let k = 0; k < 4; k++) {
    const x = col + (k & 1);
    const y = row + (k >> 1);
    if (x < 0 || y < 0 || x >= grid.width || y >= grid.height) continue;
    const face = grid.face[y * grid.width + x]!;
    if (face < 0 || grid.planes[face]! + grid.planes[face + 1]! * u + grid.planes[face + 2]! * v <= w + SLACK)
      return true;
  }
  return false;
}

/** Shortest run of an edge that is drawn, grid steps: less is a hidden edge showing its tip. */
const LEAST_RUN = 1.5;

type Run = readonly [number, number, number, number];

/** The visible runs of a body's crisp edges and outlines, grid steps. */
function runsOf(p: Projected, grid: Grid): Run[] {
  const runs: Run[] = [];
  const { u, v, w } = p;
  const { edges, crisp } = topologyOf(p.body.mesh);
  for (let e = 0; e < crisp.length; e++) {
    const right = edges[4 * e + 3]!;
    if (right === edges[4 * e + 2]!) continue;
    const seenLeft = p.turned[edges[4 * e + 2]!] === 1;
    const seenRight = right >= 0 && p.turned[right] === 1;
    if (!seenLeft && !seenRight) continue;
    if (!crisp[e] && seenLeft === seenRight) continue;
    const a = edges[4 * e]!;
    const b = edges[4 * e + 1]!;
    const du = u[b]! - u[a]!;
    const dv = v[b]! - v[a]!;
    const dw = w[b]! - w[a]!;
    const long = Math.hypot(du, dv);
    if (long < 1e-6) continue;
    if (
      Math.max(u[a]!, u[b]!) < 0 ||
      Math.max(v[a]!, v[b]!) < 0 ||
      Math.min(u[a]!, u[b]!) > grid.width ||
      Math.min(v[a]!, v[b]!) > grid.height
    )
      continue;
    const n = Math.min(Math.max(Math.ceil(long), 1), 4 * (grid.width + grid.height));
    let start = -1;
    for (let i = 0; i <= n; i++) {
      const s = (i + 0.5) / n;
      const seen = i < n && isSeen(grid, u[a]! + s * du, v[a]! + s * dv, w[a]! + s * dw);
      if (seen && start < 0) start = i;
      if (seen || start < 0) continue;
      const whole = start === 0 && i === n;
      if (whole || ((i - start) * long) / n >= LEAST_RUN) {
        const [s0, s1] = [start / n, i / n];
        runs.push([u[a]! + s0 * du, v[a]! + s0 * dv, u[a]! + s1 * du, v[a]! + s1 * dv]);
      }
      start = -1;
    }
  }
  return runs;
}

/** Runs joined end to end into lines where two of them meet. */
function joined(runs: readonly Run[]): Vec2[][] {
  const key = (x: number, y: number): number => Math.round(x * 64) * 4194304 + Math.round(y * 64);
  const ends = new Map<number, number[]>();
  runs.forEach(([x0, y0, x1, y1], i) => {
    for (const k of [key(x0, y0), key(x1, y1)]) {
      const list = ends.get(k);
      if (list) list.push(i);
      else ends.set(k, [i]);
    }
  });
  const used = new Uint8Array(runs.length);
  /** Goes on from a point along runs not yet used, as long as just two meet. */
  const follow = (line: Vec2[]): void => {
    for (;;) {
      const [x, y] = line[line.length - 1]!;
      const k = key(x, y);
      const meeting = ends.get(k) ?? [];
      if (meeting.length !== 2) return;
      const next = meeting.find((i) => used[i] === 0);
      if (next === undefined) return;
      used[next] = 1;
      const [x0, y0, x1, y1] = runs[next]!;
      line.push(key(x0, y0) === k ? [x1, y1] : [x0, y0]);
    }
  };
  return runs.flatMap(([x0, y0, x1, y1], i): Vec2[][] => {
    if (used[i] === 1) return [];
    used[i] = 1;
    const line: Vec2[] = [
      [x0, y0],
      [x1, y1],
    ];
    follow(line);
    line.reverse();
    follow(line);
    return [line];
  });
}

/** How far a line may be moved to save points, and how large a thing must be to be drawn, grid steps. */
const MOVE = 0.4;
const LEAST_SIZE = 4;
/** As MOVE, for the borders of shapes: takes the grid's steps out. */
const SMOOTH = 0.8;

function large(line: readonly Vec2[]): boolean {
  const [us, vs] = [line.map((p) => p[0]), line.map((p) => p[1])];
  return Math.max(Math.max(...us) - Math.min(...us), Math.max(...vs) - Math.min(...vs)) >= LEAST_SIZE;
}

/** The drawing of bodies looked at through a pane. */
export function lineDrawing(bodies: readonly Body[], sight: Sight, pane: Pane): LineDrawing {
  const width = Math.max(1, Math.ceil((pane.right - pane.left) / pane.step));
  const height = Math.max(1, Math.ceil((pane.top - pane.bottom) / pane.step));
  const all = bodies.map((b) => projected(b, sight, pane));
  const grid = laid(all, { width, height });
  const plane = ([u, v]: Vec2): Vec2 => [pane.left + u * pane.step, pane.bottom + v * pane.step];
  const lines = (chosen: boolean): Vec2[][] =>
    all
      .flatMap((p) => ((p.body.chosen ?? false) === chosen ? joined(runsOf(p, grid)) : []))
      .filter(large)
      .map((line) => simplified(line, MOVE).map(plane));
  const shape = (chosen: boolean): Vec2[][] =>
    loopsOf(grid.owner, width, [false, ...bodies.map((b) => (b.chosen ?? false) === chosen)])
      .filter(large)
      .map((loop) => simplified(loop, SMOOTH).map(plane));
  return { chosen: lines(true), rest: lines(false), chosenShape: shape(true), restShape: shape(false) };
}

/** The least pane that shows all points with a margin, mm. */
export function paneRound(points: readonly Vec2[], margin: number, step: number): Pane {
  let [left, right, bottom, top] = [
    Number.POSITIVE_INFINITY,
    Number.NEGATIVE_INFINITY,
    Number.POSITIVE_INFINITY,
    Number.NEGATIVE_INFINITY,
  ];
  for (const [x, y] of points) {
    left = Math.min(left, x);
    right = Math.max(right, x);
    bottom = Math.min(bottom, y);
    top = Math.max(top, y);
  }
  return { left: left - margin, right: right + margin, bottom: bottom - margin, top: top + margin, step };
}
