import { arcPoints } from '../../geometry/outline.ts';
import { cylinder, loft, mirroredSolid, type Solid, union } from '../../geometry/solids.ts';
import type { Vec2, Vec3 } from '../../geometry/vector.ts';
import { NEAR } from '../../units/near.ts';
import { drawnIn, type FlangeRun } from './contour.ts';
import { drilled, type HoleShape } from './drilled.ts';
import { type FluteShape, fluted } from './flutes.ts';

/*
 * A rib as it comes off the bench: a flat web with flanges turned along its contour, end flanges (tabs) bent where it
 * meets a spar, relief holes at the corners and lightening holes in the web. Main, nose and tip ribs are all of this
 * form.
 *
 * Rib's own axes, mm: x aft, z up, y = 0 the flat outer face of the web; flanges turn to +y, or to −y when `turns` is
 * −1. The metal of the web lies on the flange side: y in [0, thickness] × turns. Flange and tab widths are measured
 * from the flat face to the free edge. Flanges are square to the web unless `slants` bevels them; contour heights are
 * those at the flat face. Assumed: the same inside radius on every bend; where a contour curves tighter than a bend
 * can follow, the bend is drawn tighter there rather than folded over itself.
 */

/** An end of the rib standing against a web. */
export interface TabShape {
  readonly name: string;
  /** The tab's face. */
  readonly x: number;
  /** Which way the rib goes from the face: +1 aft (a front end), −1 forward (a rear end or a tail). */
  readonly inward: 1 | -1;
  /** Contour at the face, over the flanges. */
  readonly top: number;
  readonly bottom: number;
  readonly width: number;
  /**
   * How far flanges are cut back from the face, and the tab from the contour, to stand clear of the spar's bends:
   * its inside radius at least. Never less than the rib's own outside radius.
   */
  readonly corner: number;
  /** How the web it stands against lies to the rib; a tab square to the rib unless told. */
  readonly attitude?: Attitude;
}

/**
 * A web's face seen from the rib, through the heel of the tab: at z up and y along the flanges (+y) it stands further
 * aft by tilt·z + (bevel + twist·z)·y, mm. Example: a web that goes 0.03 aft for each mm along the flanges has bevel
 * 0.03.
 */
export interface Attitude {
  readonly tilt: number;
  readonly bevel: number;
  readonly twist: number;
}

/**
 * How the flanges lie at one place: `top` and `bottom` mm that each is higher for each mm along the flanges (+y), and
 * `open` mm that each stands off square at its edge, away from the rib (a flange not bent far enough). The place is
 * at `x` at the flat face and goes `run` further aft for each mm along the flanges, as the web beside it does.
 */
export interface Slant {
  readonly x: number;
  readonly run: number;
  readonly top: number;
  readonly bottom: number;
  readonly open: number;
}

export interface ReliefShape {
  readonly x: number;
  /** Contour height there, top or bottom; the hole goes square through the middle of the flange bend. */
  readonly z: number;
  readonly side: 'top' | 'bottom';
  readonly diameter: number;
}

export interface WebHole {
  readonly x: number;
  readonly z: number;
  readonly diameter: number;
}

export interface PressedShape {
  readonly thickness: number;
  /** Inside bend radius. */
  readonly radius: number;
  readonly flange: number;
  readonly turns: 1 | -1;
  readonly runs: readonly FlangeRun[];
  readonly tabs: readonly TabShape[];
  /** By rising x, straight between and level beyond; none for flanges square to the web. */
  readonly slants?: readonly Slant[];
  /** Within this of z = 0 top and bottom slants blend into one another, as round a nose; beyond it each is its own. */
  readonly blend?: number;
  readonly reliefs: readonly ReliefShape[];
  readonly webHoles: readonly WebHole[];
  /** Holes in the rib's own axes, of any direction; cut after the flanges are turned. */
  readonly holes: readonly HoleShape[];
  /** More to take away, in the rib's axes with flanges to +y. */
  readonly less?: readonly Solid[];
  readonly flutes?: FluteShape;
  readonly facets?: number;
}

/** The flanges' lie at x, y along the flanges, between the places where it is told. */
function slantAt(slants: readonly Slant[], x: number, y: number): Pick<Slant, 'top' | 'bottom' | 'open'> {
  const at = (s: Slant): number => s.x + s.run * y;
  const after = slants.findIndex((s) => at(s) >= x);
  const b = slants[after < 0 ? slants.length - 1 : after];
  const a = after > 0 ? slants[after - 1] : b;
  if (a === undefined || b === undefined) return { top: 0, bottom: 0, open: 0 };
  const s = a === b || after < 0 ? 1 : (x - at(a)) / (at(b) - at(a));
  const mix = (p: number, q: number): number => p + (q - p) * s;
  return { top: mix(a.top, b.top), bottom: mix(a.bottom, b.bottom), open: mix(a.open, b.open) };
}

