import { leastSquaresLine, residuals } from '../../geometry/line.ts';
import { limitFor } from '../../model/limits.ts';
import type { Model } from '../../model/schema.ts';
import { show } from '../describe.ts';

/*
 * Asks: what shape is the twist? A slope from end to end is a twisted panel: packs under an end take it out. A hump
 * is a few stations turned out of a panel that is otherwise true: packing an end would twist what is right, so look
 * at what holds those stations. A bend is true up to a station and runs away from there.
 */

type ShapeKind = 'true' | 'slope' | 'hump' | 'bend' | 'uneven';

export interface TwistShape {
  readonly kind: ShapeKind;
  /** Stations of a hump, or the two between which a bend runs, or the ends of a slope. */
  readonly stations: readonly string[];
  /** Mean height of a hump over the line of the others, or change along a slope or bend, degrees, nose up positive. */
  readonly amount: number;
  readonly sentence: string;
}

/** A station's residual twist, degrees, nose up positive. */
export interface TwistPoint {
  readonly station: string;
  readonly y: number;
  readonly v: number;
}

/** Values of points off the straight line of best fit through some of them. */
function offLine(points: readonly TwistPoint[], through: readonly TwistPoint[]): number[] {
  const fit = leastSquaresLine(
    through.map((p) => p.y),
    through.map((p) => p.v),
  );
  return residuals(
    fit,
    points.map((p) => p.y),
    points.map((p) => p.v),
  );
}

const largest = (values: readonly number[]): number => values.reduce((most, v) => Math.max(most, Math.abs(v)), 0);

/** Sums over some points, y counted from a middle: how many, Σy, Σv, Σy², Σyv. */
interface Sums {
  readonly n: number;
  readonly y: number;
  readonly v: number;
  readonly yy: number;
  readonly yv: number;
}

const NONE: Sums = { n: 0, y: 0, v: 0, yy: 0, yv: 0 };

const added = (a: Sums, b: Sums, sign: 1 | -1): Sums => ({
  n: a.n + sign * b.n,
  y: a.y + sign * b.y,
  v: a.v + sign * b.v,
  yy: a.yy + sign * b.yy,
  yv: a.yv + sign * b.yv,
});

/** The line of best fit through all points but a run of them, as its value at y. */
type LineWithout = (run: readonly TwistPoint[]) => (y: number) => number;

/** Lines of best fit through all points but a run of them, each from the sums of all less the sums of the run. */
function linesWithout(points: readonly TwistPoint[]): LineWithout {
  const middle = points.reduce((sum, p) => sum + p.y / points.length, 0);
  const sumsOf = (some: readonly TwistPoint[]): Sums =>
    some.reduce((sums, p) => {
      const y = p.y - middle;
      return added(sums, { n: 1, y, v: p.v, yy: y * y, yv: y * p.v }, 1);
    }, NONE);
  const all = sumsOf(points);
  return (run) => {
    const { n, y: sy, v: sv, yy, yv } = added(all, sumsOf(run), -1);
    const under = yy - (sy * sy) / n;
    const slope = under > 0 ? (yv - (sy * sv) / n) / under : 0;
    return (y) => sv / n + slope * (y - middle - sy / n);
  };
}

interface Hump {
  readonly group: readonly TwistPoint[];
  /** Mean height over the line of the others, degrees. */
  readonly amount: number;
  /** Most that any of the others lies off that line. */
  readonly left: number;
}

/**
 * A run of stations as a hump: all to one side of the line of the others, which hold to it; undefined where it is
 * none.
 */
function humpOf(
  points: readonly TwistPoint[],
  from: number,
  to: number,
  without: LineWithout,
  near: number,
): Hump | undefined {
  const group = points.slice(from, to);
  const line = without(group);
  const off = (p: TwistPoint): number => p.v - line(p.y);
  const asides = group.map(off);
  const side = Math.sign(asides[0] ?? 0);
  if (!asides.every((v) => Math.abs(v) > near && Math.sign(v) === side)) return undefined;
  let left = 0;
  for (const [k, p] of points.entries()) {
    if (k >= from && k < to) continue;
    left = Math.max(left, Math.abs(off(p)));
    if (left > near) return undefined;
  }
  const amount = asides.reduce((sum, v) => sum + v, 0) / asides.length;
  return { group, amount, left };
}

