import { box, type Solid } from '../../geometry/solids.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import type { ContourRow } from './contourBetween.ts';
import { bodyOf, easedEnd, heightAt, type PlacedEnd, reliefsOf, tabOf } from './mainRib.ts';
import { joggledOutline, lines, type NoseRibShape, namesRound } from './noseRib.ts';
import { type PressedShape, pressedSolid } from './pressed.ts';

/*
 * A tip rib: one piece from the nose, past the end of the front spar, to a tab on the rear spar's web.
 *
 * Rib's own axes, mm: x aft, x = 0 where the front spar's web stands, the rear tab's face at x = back, the nose point
 * at x = back − length; z up; y = 0 the flat outer face of the web, flanges to +y × turns. It has no tab at the front
 * spar. Where its flanges turn over the spar, they are cut away between `passes` so that the spar can come up to its
 * web.
 */

export interface TipRibShape extends Omit<NoseRibShape, 'outline' | 'tail'> {
  /** From the nose part's top end at x = 0 round the nose to its bottom end at x = 0. */
  readonly outline: readonly Vec2[];
  readonly back: number;
  /** Upper and lower contour behind the front spar, from x = 0 to `back`; straight unless given. */
  readonly behind?: readonly ContourRow[];
  readonly rear: NoseRibShape['tail'];
  /** x from and to where the flanges are cut away for the front spar. */
  readonly passes?: readonly [from: number, to: number];
}

export function tipRibSolid(shape: TipRibShape): Solid {
  const { flange, thickness, passes } = shape;
  const pressed = tipRibPressed(shape);
  if (passes === undefined) return pressedSolid(pressed);
  const tall = Math.max(...pressed.runs.flatMap((run) => run.points.map(([, z]) => Math.abs(z)))) + 1;
  return pressedSolid({ ...pressed, less: [box([passes[0], thickness, -tall], [passes[1], flange + 1, tall], 'end')] });
}

/** The rib whole, its flanges running past the spar. */
export function tipRibPressed(shape: TipRibShape): PressedShape {
  const { back, outline, behind = [] } = shape;
  const rear = behind.length > 0 ? easedEnd(shape.rear, behind, back, -1) : shape.rear;
  const end: PlacedEnd = { name: 'rear', x: back, inward: -1, end: rear };
  const half = rear.height / 2 + rear.joggle;
  const between = behind.slice(1, -1);
  const { points, nose } = joggledOutline(
    [
      [back, half],
      ...between.map(([x, top]): Vec2 => [x, top]).reverse(),
      ...outline,
      ...between.map(([x, , bottom]): Vec2 => [x, bottom]),
      [back, -half],
    ],
    end,
  );
  const { top, bottom } = lines(points, nose);
  return {
    ...bodyOf(shape, [rear]),
    runs: [{ points, name: namesRound(points, nose) }],
    tabs: tabOf(end, heightAt(top, back), heightAt(bottom, back)),
    reliefs: reliefsOf(end, top, bottom),
  };
}
