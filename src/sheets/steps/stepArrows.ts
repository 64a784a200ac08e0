import type { Mesh } from '../../geometry/mesh.ts';
import { add, dot, scale, subtract, type Vec2, type Vec3 } from '../../geometry/vector.ts';
import type { Ink } from '../paper/page.ts';
import { PLACING, type Step } from './step.ts';
import { boundsOf, leftEnd, round } from './stepBounds.ts';
import { type Lay, type PartMesh, path } from './stepInk.ts';

/* How far parts are drawn out of their places, and the arrows the way they go in. */

/** How far a part is drawn out of its place, mm of metal, at least, and as a share of its own length that way. */
const OUT = 45;
const OUT_SHARE = 1.1;
const OUT_MOST = 140;

/**
 * Apart: what is ahead of the spar goes forward, what lies in its channel up and a little forward, what is between
 * the spars up.
 */
function apartBy(mesh: Mesh, web: number): Vec3 {
  const { low, high } = boundsOf(mesh);
  const middle = (low[0] + high[0]) / 2;
  if (middle < web) return [-60, 0, 0];
  const isShort = high[0] - low[0] < 60 && middle < web + 60;
  return isShort ? [-20, 0, 130] : [0, 0, 120];
}

/** How far each chosen part is drawn out of its place. */
export function shiftsOf(step: Step, parts: readonly PartMesh[]): Map<string, Vec3> {
  const chosen = parts.filter((p) => step.chosen.includes(p.id));
  if (step.kind === 'apart' || step.kind === 'together') {
    const front = parts.find((p) => p.id === 'front');
    const web = front ? boundsOf(front.mesh).low[0] : 0;
    return new Map(chosen.map((p) => [p.id, apartBy(p.mesh, web)]));
  }
  if (!PLACING.includes(step.kind) || !step.goes || chosen.length === 0) return new Map();
  const all = round(chosen.map((p) => boundsOf(p.mesh)));
  const own = Math.abs(dot(step.goes, subtract(all.high, all.low)));
  const shift = scale(step.goes, -Math.max(OUT, Math.min(OUT_SHARE * own, OUT_MOST)));
  return new Map(chosen.map((p) => [p.id, shift]));
}

/**
 * A block arrow on paper from a point to a point, white round a black body, so that it is seen on grey and on white.
 */
function arrow([x0, y0]: Vec2, [x1, y1]: Vec2): Ink[] {
  const long = Math.hypot(x1 - x0, y1 - y0);
  if (long < 1) return [];
  const [ux, uy] = [(x1 - x0) / long, (y1 - y0) / long];
  const at = (along: number, across: number): Vec2 => [x0 + ux * along - uy * across, y0 + uy * along + ux * across];
  const head = Math.min(5, long * 0.6);
  const shape = (grow: number): Vec2[] => [
    at(-grow, -1 - grow),
    at(long - head, -1 - grow),
    at(long - head - grow, -2.8 - 1.8 * grow),
    at(long + 1.8 * grow, 0),
    at(long - head - grow, 2.8 + 1.8 * grow),
    at(long - head, 1 + grow),
    at(-grow, 1 + grow),
  ];
  const same: Lay = (p) => p;
  return [...path([shape(0.7)], same, null, 'paper'), ...path([shape(0)], same, null, 'ink')];
}

/** What arrows are drawn for: where the parts are, how far they are drawn out, and where a point comes on the page. */
export interface Arrowed {
  readonly chosen: readonly PartMesh[];
  readonly shifts: ReadonlyMap<string, Vec3>;
  /** Where the jig block is that gets a pack. */
  readonly block: Vec3 | undefined;
  place(p: Vec3): Vec2;
}

/** At most so many parts of a step have an arrow each. */
const MOST_ARROWS = 3;

/** Arrows the way parts go in, or the drill; a part taken out goes the other way. */
export function arrows(step: Step, { chosen, shifts, block, place }: Arrowed): Ink[] {
  if (block) {
    const [x, y] = place(block);
    return arrow([x, y + 14], [x, y + 1.5]);
  }
  if (step.holes.length > 0 && step.goes) {
    const middle = scale(step.holes.reduce(add, [0, 0, 0] as Vec3), 1 / step.holes.length);
    const [tip, tail] = [place(add(middle, scale(step.goes, -8))), place(add(middle, scale(step.goes, -60)))];
    return arrow(tail, tip);
  }
  const moved = chosen.flatMap(({ id, mesh }) => {
    const shift = shifts.get(id);
    return shift ? [{ mesh, shift }] : [];
  });
  return moved.slice(0, MOST_ARROWS).flatMap(({ mesh, shift }) => {
    const { low, high } = step.kind === 'lay' ? leftEnd(boundsOf(mesh)) : boundsOf(mesh);
    const middle = scale(add(low, high), 0.5);
    const [from, to] = [place(add(middle, scale(shift, 0.85))), place(add(middle, scale(shift, 0.15)))];
    return step.kind === 'apart' ? arrow(to, from) : arrow(from, to);
  });
}
