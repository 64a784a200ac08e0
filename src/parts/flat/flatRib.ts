import { distance2, type Vec2 } from '../../geometry/vector.ts';
import { drawnIn, type FlangeRun } from '../shapes/contour.ts';
import { type PressedShape, setback, type TabShape, trimmed } from '../shapes/pressed.ts';
import { bendAllowance, bendRelief, setbackOf } from './bend.ts';
import {
  type CornerRelief,
  type FlatBend,
  type FlatHole,
  type FlatPattern,
  type FlatPoint,
  type HoleMark,
  withoutArcs,
} from './flatPattern.ts';
import { counterclockwise, easedOrSharp } from './flatShape.ts';

/*
 * The flat blank and the forming block of a pressed rib, in the rib's own axes: x aft, z up (the pattern's y).
 *
 * The web keeps its place; each flange and tab is laid out from its bend tangent line: allowance, then its flat part.
 * Round a nose the flange is laid out square to the contour, so its edge comes out longer than it will be: it must be
 * shrunk or notched. Where a tab and a flange meet, the corner is drilled at the crossing of the inside bend tangent
 * lines (FAA-H-8083-31, chapter 4), larger where the spar's own bend has the flange cut back further.
 */

/** A relief hole holds the corner it eases with this to spare, mm. */
const SPARE = 0.3;

export interface RibFlatOptions {
  /** x from and to where both flanges are cut away for a spar that passes. */
  readonly passes?: readonly [from: number, to: number];
  readonly marks?: readonly HoleMark[];
}

interface Layout {
  readonly shape: PressedShape;
  readonly setback: number;
  readonly allowance: number;
  readonly corners: CornerRelief[];
}

/** A row of contour points with its rings: where the bend begins on the web, where it ends, the cut edge. */
interface Rings {
  readonly inner: readonly Vec2[];
  readonly outer: readonly Vec2[];
  readonly edge: readonly Vec2[];
}

/**
 * The flat blank of a rib. Example: a 262.5 rib with 14.0 tabs of 0.635 sheet bent at 1.9 is 262.5 + 2 (14 - 5.07 +
 * 3.43) long.
 */
export function ribFlat(shape: PressedShape, { passes, marks = [] }: RibFlatOptions = {}): FlatPattern {
  const { thickness, radius, flange } = shape;
  const bend = { radius, thickness };
  const layout: Layout = { shape, setback: setbackOf(bend), allowance: bendAllowance(bend), corners: [] };
  const runs = shape.runs.map((run) => trimmed(run, shape.tabs, ({ corner }) => setback(corner, thickness, radius)));
  const ring = (depth: number) => perRun(runs, drawnIn(runs, depth));
  const beyond = flange - layout.setback;
  const [inner, outer, edge] = [
    ring(layout.setback),
    ring(layout.setback - layout.allowance),
    ring(layout.setback - layout.allowance - beyond),
  ];
  const rings = runs.map((_, r): Rings => ({ inner: inner[r] ?? [], outer: outer[r] ?? [], edge: edge[r] ?? [] }));
  const outline = rings.flatMap((run, r) => [
    ...edgeOf(layout, run, passes),
    ...endOf(layout, run, rings[(r + 1) % rings.length] ?? run),
  ]);
  return {
    thickness,
    outline: counterclockwise(outline),
    holes: [
      ...shape.webHoles.map((h): FlatHole => ({ at: [h.x, h.z], diameter: h.diameter, kind: 'web' })),
      ...reliefs(layout, runs),
    ],
    corners: layout.corners,
    bends: [
      ...rings.flatMap((run, r) => flangeBends(layout, run, runs[r], passes)),
      ...shape.tabs.map((tab) => tabBend(layout, tab)),
    ],
    marks,
    grain: null,
  };
}

function perRun(runs: readonly FlangeRun[], points: readonly Vec2[]): Vec2[][] {
  let from = 0;
  return runs.map((run) => {
    const start = from;
    from += run.points.length;
    return points.slice(start, from);
  });
}