/**
 * The fewest neighbouring inner stations, at most a third of all, that stand to one side of a straight line holding
 * all others.
 */
function humpIn(points: readonly TwistPoint[], near: number): Hump | undefined {
  const without = linesWithout(points);
  for (let many = 1; many <= Math.floor(points.length / 3); many++) {
    let least: Hump | undefined;
    for (let i = 1; i + many < points.length; i++) {
      const hump = humpOf(points, i, i + many, without, near);
      if (hump && (!least || hump.left < least.left)) least = hump;
    }
    if (least) return least;
  }
  return undefined;
}

/** The last station up to which all lie on one level line, when the rest runs away from it one way to an end. */
function bendIn(points: readonly TwistPoint[], near: number): { from: TwistPoint; to: TwistPoint } | undefined {
  for (const ordered of [points, [...points].reverse()]) {
    let flat = 1;
    while (flat < ordered.length && spread(ordered.slice(0, flat + 1)) <= near) flat++;
    const rest = ordered.slice(flat - 1);
    const [from] = rest;
    const to = rest.at(-1);
    if (!from || !to || flat < 3 || flat >= ordered.length) continue;
    const side = Math.sign(to.v - from.v);
    const runsOn = rest.every((p, i) => (p.v - (rest[i - 1] ?? p).v) * side > 0 || i === 0);
    if (runsOn) return { from, to };
  }
  return undefined;
}

function spread(points: readonly TwistPoint[]): number {
  const v = points.map((p) => p.v);
  return Math.max(...v) - Math.min(...v);
}

const way = (v: number): string => (v < 0 ? 'nose down' : 'nose up');

function named(ids: readonly string[]): string {
  return ids.length < 2 ? (ids[0] ?? '') : `${ids.slice(0, -1).join(', ')} and ${ids[ids.length - 1]}`;
}

/**
 * The shape of a run of residual twists in station order; undefined for fewer than three. What counts as level is
 * half of what a station may be off. `by` names how they were read.
 *
 * @example panel B by level: a hump at W6 and W7, 0.28° nose down, not a slope
 */
export function twistShape(model: Model, points: readonly TwistPoint[], by: string): TwistShape | undefined {
  const [first, last] = [points[0], points[points.length - 1]];
  if (!first || !last || points.length < 3) return undefined;
  const near = (limitFor(model, 'twist').fits[1] ?? 0.2) / 2;
  const whole = last.v - first.v;
  const deg = (v: number): string => show(model, Math.abs(v), 'deg');
  if (spread(points) <= 2 * near && Math.abs(whole) <= near)
    return {
      kind: 'true',
      stations: [],
      amount: whole,
      sentence: `It lies true ${by}: no station is more than ${deg(largest(points.map((p) => p.v)))} off the drawing.`,
    };
  const hump = Math.abs(whole) <= 2 * near ? humpIn(points, near) : undefined;
  if (hump) {
    const ids = hump.group.map((p) => p.station);
    return {
      kind: 'hump',
      stations: ids,
      amount: hump.amount,
      sentence: `A hump at ${named(ids)} ${by}, ${deg(hump.amount)} ${way(hump.amount)}, not a slope: packing an end would twist what is true, so look at what holds ${named(ids)}.`,
    };
  }
  if (largest(offLine(points, points)) <= near)
    return {
      kind: 'slope',
      stations: [first.station, last.station],
      amount: whole,
      sentence: `A slope ${by}: the twist grows evenly from ${first.station} to ${last.station}.`,
    };
  const bend = bendIn(points, near);
  if (bend) {
    const amount = bend.to.v - bend.from.v;
    return {
      kind: 'bend',
      stations: [bend.from.station, bend.to.station],
      amount,
      sentence: `It bends ${by}: near level up to ${bend.from.station}, then ${deg(amount)} ${way(amount)} by ${bend.to.station}.`,
    };
  }
  return {
    kind: 'uneven',
    stations: [first.station, last.station],
    amount: whole,
    sentence: `It is uneven ${by}: stations lie up to ${deg(largest(offLine(points, points)))} off a straight slope.`,
  };
}
