import type { Model } from '../../model/schema.ts';

/**
 * Groups and items of a panel that came from elsewhere, exchanged for those of the panel here where they say the
 * same: what was worked out from them still holds, and is not worked out again.
 */
export function joined(base: Model, came: Model): Model {
  const same = (a: unknown, b: unknown): boolean => JSON.stringify(a) === JSON.stringify(b);
  const list = (a: readonly unknown[], b: readonly unknown[]): readonly unknown[] => {
    const had = new Map(a.map((x) => [JSON.stringify(x), x]));
    return b.map((x) => had.get(JSON.stringify(x)) ?? x);
  };
  const shared = (own: unknown, v: unknown): unknown => {
    if (same(own, v)) return own;
    return Array.isArray(own) && Array.isArray(v) ? list(own, v) : v;
  };
  const groups = Object.entries(came).map(([k, v]) => [k, shared(base[k as keyof Model], v)] as const);
  return Object.fromEntries(groups) as Model;
}
