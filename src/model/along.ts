import type { Along } from './schema.ts';

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