/** Past the face of what is cut or joined, so that no cut face lies on a face of the part. */
const PAST = 1;
const QUARTER = Math.PI / 2;

export function pressedSolid(shape: PressedShape): Solid {
  const { thickness: t, radius, turns, facets = 6 } = shape;
  const less = [
    ...shape.reliefs.map((r) => reliefSolid(r, t + radius)),
    ...shape.webHoles.map((h) =>
      cylinder([h.x, -PAST, h.z], [h.x, t + PAST, h.z], h.diameter / 2, { facets: 30, name: 'web hole' }),
    ),
    ...(shape.less ?? []),
  ];
  const sheet = union([panSolid(shape, facets), ...shape.tabs.map((tab) => tabSolid(tab, t, radius, facets))]);
  // Holes are told in the rib as turned; everything is cut in one go before it is turned.
  const turned = ([x, y, z]: Vec3): Vec3 => [x, turns * y, z];
  const metal = drilled(
    sheet,
    shape.holes.map((h) => ({ ...h, at: turned(h.at), axis: turned(h.axis) })),
    less,
  );
  return turns === 1 ? metal : mirroredSolid(metal, 'y');
}

/** How far from its face a tabbed end has no flanges: clear of the spar's bends and of the tab's own. */
export function setback(corner: number, thickness: number, radius: number): number {
  return Math.max(corner, thickness + radius);
}

/**
 * Web, bends and flanges in one surface: up the outside of the flanges, over their edge, down the inside. At a bend the
 * contour is drawn in by Ro(1 − sin φ) at y = Ro(1 − cos φ), the inside likewise with its own radius.
 */
function panSolid(shape: PressedShape, facets: number): Solid {
  const { thickness: t, radius, flange, runs, tabs } = shape;
  const outer = t + radius;
  const stack = (r: number) =>
    r > 0
      ? arcPoints({ centre: [outer, outer], radius: r, from: -QUARTER, to: -2 * QUARTER, count: facets + 1 })
      : [[t, t] as Vec2];
  const outside = stack(outer);
  const inside = stack(radius);
  // Flanges that turn along the rib are warped, and drawn in more belts so that their facets follow.
  const warped = (shape.slants ?? []).some(
    (s) => s.top !== shape.slants?.[0]?.top || s.bottom !== shape.slants[0].bottom,
  );
  const shares = warped ? [0.25, 0.5, 0.75, 1] : [1];
  const up = shares.map((s): Vec2 => [0, outer + (flange - outer) * s]);
  const levels: Vec2[] = [...outside, ...up, ...up.map(([, y]): Vec2 => [t, y]).reverse(), ...inside.reverse()];
  const pressed = runs.map((run) =>
    fluted(
      trimmed(run, tabs, ({ corner }) => setback(corner, t, radius)),
      shape.flutes,
    ),
  );
  const cut = pressed.map(({ run }) => run);
  const dents = pressed.flatMap((p) => p.dents);
  const sheets = shares.map(() => '');
  const belts = [
    ...outside.slice(1).map(() => 'bend'),
    ...sheets,
    'flange edge',
    ...sheets,
    ...inside.slice(1).map(() => 'bend'),
  ];
  // A flute goes in square to the contour, by as much outside as inside, from nothing at the bend.
  const [onto, into] = [drawnIn(cut, 0), drawnIn(cut, 1)];
  const rings = levels.map(([depth, y]) => {
    const share = Math.max(0, y - outer) / (flange - outer);
    return drawnIn(cut, depth).map(([px, pz], i): Vec3 => {
      const dent = (dents[i] ?? 0) * share;
      const [a, b] = [onto[i] ?? [0, 0], into[i] ?? [0, 0]];
      const [x, z] = [px + dent * (b[0] - a[0]), pz + dent * (b[1] - a[1])];
      return [x, y, z + slanted(shape, x, y, z)];
    });
  });
  const { sides, flats } = sidesOf(cut);
  return loft(rings, { sides, belts, flats, start: 'web', end: 'web inside' });
}

