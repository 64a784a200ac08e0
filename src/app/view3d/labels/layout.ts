import { isInside } from '../../../geometry/loops.ts';

/*
 * Where labels go: near what they speak of, never over one another, off the skeleton where there is room, leaders not
 * crossing.
 */

export interface Wanted {
  readonly id: string;
  /** Where the leader points, px. */
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** A place on the canvas that is taken, px. */
export interface Box {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

export interface Laid {
  readonly id: string;
  readonly left: number;
  readonly top: number;
  /** Where the leader leaves the label. */
  readonly fromX: number;
  readonly fromY: number;
}

export interface Field {
  readonly width: number;
  readonly height: number;
  /** Outline of the skeleton on the screen, counterclockwise or clockwise; labels keep off it where they can. */
  readonly hull: readonly (readonly [number, number])[];
  /** Places that other writing has taken. */
  readonly taken?: readonly Box[];
}

/** Kept clear round a label, and from the canvas' edge, px. */
const [GAP, EDGE] = [6, 6];
/** How far from its end a leader may leave a label, px. */
const INSET = 8;
/** A label is tried all round what it speaks of, nearer first, px. */
const TURNS = 16;
const REACHES = [36, 58, 86, 120, 164, 214];
/** What speaks of something this far off the canvas is left out, px. */
const OUT = 20;

/** What a place costs beside its reach, px: the dearer, the worse it reads. */
const COST = {
  below: 14,
  leaderThroughTaken: 90,
  leadersCross: 120,
  leaderThroughLabel: 160,
  overAnother: 70,
  overSkeleton: 34,
} as const;

type Point = readonly [x: number, y: number];

/** A label at a place, and the leader from it to what it speaks of. */
interface Put extends Laid, Box {
  readonly from: Point;
  readonly to: Point;
}

/** Greedy, in the order given: each label takes the cheapest free place; one that finds none is left out. */
export function laidOut(wanted: readonly Wanted[], field: Field): Laid[] {
  const done: Put[] = [];
  for (const w of wanted) {
    if (w.x < -OUT || w.y < -OUT || w.x > field.width + OUT || w.y > field.height + OUT) continue;
    let best: Put | undefined;
    let least = Infinity;
    for (const { put, reach, down } of placesFor(w, field)) {
      const cost = reach + (down > 0.1 ? COST.below : 0) + costOf(put, w, done, wanted, field);
      if (cost >= least) continue;
      least = cost;
      best = put;
    }
    if (best) done.push(best);
  }
  return done;
}

interface Try {
  readonly put: Put;
  readonly reach: number;
  /** How much it lies below what it speaks of, -1 to 1. */
  readonly down: number;
}

/** The places a label may take on the canvas, nearest first. */
function* placesFor(w: Wanted, field: Field): Iterable<Try> {
  for (const reach of REACHES) {
    for (let k = 0; k < TURNS; k++) {
      const turn = (2 * Math.PI * k) / TURNS - Math.PI / 2;
      const [right, down] = [Math.cos(turn), Math.sin(turn)];
      const left = w.x + right * (reach + w.width / 2) - w.width / 2;
      const top = w.y + down * (reach + w.height / 2) - w.height / 2;
      const wide = left >= EDGE && left + w.width <= field.width - EDGE;
      const tall = top >= EDGE && top + w.height <= field.height - EDGE;
      if (wide && tall) yield { put: putAt(w, left, top), reach, down };
    }
  }
}

function putAt(w: Wanted, left: number, top: number): Put {
  const { width, height } = w;
  const from = leaves(w, { left, top, width, height });
  return { id: w.id, left, top, width, height, fromX: from[0], fromY: from[1], from, to: [w.x, w.y] };
}

/** Where the leader leaves a label: from the side it is beside, else from its upper or lower edge. */
function leaves({ x, y }: Wanted, { left, top, width, height }: Box): Point {
  const beside = y >= top && y <= top + height;
  if (beside) return [x < left ? left : left + width, top + height / 2];
  const along = Math.min(Math.max(x, left + INSET), left + width - INSET);
  return [along, y < top ? top : top + height];
}

function costOf(here: Put, w: Wanted, done: readonly Put[], wanted: readonly Wanted[], field: Field): number {
  const taken = field.taken ?? [];
  if ([...taken, ...done].some((box) => crowd(here, box))) return Infinity;
  const through = taken.filter((box) => throughBox(here, box)).length * COST.leaderThroughTaken;
  const beside = done.reduce((sum, d) => sum + betweenTwo(here, d), 0);
  const over = wanted.filter((o) => o.id !== w.id && covers(here, o)).length * COST.overAnother;
  const on = marksOf(here).filter((p) => isInside(p, field.hull)).length * COST.overSkeleton;
  return through + beside + over + on;
}

/** What the leaders of two labels cost one another. */
function betweenTwo(here: Put, d: Put): number {
  const cross = crosses(here.from, here.to, d.from, d.to) ? COST.leadersCross : 0;
  const throughIt = throughBox(here, d) ? COST.leaderThroughLabel : 0;
  const throughHere = throughBox(d, here) ? COST.leaderThroughLabel : 0;
  return cross + throughIt + throughHere;
}

/** Whether two boxes lie over one another or too near. */
const crowd = (a: Box, b: Box): boolean =>
  a.left <= b.left + b.width + GAP &&
  b.left <= a.left + a.width + GAP &&
  a.top <= b.top + b.height + GAP &&
  b.top <= a.top + a.height + GAP;

/** Whether a label hides the point that another one speaks of. */
const covers = ({ left, top, width, height }: Box, { x, y }: Wanted): boolean =>
  x > left - 4 && x < left + width + 4 && y > top - 4 && y < top + height + 4;

/** The corners of a label and its middle. */
const marksOf = ({ left, top, width, height }: Box): readonly Point[] => [
  [left, top],
  [left + width, top],
  [left, top + height],
  [left + width, top + height],
  [left + width / 2, top + height / 2],
];

const side = (a: Point, b: Point, c: Point): number => (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);

function crosses(a: Point, b: Point, c: Point, d: Point): boolean {
  return side(a, b, c) * side(a, b, d) < 0 && side(c, d, a) * side(c, d, b) < 0;
}

/** Whether a label's leader goes through a box. */
function throughBox({ from, to }: Put, { left, top, width, height }: Box): boolean {
  const [l, t, r, b] = [left - 2, top - 2, left + width + 2, top + height + 2];
  return crosses(from, to, [l, t], [r, b]) || crosses(from, to, [r, t], [l, b]);
}
