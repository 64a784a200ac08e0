/*
 * The least largest residual: min r with |a_i + Σ m_ij p_j| ≤ r for every i and p ≥ 0. A linear programme; its dual
 * starts feasible at nothing, so the simplex method needs one phase. Small and dense: a panel has a few supports.
 */

export interface Minimax {
  /** The p that do it, none negative. */
  readonly p: readonly number[];
  /** The largest residual with them. */
  readonly r: number;
}

/** The same with p of any sign allowed where `free`. Rows of m are residuals, columns what moves them. */
export function minimax(a: readonly number[], m: readonly (readonly number[])[], free = false): Minimax {
  const n = m[0]?.length ?? 0;
  if (n === 0 || a.length === 0) return { p: [], r: a.reduce((most, v) => Math.max(most, Math.abs(v)), 0) };
  const columns = free ? 2 * n : n;
  const at = (i: number, j: number): number => (j < n ? m[i]![j]! : -m[i]![j - n]!);
  // Dual: max Σ aᵢ(uᵢ - vᵢ) with Σ(uᵢ + vᵢ) ≤ 1 and Σ m_ij(vᵢ - uᵢ) ≤ 0 for every j. Rows: the p_j, then r. Columns:
  // u, v, slacks.
  const rows = columns + 1;
  const width = 2 * a.length + rows + 1;
  const table = Array.from({ length: rows + 1 }, () => new Float64Array(width));
  a.forEach((v, i) => {
    for (let j = 0; j < columns; j++) {
      table[j]![i] = -at(i, j);
      table[j]![a.length + i] = at(i, j);
    }
    table[columns]![i] = 1;
    table[columns]![a.length + i] = 1;
    table[rows]![i] = -v;
    table[rows]![a.length + i] = v;
  });
  for (let r = 0; r < rows; r++) table[r]![2 * a.length + r] = 1;
  table[columns]![width - 1] = 1;
  const basis = Array.from({ length: rows }, (_, r) => 2 * a.length + r);
  const scale = Math.max(1e-300, ...a.map(Math.abs));
  const goal = table[rows]!;
  for (let step = 0; step < 100_000; step++) {
    // Bland's rule: the first column that gains, so that it cannot go round in circles.
    let enter = -1;
    for (let c = 0; c < width - 1 && enter < 0; c++) if (goal[c]! < -1e-12 * scale) enter = c;
    if (enter < 0) break;
    let leave = -1;
    for (let r = 0; r < rows; r++) {
      const v = table[r]![enter]!;
      if (!(v > 1e-11)) continue;
      if (leave < 0) leave = r;
      const now = table[r]![width - 1]! / v;
      const had = table[leave]![width - 1]! / table[leave]![enter]!;
      if (now < had - 1e-15 || (now <= had + 1e-15 && basis[r]! < basis[leave]!)) leave = r;
    }
    if (leave < 0) break;
    pivot(table, leave, enter);
    basis[leave] = enter;
  }
  // The primal answer stands under the slacks.
  const under = (j: number): number => goal[2 * a.length + j]!;
  const p = Array.from({ length: n }, (_, j) => (free ? under(j) - under(n + j) : Math.max(0, under(j))));
  let r = 0;
  a.forEach((v, i) => {
    r = Math.max(r, Math.abs(p.reduce((sum, x, j) => sum + m[i]![j]! * x, v)));
  });
  return { p, r };
}

function pivot(table: Float64Array[], row: number, column: number): void {
  const own = table[row]!;
  const k = own[column]!;
  for (let c = 0; c < own.length; c++) own[c]! /= k;
  for (const other of table) {
    const v = other[column]!;
    if (other === own || v === 0) continue;
    for (let c = 0; c < other.length; c++) other[c]! -= v * own[c]!;
  }
}

/**
 * The p of any sign with the least sum of squared residuals; by normal equations, good for the few supports of a
 * bench.
 */
export function leastSquares(a: readonly number[], m: readonly (readonly number[])[]): number[] {
  const n = m[0]?.length ?? 0;
  const normal = Array.from({ length: n }, (_, j) =>
    Array.from({ length: n + 1 }, (_, k) => m.reduce((sum, row, i) => sum + row[j]! * (k < n ? row[k]! : -a[i]!), 0)),
  );
  for (let j = 0; j < n; j++) {
    let best = j;
    for (let r = j + 1; r < n; r++) if (Math.abs(normal[r]![j]!) > Math.abs(normal[best]![j]!)) best = r;
    [normal[j], normal[best]] = [normal[best]!, normal[j]!];
    const k = normal[j]![j]!;
    if (Math.abs(k) < 1e-12) continue;
    for (let r = 0; r < n; r++) {
      const f = normal[r]![j]! / k;
      if (r !== j && f !== 0) for (let c = j; c <= n; c++) normal[r]![c]! -= f * normal[j]![c]!;
    }
  }
  return normal.map((row, j) => (Math.abs(row[j]!) < 1e-12 ? 0 : row[n]! / row[j]!));
}
