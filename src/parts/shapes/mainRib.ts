import type { Solid } from '../../geometry/solids.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import type { ContourRow } from './contourBetween.ts';
import type { HoleShape } from './drilled.ts';
import type { FluteShape } from './flutes.ts';
import {
  type Attitude,
  type PressedShape,
  pressedSolid,
  type ReliefShape,
  type Slant,
  type TabShape,
  type WebHole,
} from './pressed.ts';

/*
 * A main rib: from the front spar to the rear spar, flanges top and bottom, a tab bent at each end.
 *
 * Rib's own axes, mm: x aft from the front tab's face, z up from the middle of both ends, y = 0 the flat outer face
 * of the web; flanges to +y × turns. The rear tab's face is at x = length. The contour is straight from front to rear
 * unless given. End height is over the flanges at the end, joggle included, so the contour there is end height + 2 ×
 * joggle. An end that nests stays level at its end height for `flat` from the face, in line with the spar's cap, then
 * rises over a run-out to the contour. An end with no `flat` has its flanges on the contour right up to the face.
 */

export interface EndShape {
  /** Over the flanges at the end, already joggled down. */
  readonly height: number;
  readonly joggle: number;
  /**
   * How far from the face the flanges stay down; a little more than the spar's cap reaches. 0 where there is no
   * joggle.
   */
  readonly flat: number;
  /** Length of the joggle's slope; four times its depth and at least 4 unless told. */
  readonly runOut?: number;
  /** Tab width, flat web face to free edge; 0 for an end without a tab. */
  readonly tab: number;
  /** How far flanges and tab keep clear of the corner: the spar's inside radius at least. */
  readonly corner: number;
  /** How the web the tab lies on stands to the rib; square unless told. */
  readonly attitude?: Attitude;
  readonly relief?: { readonly diameter: number; readonly fromEnd: number };
}

export interface MainRibShape {
  readonly length: number;
  readonly thickness: number;
  readonly radius: number;
  readonly flange: number;
  readonly turns: 1 | -1;
  /** How the flanges lie, by rising x; square to the web unless told. */
  readonly slants?: readonly Slant[];
  readonly front: EndShape;
  readonly rear: EndShape;
  /** Upper and lower contour between the ends, unjoggled, as [x, top, bottom] by rising x. */
  readonly contour?: readonly ContourRow[];
  readonly flutes?: Omit<FluteShape, 'clear'>;
  readonly webHoles?: readonly WebHole[];
  readonly holes?: readonly HoleShape[];
  readonly facets?: number;
}

/**
 * Faces: 'front tab', 'rear tab', 'top flange', 'bottom flange', each with ' inside' and edges, 'web', 'web inside',
 * 'bend', 'web hole', 'relief hole', 'hole'. Example: length 262.5, front height 83.1, joggle 1.45 is 86 over the
 * contour.
 */
export const mainRibSolid = (shape: MainRibShape): Solid => pressedSolid(mainRibPressed(shape));

/** What a main rib is pressed from: its flange runs, tabs and relief holes. */
export function mainRibPressed(shape: MainRibShape): PressedShape {
  const { length, contour } = shape;
  const front = contour ? easedEnd(shape.front, contour, 0, 1) : shape.front;
  const rear = contour ? easedEnd(shape.rear, contour, length, -1) : shape.rear;
  const ends: PlacedEnd[] = [
    { name: 'front', x: 0, inward: 1, end: front },
    { name: 'rear', x: length, inward: -1, end: rear },
  ];
  const drawn =
    shape.contour ??
    ([
      [0, front.height / 2 + front.joggle, -front.height / 2 - front.joggle],
      [length, rear.height / 2 + rear.joggle, -rear.height / 2 - rear.joggle],
    ] as const);
  const xs = [...new Set([...drawn.map(([x]) => x), ...ends.flatMap(joggleXs)])]
    .filter((x) => x >= 0 && x <= length)
    .sort((a, b) => a - b);
  const line = (pick: 1 | 2): Vec2[] => drawn.map((row): Vec2 => [row[0], row[pick]]);
  const [upper, lower] = [line(1), line(2)];
  const top = xs.map((x): Vec2 => [x, joggledHeight(ends, upper, lower, x, 'top')]);
  const bottom = xs.map((x): Vec2 => [x, joggledHeight(ends, upper, lower, x, 'bottom')]);
  return {
    ...bodyOf(shape, [front, rear]),
    runs: [
      { points: top, name: 'top' },
      { points: [...bottom].reverse(), name: 'bottom' },
    ],
    tabs: ends.flatMap((e) => tabOf(e, heightAt(top, e.x), heightAt(bottom, e.x))),
    reliefs: ends.flatMap((e) => reliefsOf(e, top, bottom)),
  };
}

export interface PlacedEnd {
  readonly name: 'front' | 'rear' | 'tail';
  readonly x: number;
  readonly inward: 1 | -1;
  readonly end: EndShape;
}

/**
 * What all ribs share. Slants blend within a third of the lowest end's half height, so its flanges have their own
 * whole.
 */
