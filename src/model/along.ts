import type { Along, Station } from './schema.ts';

/** A length at a place along the span: straight lines between the given points, constant beyond them. `alongAt([[0, 100], [1000, 80]], 250)` = 95. */
export function alongAt(a: Along, y: number): number {
  if (typeof a === 'number') return a;
  const first = a[0]!;
  if (y <= first[0]) return first[1];
  for (let i = 1; i < a.length; i++) {
    const [y1, v1] = a[i]!;
    if (y > y1) continue;
    const [y0, v0] = a[i - 1]!;
    return y1 === y0 ? v1 : v0 + ((v1 - v0) * (y - y0)) / (y1 - y0);
  }
  return a[a.length - 1]![1];
}

const near = (a: number, b: number): boolean => Math.abs(a - b) < 1e-6;

/** A length along the span with other values at some stations; every station gets its own point first, so that no other one moves. */
export function alongWith(a: Along, stations: readonly Station[], changes: ReadonlyMap<string, number>): Along {
  const own = typeof a === 'number' ? [] : a.filter(([y]) => !stations.some((s) => near(s.y, y)));
  const points = stations.map((s): [number, number] => [s.y, changes.get(s.id) ?? alongAt(a, s.y)]);
  const all = [...points, ...own].sort((p, q) => p[0] - q[0]);
  return all.every(([, v]) => v === all[0]![1]) ? all[0]![1] : all;
}
