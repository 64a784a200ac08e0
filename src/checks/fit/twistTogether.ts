import { type Chain, combine, uncertainty } from '../../chains/chain.ts';

/*
 * One twist read more than one way: a station's from its zero, the change from one station to another, the panel's
 * from end to end. The ways are weighted by 1/u² into one answer, and asked whether they can all be right. What was
 * read before something moved it has no say beside what was read since.
 */

/** One answer by one way: degrees, nose up positive. */
export interface ByWay<W> {
  readonly way: W;
  readonly chain: Chain;
  readonly residual: number;
}

export interface Together<W> {
  readonly chain: Chain;
  readonly residual: number;
  /** The worst disagreement between two ways, in their combined standard uncertainties. */
  readonly apart: number;
  /** The two ways that disagree most. */
  readonly pair: readonly [W, W];
}

/** Least variance counted, degrees²: a station that is itself the zero has none. */
const LEAST = 1e-12;

const isOpen = ({ chain }: ByWay<unknown>): boolean =>
  chain.some(({ size }) => size.aged === 'stale' || size.aged === 'asked');

/** The ways that count: those read since the metal last moved and in no doubt, or all where none was. */
function fresh<W>(ways: readonly ByWay<W>[]): readonly ByWay<W>[] {
  const since = ways.filter((w) => !isOpen(w));
  return since.length > 0 ? since : ways;
}

/** The two ways that lie furthest apart, and how far in their combined u. */
function furthest<W>(first: ByWay<W>, ways: readonly ByWay<W>[]): { apart: number; pair: readonly [W, W] } {
  let apart = 0;
  let pair: readonly [W, W] = [first.way, (ways[1] ?? first).way];
  for (const [i, a] of ways.entries()) {
    for (const b of ways.slice(i + 1)) {
      const u = uncertainty(combine([1, a.chain], [-1, b.chain]));
      const far = u > 0 ? Math.abs(a.residual - b.residual) / u : 0;
      if (far > apart) [apart, pair] = [far, [a.way, b.way]];
    }
  }
  return { apart, pair };
}

/**
 * Two or more ways as one; undefined for fewer that count.
 *
 * @example 0.30° ± 0.10° and 0.24° ± 0.05° together are 0.252° ± 0.045°.
 */
export function waysTogether<W>(ways: readonly ByWay<W>[]): Together<W> | undefined {
  const counted = fresh(ways);
  const [first] = counted;
  if (!first || counted.length < 2) return undefined;
  const weights = counted.map((w) => 1 / Math.max(uncertainty(w.chain) ** 2, LEAST));
  const whole = weights.reduce((a, b) => a + b, 0);
  const shares = counted.map((w, i) => ({ ...w, share: (weights[i] ?? 0) / whole }));
  return {
    chain: combine(...shares.map((w): [number, Chain] => [w.share, w.chain])),
    residual: shares.reduce((sum, w) => sum + w.share * w.residual, 0),
    ...furthest(first, counted),
  };
}
