import type { Along, Station } from './schema.ts';

/** A place along the span and the length there, mm. */
type Point = readonly [y: number, value: number];

const onLine = ([y0, v0]: Point, [y1, v1]: Point, y: number): number => v0 + ((v1 - v0) * (y - y0)) / (y1 - y0);

/**
 * A length at a place along the span: straight lines between the given points, constant beyond them. `alongAt([[0,
 * 100], [1000, 80]], 250)` = 95.
 */
export function alongAt(a: Along, y: number): number {
  if (typeof a === 'number') return a;
  let before: Point | undefined;
  for (const point of a) {
    if (y <= point[0]) return before ? onLine(before, point, y) : point[1];
    before = point;
  }
  return before?.[1] ?? Number.NaN;
}

const near = (a: number, b: number): boolean => Math.abs(a - b) < 1e-6;

/**
 * A length along the span with other values at some stations; every station gets its own point first, so that no
 * other one moves.
 */
export function alongWith(a: Along, stations: readonly Station[], changes: ReadonlyMap<string, number>): Along {
  const own = typeof a === 'number' ? [] : a.filter(([y]) => !stations.some((s) => near(s.y, y)));
  const points = stations.map((s): [number, number] => [s.y, changes.get(s.id) ?? alongAt(a, s.y)]);
  const all = [...points, ...own].sort((p, q) => p[0] - q[0]);
  const first = all[0]?.[1] ?? 0;
  return all.every(([, v]) => v === first) ? first : all;
}