/** The cut edge of one flange run, with the notch for a spar that passes cut out down to its bend tangent line. */
function edgeOf({ shape, corners }: Layout, run: Rings, passes: RibFlatOptions['passes']): FlatPoint[] {
  if (passes === undefined) return withoutArcs(run.edge);
  const [low, high] = passes;
  const within = ([x]: Vec2): boolean => x > low && x < high;
  const path: FlatPoint[] = [];
  let opened: { out: Vec2; corner: Vec2 } | undefined;
  run.edge.forEach((p, i) => {
    if (!within(p)) path.push({ at: p });
    const q = run.edge[i + 1];
    if (q === undefined) return;
    for (const x of [low, high]
      .filter((v) => (v - p[0]) * (v - q[0]) < 0)
      .sort((u, v) => Math.abs(u - p[0]) - Math.abs(v - p[0]))) {
      const out = pointAt(p, q, x);
      const corner = tangentAt(run, i, x);
      if (opened === undefined) {
        opened = { out, corner };
        continue;
      }
      const between = run.inner.filter(
        (s, k) => within(s) && Math.abs(k - i) < run.inner.length / 3 && s[1] * corner[1] > 0,
      );
      const floor =
        between.length > 0
          ? between
          : [[(opened.corner[0] + corner[0]) / 2, (opened.corner[1] + corner[1]) / 2] as Vec2];
      const hole = (at: Vec2): CornerRelief => ({ at, diameter: bendRelief(shape.thickness) });
      const [first, last] = [hole(opened.corner), hole(corner)];
      corners.push(first, last);
      path.push({ at: opened.out }, ...easedOrSharp(opened.out, opened.corner, [corner[0], opened.corner[1]], first));
      path.push(
        ...withoutArcs(floor.filter((s) => [first, last].every((h) => distance2(s, h.at) > h.diameter / 2 + 0.1))),
      );
      path.push(...easedOrSharp([opened.corner[0], corner[1]], corner, out, last), { at: out });
      opened = undefined;
    }
  });
  return path;
}

const pointAt = (p: Vec2, q: Vec2, x: number): Vec2 => [x, p[1] + ((q[1] - p[1]) * (x - p[0])) / (q[0] - p[0])];

/** The bend tangent line's point at x, on the stretch of the run nearest to its i-th side. */
function tangentAt(run: Rings, i: number, x: number): Vec2 {
  const sides = run.inner
    .slice(1)
    .map((q, k) => ({ p: run.inner[k] ?? q, q, far: Math.abs(k - i) }))
    .filter(({ p, q }) => (x - p[0]) * (x - q[0]) <= 0 && p[0] !== q[0]);
  const side = sides.sort((a, b) => a.far - b.far)[0];
  return side ? pointAt(side.p, side.q, x) : [x, run.inner[i]?.[1] ?? 0];
}

/**
 * From the end of one flange run to the start of the next: round a tab where there is one, straight across where
 * there is none.
 */
function endOf({ shape, setback: back, allowance, corners }: Layout, run: Rings, next: Rings): FlatPoint[] {
  const [out, to] = [run.edge[run.edge.length - 1], next.edge[0]];
  const [from, on] = [run.inner[run.inner.length - 1], next.inner[0]];
  if (!out || !to || !from || !on) return [];
  const tab = shape.tabs.find((t) => Math.abs(cornerAt(t, shape) - from[0]) < 1e-6);
  if (tab === undefined) return [];
  const edge = tab.x - tab.inward * (tab.width - 2 * back + allowance);
  const span = setback(tab.corner, shape.thickness, shape.radius);
  const ends: [Vec2, Vec2] = [
    [from[0], from[1]],
    [on[0], on[1]],
  ];
  const zs = ends.map(([, z]) => (z > 0 ? tab.top - span : tab.bottom + span));
  const eased = ends.map(([x, z], i): CornerRelief => {
    const at: Vec2 = [tab.x + tab.inward * back, z];
    return { at, diameter: bendRelief(shape.thickness, distance2(at, [x, zs[i] ?? z]) + SPARE) };
  });
  const [first, last] = eased as [CornerRelief, CornerRelief];
  corners.push(first, last);
  const [z1, z2] = zs as [number, number];
  const round: FlatPoint[] = easedOrSharp(out, [from[0], z1], [edge, z1], first);
  return [...round, { at: [edge, z1] }, { at: [edge, z2] }, ...easedOrSharp([edge, z2], [on[0], z2], to, last)];
}

const cornerAt = (tab: TabShape, shape: PressedShape): number =>
  tab.x + tab.inward * setback(tab.corner, shape.thickness, shape.radius);

function flangeBends(
  { shape }: Layout,
  { inner, outer }: Rings,
  run: FlangeRun | undefined,
  passes: RibFlatOptions['passes'],
): FlatBend[] {
  const name = typeof run?.name === 'string' ? `${run.name} flange` : 'flange';
  const pieces = (line: readonly Vec2[]) => (passes ? outside(line, passes) : [[...line]]);
  const [a, b] = [pieces(inner), pieces(outer)];
  return a.map((piece, i): FlatBend => ({ name, inner: piece, outer: b[i] ?? piece, radius: shape.radius }));
}