/** How much higher a flange's metal stands for its slant, y along the flange from the flat face. */
function slanted(
  { slants = [], blend = 0, thickness, radius, flange }: PressedShape,
  x: number,
  y: number,
  z: number,
): number {
  if (slants.length === 0 || y <= 0) return 0;
  const { top, bottom, open } = slantAt(slants, x, y);
  const side = blend > 0 ? Math.min(Math.max(z / blend, -1), 1) : Math.sign(z);
  const straight = thickness + radius;
  const along = flange > straight ? Math.max(0, y - straight) / (flange - straight) : 0;
  return (y * (top + bottom + side * (top - bottom))) / 2 + side * open * along;
}

function sidesOf(runs: readonly FlangeRun[]): { sides: string[]; flats: number[] } {
  const sides: string[] = [];
  const flats: number[] = [];
  for (const { points, name } of runs) {
    for (let k = 0; k + 1 < points.length; k++)
      sides.push(`${typeof name === 'string' ? name : (name[k] ?? '')} flange`);
    flats.push(sides.length);
    sides.push('end');
  }
  return { sides, flats };
}

/** A run with the stretch along each tab cut off, `back` from its face. */
export function trimmed(run: FlangeRun, tabs: readonly TabShape[], back: (tab: TabShape) => number): FlangeRun {
  let { points, name } = run;
  for (const tab of tabs) {
    const { x, inward } = tab;
    const limit = x + inward * back(tab);
    const keeps = ([px]: Vec2) => (px - limit) * inward > NEAR;
    const kept: Vec2[] = [];
    const names: string[] = [];
    points.forEach((p, i) => {
      const q = points[i + 1];
      if (keeps(p)) kept.push(p);
      if (q === undefined || (!keeps(p) && !keeps(q))) return;
      names.push(typeof name === 'string' ? name : (name[i] ?? ''));
      if (keeps(p) !== keeps(q)) kept.push([limit, p[1] + ((q[1] - p[1]) * (limit - p[0])) / (q[0] - p[0])]);
    });
    points = kept;
    name = names;
  }
  return { points, name };
}

const SQUARE: Attitude = { tilt: 0, bevel: 0, twist: 0 };

/** The tab, its bend, and a strip of web behind it as far as the flanges begin. */
function tabSolid(
  { name, x, inward, top, bottom, width, corner, attitude = SQUARE }: TabShape,
  t: number,
  radius: number,
  facets: number,
): Solid {
  const outer = t + radius;
  const back = setback(corner, t, radius);
  const centre: Vec2 = [outer, outer];
  const bend = arcPoints({ centre, radius: outer, from: 3 * QUARTER, to: 2 * QUARTER, count: facets + 1 });
  const inner =
    radius > 0
      ? arcPoints({ centre, radius, from: 2 * QUARTER, to: 3 * QUARTER, count: facets + 1 })
      : [[t, t] as Vec2];
  const [low, high] = [bottom + back, top - back];
  const { tilt, bevel, twist } = attitude;
  // A warped tab is drawn in facets that follow the warp.
  const [pieces, shares] = twist === 0 ? [1, [1]] : [12, [0.25, 0.5, 0.75, 1]];
  const face = shares.map((s): Vec2 => [0, outer + (width - outer) * s]);
  const inside = face.map(([, b]): Vec2 => [t, b]).reverse();
  const outline: Vec2[] = [[back + PAST, 0], ...bend, ...face, ...inside, ...inner, [back + PAST, t]];
  const sides = [
    'web',
    ...bend.slice(1).map(() => 'bend'),
    ...face.map(() => name),
    `${name} edge`,
    ...inside.map(() => `${name} inside`),
    ...inner.slice(1).map(() => 'bend'),
    'web inside',
    'end',
  ];
  const heights = Array.from({ length: pieces + 1 }, (_, i) => low + ((high - low) * i) / pieces);
  const rings = heights.map((z) =>
    outline.map(([a, b]): Vec3 => [x + inward * a + tilt * z + (bevel + twist * z) * b, b, z]),
  );
  return loft(rings, { sides, start: `${name} edge`, end: `${name} edge` });
}

/** A hole through the flange bend at 45°, as one drilled on the bend line of the flat sheet comes out. */
function reliefSolid({ x, z, side, diameter }: ReliefShape, outer: number): Solid {
  const up = side === 'top' ? 1 : -1;
  const [out, inn] = [PAST + diameter / 2, outer + diameter / 2];
  return cylinder([x, -out, z + up * out], [x, inn, z - up * inn], diameter / 2, { facets: 12, name: 'relief hole' });
}
