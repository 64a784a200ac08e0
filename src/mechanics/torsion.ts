/*
 * How stiff thin walls are in torsion: open, one closed cell, several cells side by side (Bredt and Batho). N, mm, MPa.
 */

/** A straight or curved wall between two corners. */
export interface Wall {
  /** Along its middle line, mm. */
  readonly length: number;
  readonly thickness: number;
  /** Shear modulus, MPa; the reference one where not given. */
  readonly shear?: number;
}

/** Torsion constant of open thin walls, mm⁴: Σ bt³/3. Flanges 25 × 1.5 twice and web 50 × 2.5: 316.67. */
export function openTorsion(walls: readonly Wall[]): number {
  return walls.reduce((sum, w) => sum + (w.length * w.thickness ** 3) / 3, 0);
}

/** Largest shear stress of open walls under a torque, MPa: T t/J. */
export function openStress(walls: readonly Wall[], torque: number): number {
  return (torque * Math.max(...walls.map((w) => w.thickness))) / openTorsion(walls);
}

/** Torsion constant of one closed cell, mm⁴: 4A²/∮ds/t. A box 300 × 100 of 0.5: 2 250 000. */
export function closedTorsion(area: number, walls: readonly Wall[]): number {
  return (4 * area * area) / walls.reduce((sum, w) => sum + w.length / w.thickness, 0);
}

/**
 * Torsion constant of a solid bar a × b, a ≥ b, mm⁴: c₂ab³ by the series (Timoshenko). a/b of 1, 2, 10: c₂ 0.1406,
 * 0.2287, 0.3123.
 */
export function solidTorsion(a: number, b: number): number {
  let sum = 0;
  for (let n = 1; n < 200; n += 2) sum += Math.tanh((n * Math.PI * a) / (2 * b)) / n ** 5;
  return ((1 - ((192 * b) / (Math.PI ** 5 * a)) * sum) / 3) * a * b ** 3;
}

export interface TorsionCell {
  /** Inside its middle lines, mm². */
  readonly area: number;
  /** Walls of this cell alone. */
  readonly walls: readonly Wall[];
}

export interface CellsAnswer {
  /** Shear flow in each cell, N/mm: in a shared wall the difference of its two cells. */
  readonly flows: readonly number[];
  /** Twist, radians for each mm. */
  readonly rate: number;
  /** Torsion constant referred to the reference shear modulus, mm⁴. */
  readonly constant: number;
}

/**
 * Cells side by side under a torque: `shared[i]` is the wall between cell i and the next. All cells twist alike, and
 * their flows carry the torque together: 2 Σ Aᵢqᵢ = T.
 *
 * @example 200 × 100 beside 100 × 100, all walls 1 mm, 1 kN·m: 17.308 and 15.385 N/mm, constant 4 521 739 mm⁴
 */
export function cells(
  all: readonly TorsionCell[],
  shared: readonly Wall[],
  torque: number,
  shear: number,
): CellsAnswer {
  const n = all.length;
  const slack = (w: Wall): number => (w.length / w.thickness) * (shear / (w.shear ?? shear));
  const between = shared.map(slack);
  const own = all.map(
    (c, i) => c.walls.reduce((sum, w) => sum + slack(w), 0) + (between[i - 1] ?? 0) + (i < n - 1 ? between[i]! : 0),
  );
  // Flows for a rate of 1/G, where each cell's walls add up to twice its area; a wall shared takes the neighbour's
  // flow off.
  const diagonal = [...own];
  const q = all.map((c) => 2 * c.area);
  for (let i = 1; i < n; i++) {
    const f = -between[i - 1]! / diagonal[i - 1]!;
    diagonal[i]! -= f * -between[i - 1]!;
    q[i]! -= f * q[i - 1]!;
  }
  for (let i = n - 1; i >= 0; i--) q[i] = (q[i]! + (i < n - 1 ? between[i]! * q[i + 1]! : 0)) / diagonal[i]!;
  const constant = all.reduce((sum, c, i) => sum + 2 * c.area * q[i]!, 0);
  const rate = torque / (shear * constant);
  return { flows: q.map((v) => v * shear * rate), rate, constant };
}
