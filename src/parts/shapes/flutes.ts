import { girth } from '../../geometry/outline.ts';
import { between2, distance2, type Vec2 } from '../../geometry/vector.ts';
import type { FlangeRun } from './contour.ts';

/*
 * Flutes: shallow grooves pressed into a flange from outside, deepest at its edge and gone where its bend begins. A
 * flange bent round a curve has more metal at its edge than the curve wants; the flutes take it up, and the contour
 * stays fair between them. From memory: common practice, no source for their number or depth.
 */

export interface FluteShape {
  /** In each flange: above, below. */
  readonly each: number;
  /** Along the flange, mm. */
  readonly width: number;
  /** Into the rib at the flange edge, mm. */
  readonly depth: number;
  /** Kept free of them from each tab's face, mm: joggle, cap and relief hole. */
  readonly clear: number;
}

/** Straight pieces a flute is drawn in. */
const PIECES = 8;

/**
 * A flange run with points put in where its flutes are, and how deep each of its points is pressed in at the flange
 * edge, mm. A flute's section along the flange is one wave of a cosine. Example: two flutes in a 200 long run kept
 * clear by 20 at both ends have their middles at 60 and 140.
 */
export function fluted(run: FlangeRun, flutes: FluteShape | undefined): { run: FlangeRun; dents: number[] } {
  const none = run.points.map(() => 0);
  if (flutes === undefined || run.points.length < 2) return { run, dents: none };
  const { each, width, depth, clear } = flutes;
  const ends = flangesOf(run);
  const long = girth(run.points);
  const middles = ends.flatMap(([from, to]) => {
    const [a, b] = [Math.max(from, clear), Math.min(to, long - clear)];
    return b - a < width ? [] : Array.from({ length: each }, (_, k) => a + ((b - a) * (k + 0.5)) / each);
  });
  const places = middles
    .flatMap((c) => Array.from({ length: PIECES + 1 }, (_, j) => c + width * (j / PIECES - 0.5)))
    .sort((p, q) => p - q);
  const dentAt = (s: number): number =>
    Math.max(
      0,
      ...middles.map((c) =>
        Math.abs(s - c) < width / 2 ? (depth * (1 + Math.cos((2 * Math.PI * (s - c)) / width))) / 2 : 0,
      ),
    );
  const points: Vec2[] = [];
  const names: string[] = [];
  const dents: number[] = [];
  let s = 0;
  run.points.forEach((p, i) => {
    const q = run.points[i + 1];
    const name = nameOf(run, i);
    points.push(p);
    dents.push(dentAt(s));
    if (q === undefined) return;
    const side = distance2(p, q);
    names.push(name);
    let last = s;
    for (const place of places) {
      if (place - last < ONE_POINT || place > s + side - ONE_POINT) continue;
      points.push(between2(p, q, (place - s) / side));
      dents.push(dentAt(place));
      names.push(name);
      last = place;
    }
    s += side;
  });
  return { run: { points, name: names }, dents };
}

/** Points nearer than this are one, mm. */
const ONE_POINT = 1e-3;

const nameOf = ({ name }: FlangeRun, i: number): string => (typeof name === 'string' ? name : (name[i] ?? ''));

/** Where along a run each flange begins and ends: a run round a nose is two, the upper and the lower. */
function flangesOf(run: FlangeRun): [from: number, to: number][] {
  const found: [number, number][] = [];
  let s = 0;
  run.points.slice(1).forEach((q, i) => {
    const to = s + distance2(run.points[i] ?? q, q);
    const before = found[found.length - 1];
    if (before !== undefined && nameOf(run, i) === nameOf(run, i - 1)) before[1] = to;
    else found.push([s, to]);
    s = to;
  });
  return found;
}

/**
 * How much of the flange's edge one flute takes up, mm: how much longer its wave is than it is wide.
 * Example: 10 wide and 1.5 deep takes up 0.53.
 */
export function takenUp({ width, depth }: Pick<FluteShape, 'width' | 'depth'>): number {
  // Equal pieces of a whole wave: the plain sum is exact to the last digits.
  const many = 256;
  const slope = (s: number): number => Math.hypot(1, ((Math.PI * depth) / width) * Math.sin((2 * Math.PI * s) / many));
  return (width / many) * Array.from({ length: many }, (_, s) => slope(s)).reduce((a, b) => a + b, 0) - width;
}
