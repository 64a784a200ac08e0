import { heightsAt, type AirfoilProfile as Section } from '../../geometry/airfoil.ts';
import type { Contour } from '../../model/schema.ts';
import { sectionOf } from './noseOutline.ts';

/** A place of a rib's contour: x aft from its front end, height of the upper and of the lower line, mm. */
export type ContourRow = readonly [x: number, top: number, bottom: number];

export interface ContourSize {
  /** Of this rib, front end to rear end. */
  readonly length: number;
  /** The same on the drawing, and how far behind the section's nose it has the front end. */
  readonly drawn: number;
  readonly cut: number;
  /** Contour height at the ends as they are, over the flanges without their joggles. */
  readonly front: number;
  readonly rear: number;
}

/** A straight piece of the contour stands off the section by no more, mm. */
const OFF = 0.01;

/**
 * The contour of a rib between the spars, front end to rear end by rising x. The section is cut where the drawing has
 * the rib's ends; how far each of its lines bulges over the straight one between its cuts is laid over the straight
 * contour between the ends of this rib as they are, so that both ends keep the height they were measured at.
 * Undefined where the section does not reach from end to end: such a rib is straight.
 * Example: 0012 of chord 1000 cut at 200 and 600 bulges 4.62 over the line between at x = 100, half way along by a
 * quarter.
 */
export function contourBetween(
  contour: Contour,
  { length, drawn, cut, front, rear }: ContourSize,
): ContourRow[] | undefined {
  const section = sectionOf(contour, 201);
  if (section === undefined) return undefined;
  const nose = section.points[section.nose]?.[0] ?? 0;
  const { chord } = contour;
  const at = (x: number) => heightsAt(section, nose + (cut + x) / chord);
  const [a, b] = [at(0), at(drawn)];
  if (a === undefined || b === undefined) return undefined;
  const rows = placesOn(section, nose, chord, cut, drawn).flatMap((x): ContourRow[] => {
    const here = at(x);
    const share = x / drawn;
    if (here === undefined) return [];
    const bulge = (line: 'upper' | 'lower') =>
      x === 0 || x === drawn ? 0 : chord * (here[line] - a[line] - (b[line] - a[line]) * share);
    const half = (front + (rear - front) * share) / 2;
    return [[share * length, half + bulge('upper'), bulge('lower') - half]];
  });
  return thinned(rows);
}

/** The places of a section's own points between a rib's ends, and both ends. */
function placesOn({ points }: Section, nose: number, chord: number, cut: number, drawn: number): number[] {
  const xs = points
    .map(([x]) => (x - nose) * chord - cut)
    .filter((x) => x > 0.05 && x < drawn - 0.05)
    .sort((p, q) => p - q);
  return [0, ...xs.filter((x, i) => i === 0 || x - (xs[i - 1] ?? 0) > 0.05), drawn];
}

/** As few of the rows as keep both lines within `OFF` of where they were. */
function thinned(rows: readonly ContourRow[]): ContourRow[] {
  const [first, last] = [rows[0], rows[rows.length - 1]];
  if (first === undefined || last === undefined || rows.length < 3) return [...rows];
  const off = ([x, top, bottom]: ContourRow): number => {
    const share = (x - first[0]) / (last[0] - first[0]);
    return Math.max(
      Math.abs(first[1] + (last[1] - first[1]) * share - top),
      Math.abs(first[2] + (last[2] - first[2]) * share - bottom),
    );
  };
  const worst = rows.reduce((most, row, i) => (off(row) > off(rows[most] ?? row) ? i : most), 0);
  if (off(rows[worst] ?? first) <= OFF) return [first, last];
  return [...thinned(rows.slice(0, worst + 1)).slice(0, -1), ...thinned(rows.slice(worst))];
}
