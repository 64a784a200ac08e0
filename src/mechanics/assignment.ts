/*
 * Which one goes where so that the costs add up to least? Each row (a rib) to one column (a place), square. The
 * method of shortest augmenting paths with prices, n³ steps; the prices prove the answer: no assignment costs less
 * than their sum.
 */

export interface Assignment {
  /** Column of each row. */
  readonly to: readonly number[];
  readonly cost: number;
  /** Sum of the prices: a bound from below that equals the cost. */
  readonly bound: number;
}

/**
 * @example `assign([[4, 1], [2, 3]])` sends row 0 to column 1 and row 1 to column 0 for 3. Throws RangeError where
 * the table is not square.
 */
export function assign(costs: readonly (readonly number[])[]): Assignment {
  const n = costs.length;
  if (costs.some((row) => row.length !== n)) throw new RangeError('an assignment needs as many places as ribs');
  // Columns 1 … n; column 0 stands for the row being placed. rowAt[j] is the row at column j, 1 … n, 0 for none.
  const u = new Array<number>(n + 1).fill(0);
  const v = new Array<number>(n + 1).fill(0);
  const rowAt = new Array<number>(n + 1).fill(0);
  for (let row = 1; row <= n; row++) {
    const from = new Array<number>(n + 1).fill(0);
    const slack = new Array<number>(n + 1).fill(Number.POSITIVE_INFINITY);
    const seen = new Array<boolean>(n + 1).fill(false);
    let j = 0;
    rowAt[0] = row;
    do {
      seen[j] = true;
      const i = rowAt[j]!;
      let step = Number.POSITIVE_INFINITY;
      let next = 0;
      for (let k = 1; k <= n; k++) {
        if (seen[k]) continue;
        const reduced = costs[i - 1]![k - 1]! - u[i]! - v[k]!;
        if (reduced < slack[k]!) [slack[k], from[k]] = [reduced, j];
        if (slack[k]! < step) [step, next] = [slack[k]!, k];
      }
      for (let k = 0; k <= n; k++) {
        if (seen[k]) {
          u[rowAt[k]!]! += step;
          v[k]! -= step;
        } else slack[k]! -= step;
      }
      j = next;
    } while (rowAt[j] !== 0);
    for (; j !== 0; j = from[j]!) rowAt[j] = rowAt[from[j]!]!;
  }
  const to = new Array<number>(n).fill(0);
  for (let k = 1; k <= n; k++) to[rowAt[k]! - 1] = k - 1;
  const sum = (list: readonly number[]): number => list.slice(1).reduce((a, b) => a + b, 0);
  return { to, cost: to.reduce((s, k, i) => s + costs[i]![k]!, 0), bound: sum(u) + sum(v) };
}