export function bodyOf(
  shape: Pick<
    MainRibShape,
    'thickness' | 'radius' | 'flange' | 'turns' | 'slants' | 'webHoles' | 'holes' | 'facets' | 'flutes'
  >,
  ends: readonly EndShape[],
) {
  const { thickness, radius, flange, turns, slants = [], webHoles = [], holes = [], facets = 6, flutes } = shape;
  const blend = Math.min(...ends.map((e) => e.height)) / 3;
  const clear =
    Math.max(
      ...ends.map((e) =>
        Math.max(e.flat > 0 ? e.flat + runOutOf(e) : e.corner, e.relief ? e.relief.fromEnd + e.relief.diameter : 0),
      ),
    ) + 2;
  return {
    thickness,
    radius,
    flange,
    turns,
    slants,
    blend,
    webHoles,
    holes,
    facets,
    ...(flutes ? { flutes: { ...flutes, clear } } : {}),
  };
}

/** Where the contour bends because of a joggle; the face itself among them. */
export function joggleXs({ x, inward, end }: PlacedEnd): number[] {
  if (end.flat <= 0) return [x];
  // The flat under the cap is divided, so that a flange slanted unevenly along it keeps to its slants.
  return [
    x,
    ...[1 / 3, 2 / 3, 1].map((share) => x + inward * end.flat * share),
    x + inward * (end.flat + runOutOf(end)),
  ];
}

/** Height of one flange at x once the ends are joggled down; `upper` and `lower` are the contour, by rising x. */
export function joggledHeight(
  ends: readonly PlacedEnd[],
  upper: readonly Vec2[],
  lower: readonly Vec2[],
  x: number,
  side: 'top' | 'bottom',
): number {
  const contour = side === 'top' ? upper : lower;
  for (const { x: face, inward, end } of ends) {
    const along = (x - face) * inward;
    const run = runOutOf(end);
    if (end.flat <= 0 || along >= end.flat + run) continue;
    const level = (heightAt(upper, face) + heightAt(lower, face)) / 2 + ((side === 'top' ? 1 : -1) * end.height) / 2;
    const risen = heightAt(contour, face + inward * (end.flat + run));
    return level + (risen - level) * Math.max(0, (along - end.flat) / run);
  }
  return heightAt(contour, x);
}

/** A run-out is at least this many times as long as it rises. */
const GENTLE = 4;

/**
 * An end whose flanges, level under the cap, rise to a curved contour: its run-out is as much longer as the contour has
 * risen beyond the cap's edge, two fifths of the contour at most.
 */
export function easedEnd(end: EndShape, contour: readonly ContourRow[], face: number, inward: 1 | -1): EndShape {
  if (end.flat <= 0 || end.runOut !== undefined) return end;
  const line = (pick: 1 | 2): Vec2[] => contour.map((row): Vec2 => [row[0], row[pick]]);
  const [upper, lower] = [line(1), line(2)];
  const middle = (heightAt(upper, face) + heightAt(lower, face)) / 2;
  const rise = (run: number): number => {
    const x = face + inward * (end.flat + run);
    return Math.max(
      Math.abs(heightAt(upper, x) - middle - end.height / 2),
      Math.abs(middle - end.height / 2 - heightAt(lower, x)),
    );
  };
  const most = 0.4 * Math.abs((contour[contour.length - 1]?.[0] ?? 0) - (contour[0]?.[0] ?? 0));
  let run = runOutOf(end);
  for (let k = 0; k < 30 && GENTLE * rise(run) > run + 1e-3; k++) run = GENTLE * rise(run);
  return { ...end, runOut: Math.min(run, Math.max(most - end.flat, runOutOf(end))) };
}

const runOutOf = (end: EndShape) => end.runOut ?? Math.max(4 * Math.abs(end.joggle), 4);

export function tabOf({ name, x, inward, end }: PlacedEnd, top: number, bottom: number): TabShape[] {
  const { tab: width, corner, attitude } = end;
  return width > 0
    ? [{ name: `${name} tab`, x, inward, top, bottom, width, corner, ...(attitude ? { attitude } : {}) }]
    : [];
}

export function reliefsOf({ x, inward, end }: PlacedEnd, top: readonly Vec2[], bottom: readonly Vec2[]): ReliefShape[] {
  if (end.relief === undefined || end.relief.diameter <= 0) return [];
  const at = x + inward * end.relief.fromEnd;
  const { diameter } = end.relief;
  return [
    { x: at, z: heightAt(top, at), side: 'top', diameter },
    { x: at, z: heightAt(bottom, at), side: 'bottom', diameter },
  ];
}

/** Height of a contour line at x: straight between its points (by rising x), carried on level beyond them. */
export function heightAt(line: readonly Vec2[], x: number): number {
  const first = line[0] ?? [0, 0];
  if (x <= first[0]) return first[1];
  for (let i = 1; i < line.length; i++) {
    const [a, b] = [line[i - 1] ?? first, line[i] ?? first];
    if (x <= b[0]) return b[0] === a[0] ? b[1] : a[1] + ((b[1] - a[1]) * (x - a[0])) / (b[0] - a[0]);
  }
  return (line[line.length - 1] ?? first)[1];
}
