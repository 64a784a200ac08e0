/*
 * A strip pulled onto supports that do not stand in line: a continuous beam whose supports are raised or sunk by
 * given amounts. Three-moment equation (Clapeyron) with settlements and loads, spans of any length and stiffness,
 * ends free to turn, held fast, or carrying the moment of an overhang. mm, N, MPa, N·mm; moments are positive where
 * the beam sags, forces and heights positive upward.
 */

interface Span {
  readonly length: number;
  /** Bending stiffness EI, N·mm². */
  readonly stiffness: number;
  /** Even load downward, N/mm. */
  readonly even?: number;
  /** Point loads downward: N, at mm from the span's left end. */
  readonly points?: readonly { readonly load: number; readonly at: number }[];
}

/** What holds an end: free to turn, held fast, or a known moment there (an overhang's, negative where it hogs). */
type EndHold = 'pinned' | 'fixed' | { readonly moment: number };

export interface ContinuousBeam {
  readonly spans: readonly Span[];
  /** Height of each support, mm, one more than spans. */
  readonly heights: readonly number[];
  readonly left?: EndHold;
  readonly right?: EndHold;
}

/** Moments and forces at the supports, left to right; the force of an overhang's own load is not in them. */
export interface BeamAnswer {
  readonly moments: readonly number[];
  readonly forces: readonly number[];
}

/**
 * Six times EI times the slope that the loads of a simple span make at its left and at its right end, over its
 * length.
 */
function loadTerms(s: Span): { left: number; right: number } {
  const { length: l } = s;
  let left = ((s.even ?? 0) * l ** 3) / 4;
  let right = left;
  for (const p of s.points ?? []) {
    const a = p.at;
    const b = l - a;
    left += (p.load * b * (l * l - b * b)) / l;
    right += (p.load * a * (l * l - a * a)) / l;
  }
  return { left, right };
}

/**
 * Moments over the supports and support forces of a continuous beam. Throws RangeError where counts do not match.
 *
 * @example two spans of 1, EI 1, middle support raised by 1: moments 0, -3, 0; forces -3, 6, -3
 */
export function continuousBeam({ spans, heights, left = 'pinned', right = 'pinned' }: ContinuousBeam): BeamAnswer {
  const n = spans.length;
  if (n === 0 || heights.length !== n + 1)
    throw new RangeError(`a beam of ${n} spans needs ${n + 1} support heights, got ${heights.length}`);
  // One row a support: below, diagonal, above, right-hand side; in units of length/EI.
  const below = new Float64Array(n + 1);
  const diagonal = new Float64Array(n + 1);
  const above = new Float64Array(n + 1);
  const rhs = new Float64Array(n + 1);
  spans.forEach((s, i) => {
    const k = s.length / s.stiffness;
    const load = loadTerms(s);
    const slope = (heights[i + 1]! - heights[i]!) / s.length;
    diagonal[i]! += 2 * k;
    above[i]! += k;
    rhs[i]! += -load.left / s.stiffness + 6 * slope;
    below[i + 1]! += k;
    diagonal[i + 1]! += 2 * k;
    rhs[i + 1]! += -load.right / s.stiffness - 6 * slope;
  });
  const given = (i: number, hold: EndHold): void => {
    if (hold === 'fixed') return;
    below[i] = 0;
    above[i] = 0;
    diagonal[i] = 1;
    rhs[i] = hold === 'pinned' ? 0 : hold.moment;
  };
  given(0, left);
  given(n, right);
  for (let i = 1; i <= n; i++) {
    const f = below[i]! / diagonal[i - 1]!;
    diagonal[i]! -= f * above[i - 1]!;
    rhs[i]! -= f * rhs[i - 1]!;
  }
  const moments = new Array<number>(n + 1).fill(0);
  for (let i = n; i >= 0; i--) moments[i] = (rhs[i]! - (i < n ? above[i]! * moments[i + 1]! : 0)) / diagonal[i]!;
  const forces = new Array<number>(n + 1).fill(0);
  spans.forEach((s, i) => {
    const tilt = (moments[i + 1]! - moments[i]!) / s.length;
    let atRight = ((s.even ?? 0) * s.length) / 2;
    let atLeft = atRight;
    for (const p of s.points ?? []) {
      atRight += (p.load * p.at) / s.length;
      atLeft += (p.load * (s.length - p.at)) / s.length;
    }
    forces[i]! += atLeft + tilt;
    forces[i + 1]! += atRight - tilt;
  });
  return { moments, forces };
}

/**
 * Bending moment over one of some supports for each mm of each, N·mm a mm wide; hogging positive. The three-moment
 * equation read backwards: its matrix is symmetric, so one solution serves all supports. Ends free to turn.
 */
