/* A small dense linear algebra, slow and plain: the twin that sparse and clever code is tested against. */

export type Matrix = number[][];

export const transpose = (a: Matrix): Matrix => a[0]!.map((_, j) => a.map((row) => row[j]!));
export const times = (a: Matrix, b: Matrix): Matrix =>
  a.map((row) => b[0]!.map((_, j) => row.reduce((sum, v, k) => sum + v * b[k]![j]!, 0)));
export const minus = (a: Matrix, b: Matrix): Matrix => a.map((row, i) => row.map((v, j) => v - b[i]![j]!));
export const column = (v: readonly number[]): Matrix => v.map((x) => [x]);

/** Gauss-Jordan with the largest pivot. */
export function inverse(a: Matrix): Matrix {
  const n = a.length;
  const m = a.map((row, i) => [...row, ...row.map((_, j) => (i === j ? 1 : 0))]);
  for (let i = 0; i < n; i++) {
    let p = i;
    for (let r = i; r < n; r++) if (Math.abs(m[r]![i]!) > Math.abs(m[p]![i]!)) p = r;
    [m[i], m[p]] = [m[p]!, m[i]!];
    const pivot = m[i]![i]!;
    m[i] = m[i]!.map((v) => v / pivot);
    for (let r = 0; r < n; r++) {
      const k = m[r]![i]!;
      if (r !== i && k !== 0) m[r] = m[r]!.map((v, j) => v - k * m[i]![j]!);
    }
  }
  return m.map((row) => row.slice(n));
}
