import { leastSquaresLine, residuals } from '../../geometry/line.ts';
import { limitFor } from '../../model/limits.ts';
import type { Model } from '../../model/schema.ts';
import { show } from '../describe.ts';

/*
 * Asks: what shape is the twist? A slope from end to end is a twisted panel: packs under an end take it out. A hump is a few
 * stations turned out of a panel that is otherwise true: packing an end would twist what is right, so look at what holds
 * those stations. A bend is true up to a station and runs away from there.
 */

export type ShapeKind = 'true' | 'slope' | 'hump' | 'bend' | 'uneven';

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

/** Lines of best fit through all points but a run of them, each found at once from running sums. */
function linesWithout(points: readonly TwistPoint[]): (from: number, to: number) => (y: number) => number {
  const middle = points.reduce((sum, p) => sum + p.y / points.length, 0);
  // Of the points before each place: y, v, y², yv, about the middle.
  const sums = [[0, 0, 0, 0]];
  for (const p of points) {
    const [y, last] = [p.y - middle, sums[sums.length - 1]!];
    sums.push([last[0]! + y, last[1]! + p.v, last[2]! + y * y, last[3]! + y * p.v]);
  }
  const all = sums[points.length]!;
  return (from, to) => {
    const [sy, sv, syy, syv] = [0, 1, 2, 3].map((k) => all[k]! - (sums[to]![k]! - sums[from]![k]!)) as [
      number,
      number,
      number,
      number,
    ];
    const n = points.length - (to - from);
    const under = syy - (sy * sy) / n;
    const slope = under > 0 ? (syv - (sy * sv) / n) / under : 0;
    return (y) => sv / n + slope * (y - middle - sy / n);
  };
}

/** The fewest neighbouring inner stations, at most a third of all, that stand to one side of a straight line holding all others. */
function humpIn(
  points: readonly TwistPoint[],
  near: number,
): { group: readonly TwistPoint[]; amount: number } | undefined {
  const without = linesWithout(points);
  for (let many = 1; many <= Math.floor(points.length / 3); many++) {
    let best: { group: readonly TwistPoint[]; amount: number; left: number } | undefined;
    for (let i = 1; i + many < points.length; i++) {
      const line = without(i, i + many);
      const off = (k: number): number => points[k]!.v - line(points[k]!.y);
      const first = off(i);
      let sum = 0;
      let aside = true;
      for (let k = i; k < i + many && aside; k++) {
        const v = off(k);
        aside = Math.abs(v) > near && v * first >= 0;
        sum += v;
      }
      let left = 0;
      for (let k = 0; k < points.length && aside && left <= near; k++)
        if (k < i || k >= i + many) left = Math.max(left, Math.abs(off(k)));
      if (!aside || left > near) continue;
      if (!best || left < best.left) best = { group: points.slice(i, i + many), amount: sum / many, left };
    }
    if (best) return best;
  }
  return undefined;
}

/** The last station up to which all lie on one level line, when the rest runs away from it one way to an end. */
function bendIn(points: readonly TwistPoint[], near: number): { from: TwistPoint; to: TwistPoint } | undefined {
  for (const ordered of [points, [...points].reverse()]) {
    let flat = 1;
    while (flat < ordered.length && spread(ordered.slice(0, flat + 1)) <= near) flat++;
    if (flat < 3 || flat >= ordered.length) continue;
    const rest = ordered.slice(flat - 1);
    const way = Math.sign(rest[rest.length - 1]!.v - rest[0]!.v);
    if (rest.every((p, i) => i === 0 || (p.v - rest[i - 1]!.v) * way > 0))
      return { from: rest[0]!, to: rest[rest.length - 1]! };
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
 * The shape of a run of residual twists in station order; undefined for fewer than three. What counts as level is the limit
 * for a step from one station to the next. `by` names how they were read.
 *
 * @example panel B by level: a hump at W6 and W7, 0.28° nose down, not a slope
 */
export function twistShape(model: Model, points: readonly TwistPoint[], by: string): TwistShape | undefined {
  const [first, last] = [points[0], points[points.length - 1]];
  if (!first || !last || points.length < 3) return undefined;
  const near = limitFor(model, 'twist-step').fits[1] ?? 0.1;
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