export function influences(ys: readonly number[], at: number, stiffness: number): number[] {
  const spans = ys.slice(1).map((y, i) => y - ys[i]!);
  const n = ys.length;
  // Inner supports 1 … n - 2, with the right-hand side at `at` alone.
  const diagonal = ys.map((_, i) => (i > 0 && i < n - 1 ? (2 * (spans[i - 1]! + spans[i]!)) / stiffness : 1));
  const w = ys.map((_, i): number => (i === at ? 1 : 0));
  for (let i = 2; i < n - 1; i++) {
    const f = spans[i - 1]! / stiffness / diagonal[i - 1]!;
    diagonal[i]! -= f * (spans[i - 1]! / stiffness);
    w[i]! -= f * w[i - 1]!;
  }
  for (let i = n - 2; i > 0; i--) w[i] = (w[i]! - (i < n - 2 ? (spans[i]! / stiffness) * w[i + 1]! : 0)) / diagonal[i]!;
  w[0] = 0;
  w[n - 1] = 0;
  return ys.map((_, j) => {
    const left = j > 0 ? (w[j - 1]! - w[j]!) / spans[j - 1]! : 0;
    const right = j < n - 1 ? (w[j + 1]! - w[j]!) / spans[j]! : 0;
    return -6 * (left + right);
  });
}

/** A place along a bent strip and its height there, mm. */
export interface BentPoint {
  readonly y: number;
  readonly v: number;
}

/**
 * The line an even strip takes over supports at `ys` with given heights, mm: the cubic of each span, `steps` points a
 * span and the last support.
 */
export function bentLine(ys: readonly number[], heights: readonly number[], steps: number): BentPoint[] {
  const spans = ys.slice(1).map((y, i) => ({ length: y - ys[i]!, stiffness: 1 }));
  const { moments } = continuousBeam({ spans, heights });
  return spans.flatMap(({ length: l }, i) =>
    Array.from({ length: i === spans.length - 1 ? steps + 1 : steps }, (_, k) => {
      const s = (k / steps) * l;
      const bent = (moments[i]! * ((l - s) ** 3 - l * l * (l - s)) + moments[i + 1]! * (s ** 3 - l * l * s)) / (6 * l);
      return { y: ys[i]! + s, v: heights[i]! + ((heights[i + 1]! - heights[i]!) * s) / l + bent };
    }),
  );
}

/** Second moment of area of a strip, mm⁴: width t³/12. */
export function stripInertia(width: number, thickness: number): number {
  return (width * thickness ** 3) / 12;
}

/** Bending stress at the surface of a strip that carries a moment, MPa: 6M/(width t²). */
export function fibreStress(moment: number, width: number, thickness: number): number {
  return (6 * Math.abs(moment)) / (width * thickness * thickness);
}

/** A strip drawn shut over a free length. N, MPa, N·mm. */
export interface DrawnStrip {
  readonly force: number;
  readonly moment: number;
  readonly stress: number;
  /** Slope of its free end, radians; 0 where the end is guided. */
  readonly slope: number;
}

export interface BeamStrip {
  /** Young's modulus, MPa. */
  readonly modulus: number;
  readonly thickness: number;
  readonly width: number;
  /** Free length, mm. */
  readonly length: number;
}

/**
 * A strip held fast at one end and lifted by `gap` at the other: free to turn there (cantilever) or kept parallel, as a
 * flange riveted between two stiff parts (guided). Small deflections: under 0.3 % wrong below a gap of length/20.
 *
 * @example 0.5 × 1 mm, 50 long, E 71000, lifted 1: cantilever 0.01775 N and 21.3 MPa; guided 0.071 N and 42.6 MPa
 */
export function drawn(
  { modulus, thickness, width, length }: BeamStrip,
  gap: number,
  end: 'cantilever' | 'guided',
): DrawnStrip {
  const stiffness = modulus * stripInertia(width, thickness);
  const k = end === 'cantilever' ? 3 : 12;
  const force = (k * stiffness * gap) / length ** 3;
  const moment = end === 'cantilever' ? force * length : (force * length) / 2;
  return {
    force,
    moment,
    stress: fibreStress(moment, width, thickness),
    slope: end === 'cantilever' ? (1.5 * gap) / length : 0,
  };
}

/**
 * Stress in sheet bent to a radius, MPa: E t/2R in a narrow strip, 1/(1 - ν²) more in a wide sheet that cannot curl.
 */
export function bentTo(modulus: number, thickness: number, radius: number, poisson?: number): number {
  const strip = (modulus * thickness) / (2 * radius);
  return poisson === undefined ? strip : strip / (1 - poisson * poisson);
}
