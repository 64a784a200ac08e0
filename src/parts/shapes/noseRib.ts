import type { Solid } from '../../geometry/solids.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import { NEAR } from '../../units/near.ts';
import {
  bodyOf,
  type EndShape,
  heightAt,
  joggledHeight,
  joggleXs,
  type MainRibShape,
  type PlacedEnd,
  reliefsOf,
  tabOf,
} from './mainRib.ts';
import { type PressedShape, pressedSolid } from './pressed.ts';

/*
 * A nose rib: forward of the front spar, one flange round the nose, a tab at its tail.
 *
 * Rib's own axes, mm: x aft, the tail tab's face at x = 0, the nose point at x = −length; z up from the middle of the
 * tail; y = 0 the flat outer face of the web, flanges to +y × turns. The outline is the outside of the flange before
 * any joggle; where the tail nests in a spar's caps its joggle draws the last `flat` of the flanges in.
 */

export interface NoseRibShape
  extends Pick<
    MainRibShape,
    'thickness' | 'radius' | 'flange' | 'turns' | 'slants' | 'webHoles' | 'holes' | 'facets' | 'flutes'
  > {
  /** From the top of the tail round the nose to the bottom of the tail; first and last at x = 0. */
  readonly outline: readonly Vec2[];
  readonly tail: EndShape;
}

/**
 * Faces as a main rib's, with 'tail tab'; flanges are 'top flange' as far as the nose point and 'bottom flange'
 * behind it.
 */
export const noseRibSolid = (shape: NoseRibShape): Solid => pressedSolid(noseRibPressed(shape));

export function noseRibPressed(shape: NoseRibShape): PressedShape {
  const tail: PlacedEnd = { name: 'tail', x: 0, inward: -1, end: shape.tail };
  const { points, nose } = joggledOutline(shape.outline, tail);
  const { top, bottom } = lines(points, nose);
  return {
    ...bodyOf(shape, [shape.tail]),
    runs: [{ points, name: namesRound(points, nose) }],
    tabs: tabOf(tail, heightAt(top, 0), heightAt(bottom, 0)),
    reliefs: reliefsOf(tail, top, bottom),
  };
}

/**
 * An outline with the bends of a joggle put in as points and its drop taken off; `nose` is the index of the foremost
 * point.
 */
export function joggledOutline(outline: readonly Vec2[], end: PlacedEnd): { points: Vec2[]; nose: number } {
  const foremost = foremostOf(outline);
  const xs = joggleXs(end);
  const withBends = outline.flatMap((p, i) => {
    const q = outline[i + 1];
    if (q === undefined) return [p];
    const between = xs
      .filter((x) => (x - p[0]) * (x - q[0]) < -NEAR)
      .sort((a, b) => Math.abs(a - p[0]) - Math.abs(b - p[0]));
    return [p, ...between.map((x): Vec2 => [x, p[1] + ((q[1] - p[1]) * (x - p[0])) / (q[0] - p[0])])];
  });
  const at = withBends.indexOf(outline[foremost] ?? [0, 0]);
  if (end.end.flat <= 0) return { points: withBends, nose: at };
  const { top, bottom } = lines(withBends, at);
  const points = withBends.map(([x, z], i): Vec2 => {
    const reached = (x - end.x) * end.inward < xsReach(xs, end);
    return i === at || !reached ? [x, z] : [x, joggledHeight([end], top, bottom, x, i < at ? 'top' : 'bottom')];
  });
  return { points, nose: at };
}

const xsReach = (xs: readonly number[], end: PlacedEnd) => Math.max(...xs.map((x) => (x - end.x) * end.inward));

export function namesRound(points: readonly Vec2[], nose: number): string[] {
  return points.slice(1).map((_, k) => (k < nose ? 'top' : 'bottom'));
}

/** Upper and lower contour by rising x. */
export function lines(points: readonly Vec2[], nose: number): { top: Vec2[]; bottom: Vec2[] } {
  return { top: points.slice(0, nose + 1).reverse(), bottom: points.slice(nose) };
}

function foremostOf(outline: readonly Vec2[]): number {
  return outline.reduce((best, p, i) => (p[0] < (outline[best]?.[0] ?? 0) ? i : best), 0);
}
