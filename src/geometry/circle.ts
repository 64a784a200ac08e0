/** A hole or a pin end-on: centre and radius, mm. */
export interface Circle {
  readonly x: number;
  readonly y: number;
  readonly r: number;
}

type Centre = readonly [x: number, y: number];

/**
 * The smallest circle that holds every given circle: the hole you end with when drilling through layers whose holes do
 * not line up. For two it is max(r1, r2, (r1 + r2 + offset) / 2).
 * Exact for any count: the centre hangs on one, two or three of the circles, so every such centre is tried and the one
 * that needs the least radius is kept. Count cubed steps; meant for a dozen.
 * Example: two holes of r = 1.25 set off by 0.4 need r = 1.45. Throws RangeError for none, or a radius below nothing.
 */
export function smallestHolding(circles: readonly Circle[]): Circle {
  if (circles.length === 0) throw new RangeError('At least one circle is needed.');
  for (const { x, y, r } of circles) {
    if (!(r >= 0) || !Number.isFinite(x + y + r))
      throw new RangeError('A circle needs a finite centre and a radius of nothing or more.');
  }
  let best: Circle | undefined;
  for (const [x, y] of centres(circles)) {
    const r = Math.max(...circles.map((c) => Math.hypot(c.x - x, c.y - y) + c.r));
    if (best === undefined || r < best.r) best = { x, y, r };
  }
  return best!;
}

function* centres(circles: readonly Circle[]): Generator<Centre> {
  for (const [i, p] of circles.entries()) {
    yield [p.x, p.y];
    for (const [j, q] of circles.entries()) {
      if (j <= i) continue;
      yield* onTwo(p, q);
      for (const s of circles.slice(j + 1)) yield* onThree(p, q, s);
    }
  }
}

/** The middle of the longest stretch across both. */
function* onTwo(p: Circle, q: Circle): Generator<Centre> {
  const apart = Math.hypot(q.x - p.x, q.y - p.y);
  if (apart === 0) return;
  const share = (apart + q.r - p.r) / (2 * apart);
  yield [p.x + (q.x - p.x) * share, p.y + (q.y - p.y) * share];
}

/**
 * The centres from which all three reach equally far. From p, with s = R - p.r the distance to the centre c:
 * |c| = s and |c - e| = s - (q.r - p.r) give e.c = (|e|^2 - d^2) / 2 + s d, two straight equations and then one square.
 * Three centres in a row never need this: the smallest circle then hangs on two.
 */
function* onThree(p: Circle, q: Circle, s: Circle): Generator<Centre> {
  const [ex, ey, d] = [q.x - p.x, q.y - p.y, q.r - p.r];
  const [fx, fy, g] = [s.x - p.x, s.y - p.y, s.r - p.r];
  const det = ex * fy - ey * fx;
  if (det === 0) return;
  const he = (ex * ex + ey * ey - d * d) / 2;
  const hf = (fx * fx + fy * fy - g * g) / 2;
  const [ux, uy] = [(he * fy - hf * ey) / det, (hf * ex - he * fx) / det];
  const [vx, vy] = [(d * fy - g * ey) / det, (g * ex - d * fx) / det];
  for (const reach of squareRoots(vx * vx + vy * vy - 1, ux * vx + uy * vy, ux * ux + uy * uy)) {
    const centre: Centre = [p.x + ux + reach * vx, p.y + uy + reach * vy];
    if (Number.isFinite(centre[0]) && Number.isFinite(centre[1])) yield centre;
  }
}

/** The real roots of a t^2 + 2 h t + c, without subtracting like from like. */
function squareRoots(a: number, h: number, c: number): readonly number[] {
  const under = h * h - a * c;
  if (under < 0) return [];
  const sum = -(h + (h < 0 ? -1 : 1) * Math.sqrt(under));
  return [sum / a, c / sum].filter(Number.isFinite);
}