/** A line less its stretches between two places along x. */
function outside(line: readonly Vec2[], [low, high]: readonly [number, number]): Vec2[][] {
  const pieces: Vec2[][] = [[]];
  line.forEach((p, i) => {
    const within = p[0] > low && p[0] < high;
    if (!within) pieces[pieces.length - 1]?.push(p);
    const q = line[i + 1];
    if (q === undefined) return;
    for (const x of [low, high]
      .filter((v) => (v - p[0]) * (v - q[0]) < 0)
      .sort((u, v) => Math.abs(u - p[0]) - Math.abs(v - p[0]))) {
      const goesIn = x === low ? q[0] > p[0] : q[0] < p[0];
      if (!goesIn) pieces.push([]);
      pieces[pieces.length - 1]?.push(pointAt(p, q, x));
    }
  });
  return pieces.filter((piece) => piece.length > 1);
}

function tabBend({ shape, setback: back, allowance }: Layout, tab: TabShape): FlatBend {
  const span = setback(tab.corner, shape.thickness, shape.radius);
  const at = (x: number): Vec2[] => [
    [x, tab.bottom + span],
    [x, tab.top - span],
  ];
  const x = tab.x + tab.inward * back;
  return { name: tab.name, inner: at(x), outer: at(x - tab.inward * allowance), radius: shape.radius };
}

/** Relief holes in the flange bends, on the middle of the bend in the flat. */
function reliefs({ shape, setback: back, allowance }: Layout, runs: readonly FlangeRun[]): FlatHole[] {
  const depth = back - allowance / 2;
  return shape.reliefs.map((relief): FlatHole => {
    const [nx, nz] = inwardAt(
      runs.flatMap((run) => run.points),
      relief.x,
      relief.z,
    );
    return { at: [relief.x + nx * depth, relief.z + nz * depth], diameter: relief.diameter, kind: 'relief' };
  });
}

/** Square to the contour at its point (x, z), into the rib. */
function inwardAt(points: readonly Vec2[], x: number, z: number): Vec2 {
  let best: { off: number; way: Vec2 } = { off: Infinity, way: [0, -Math.sign(z)] };
  points.forEach((p, i) => {
    const q = points[i + 1];
    if (q === undefined || p[0] === q[0] || (x - p[0]) * (x - q[0]) > 0) return;
    const off = Math.abs(pointAt(p, q, x)[1] - z);
    const long = distance2(p, q);
    const [nx, nz] = [-(q[1] - p[1]) / long, (q[0] - p[0]) / long];
    const into = nz * z > 0 ? -1 : 1;
    if (off < best.off) best = { off, way: [into * nx, into * nz] };
  });
  return best.way;
}

/**
 * Where the hole of a row comes in the flat of a tab: `row` is from the web's flat face along the tab, `up` from the
 * chord line. Example: row 7.2 on a tab at x = 0 of 0.635 sheet bent at 1.9 lies 3.43 - 2.535 + 7.2 - 2.535 = 5.56
 * ahead of the face.
 */
export function tabPlace(
  { x, inward }: Pick<TabShape, 'x' | 'inward'>,
  bend: { readonly radius: number; readonly thickness: number },
  { row, up }: { readonly row: number; readonly up: number },
): Vec2 {
  return [x - inward * (row - 2 * setbackOf(bend) + bendAllowance(bend)), up];
}

/**
 * The forming block: the inside of the flanges and tabs, its edge rounded to the inside radius where metal goes round
 * it.
 */
export function blockOutline(shape: PressedShape): Vec2[] {
  const t = shape.thickness;
  const runs = shape.runs.map((run) => trimmed(run, shape.tabs, () => t));
  return drawnIn(runs, t);
}

/** How much longer the cut edge of a curved flange is than the contour it must follow, mm: what has to be shrunk. */
export function shrinkOf(shape: PressedShape): number {
  const runs = shape.runs.map((run) =>
    trimmed(run, shape.tabs, ({ corner }) => setback(corner, shape.thickness, shape.radius)),
  );
  const bend = { radius: shape.radius, thickness: shape.thickness };
  const out = drawnIn(runs, 2 * setbackOf(bend) - bendAllowance(bend) - shape.flange);
  const edges = perRun(runs, out);
  return Math.max(0, ...runs.map((run, r) => long(edges[r] ?? []) - long(run.points)));
}

const long = (line: readonly Vec2[]): number =>
  line.reduce((sum, p, i) => sum + (i === 0 ? 0 : distance2(line[i - 1] ?? p, p)), 0);
