import type { CutNote, CutSpan } from '../../../scene/cutSizes.ts';
import { type Eye, onScreen, type Spot } from '../onScreen.ts';
import type { Box } from './layout.ts';

/* How a size of a cut is drawn on the screen: its lines as a path, and the room its number takes. */

export interface Drawn {
  readonly d: string;
  readonly box: Box;
}

/** Sizes are written from this many pixels on. */
export const LEAST = 64;
/** Half as high as a number is, px. */
export const HALF_TEXT = 9;
/** How far a note stands from what it is of, px, and how far it may slip where another stands there. */
const [NOTE, SLIPS] = [30, [0, 22, 44]];
/** Where a number may stand on its line, as shares of it, where its own place is taken. */
const SHARES = [0.5, 0.28, 0.72];

export const far = (a: Spot, b: Spot): number => Math.hypot(a[0] - b[0], a[1] - b[1]);

/** Both ends of a measuring line on the screen. */
export const spanEnds = ({ ends: [a, b] }: CutSpan, eye: Eye): readonly [Spot, Spot] => [
  onScreen(eye, a),
  onScreen(eye, b),
];

const move = ([x, y]: Spot, [dx, dy]: Spot, by: number): Spot => [x + dx * by, y + dy * by];
const print = ([x, y]: Spot): string => `${x.toFixed(1)} ${y.toFixed(1)}`;
const line = (a: Spot, b: Spot): string => `M${print(a)}L${print(b)}`;
const towards = (a: Spot, b: Spot, long: number): Spot => [(b[0] - a[0]) / long, (b[1] - a[1]) / long];

const clear = (box: Box, boxes: readonly Box[]): boolean =>
  boxes.every(
    (b) =>
      box.left > b.left + b.width ||
      b.left > box.left + box.width ||
      box.top > b.top + b.height ||
      b.top > box.top + box.height,
  );

const boxAt = ([x, y]: Spot, wide: number): Box => ({
  left: x - wide / 2,
  top: y - HALF_TEXT,
  width: wide,
  height: 2 * HALF_TEXT,
});

/** An arrowhead at a point, its line going on the way given. */
function arrow(point: Spot, way: Spot): string {
  const [back, aside] = [move(point, way, 7), [-way[1], way[0]] as const];
  return `M${print(move(back, aside, 2.6))}L${print(point)}L${print(move(back, aside, -2.6))}`;
}

/** A thin line from a feature to the measuring line and a little beyond; none where they are one. */
function drawnOut(foot: Spot, end: Spot): string {
  const long = far(foot, end);
  if (long < 3) return '';
  const way = towards(foot, end, long);
  return line(move(foot, way, 2), move(end, way, 5));
}

/** A measuring line with its number, broken where the number stands; undefined where there is no room. */
export function spanAt(size: CutSpan, eye: Eye, wide: number, boxes: readonly Box[]): Drawn | undefined {
  const [a, b] = spanEnds(size, eye);
  const long = far(a, b);
  if (long < LEAST) return undefined;
  const way = towards(a, b, long);
  const [dx, dy] = [Math.abs(way[0]), Math.abs(way[1])];
  if (dy <= dx && wide > long) return undefined;
  const share = [size.at, ...SHARES].find((s) => clear(boxAt(move(a, way, long * s), wide), boxes));
  if (share === undefined) return undefined;
  const box = boxAt(move(a, way, long * share), wide);
  const half = Math.min(box.width / 2 / Math.max(dx, 1e-6), box.height / 2 / Math.max(dy, 1e-6));
  const [before, after] = [move(a, way, long * share - half), move(a, way, long * share + half)];
  const [f, g] = [onScreen(eye, size.feet[0]), onScreen(eye, size.feet[1])];
  const back: Spot = [-way[0], -way[1]];
  const lines = [drawnOut(f, a), drawnOut(g, b), line(a, before), line(after, b), arrow(a, way), arrow(b, back)];
  return { d: lines.join(''), box };
}

/** A note over or under what it is of, with a thin line and a dot; undefined where there is no room. */
export function noteAt({ foot, side }: CutNote, eye: Eye, wide: number, boxes: readonly Box[]): Drawn | undefined {
  const f = onScreen(eye, foot);
  const up = side === 1 ? -1 : 1;
  for (const slip of SLIPS) {
    const near: Spot = [f[0], f[1] + up * (NOTE + slip)];
    const box = boxAt([near[0], near[1] + up * HALF_TEXT], wide);
    if (clear(box, boxes)) return { d: `${line(f, near)}M${f[0] - 2} ${f[1]}a2 2 0 1 0 4 0a2 2 0 1 0 -4 0`, box };
  }
  return undefined;
}
