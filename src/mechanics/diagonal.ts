/** A four-sided frame by tape: two side lengths and both diagonals, all in one unit. */
export interface FourSides {
  /** The side along the span. */
  readonly a: number;
  /** The side along the chord. */
  readonly b: number;
  /** The diagonal from the corner whose angle is asked for. */
  readonly d1: number;
  /** The other diagonal. */
  readonly d2: number;
}

export interface Squareness {
  readonly cos: number;
  /** Between the sides at the corner that d1 leaves, radians; under a right angle when d1 is the longer. */
  readonly angle: number;
  /** How far the far end of b stands out of square, in the sides' unit: above nothing leans along d1. */
  readonly offOverB: number;
  /** d1^2 + d2^2 - 2 a^2 - 2 b^2, unit squared: nothing for a true parallelogram, so it shows a misread tape. */
  readonly closure: number;
}

/**
 * Is the frame square? From the two diagonals, opposite sides being taken as equal:
 * d1^2 and d2^2 are a^2 + b^2 + and - 2 a b cos. Undefined when no frame has those lengths.
 * Example: 400 by 300 with diagonals 501 and 499 is 1.25 out over the 300 side, 89.761 degrees (row 10.1).
 */
export function squareness({ a, b, d1, d2 }: FourSides): Squareness | undefined {
  if (!(a > 0 && b > 0 && d1 > 0 && d2 > 0)) return undefined;
  const cos = ((d1 - d2) * (d1 + d2)) / (4 * a * b);
  if (!(Math.abs(cos) < 1)) return undefined;
  return { cos, angle: Math.acos(cos), offOverB: b * cos, closure: d1 * d1 + d2 * d2 - 2 * (a * a + b * b) };
}

/**
 * The angle between two sides, radians, from the length across their far ends, as with a 3-4-5 on the bench.
 * Undefined when the three lengths close no triangle. Example: 400, 300 and 500 across give a right angle (row 10.11).
 */
export function angleFromSides(a: number, b: number, across: number): number | undefined {
  const cos = (a * a + b * b - across * across) / (2 * a * b);
  return a > 0 && b > 0 && across > 0 && Math.abs(cos) < 1 ? Math.acos(cos) : undefined;
}

/** Heights at the four corners of a panel: the first digit is far along a, the second far along b. */
export interface CornerHeights {
  readonly z00: number;
  readonly z10: number;
  readonly z01: number;
  readonly z11: number;
}

export interface Warp {
  /** How far the corner z11 stands above the plane of the other three. */
  readonly fourthCorner: number;
  /** The same divided by the area: the rate of twist both ways, per unit. */
  readonly perArea: number;
  /** What each corner stands off the best plane, up at z00 and z11, down at the others. */
  readonly leastSquaresResidual: number;
  /** Slope along a at the far edge less that at the near edge, radians. */
  readonly twist: number;
  /** That twist for each unit of b. */
  readonly twistPerUnit: number;
}

/**
 * How far four corners on levels are from one plane: the twist of a panel on the bench. Sides a and b are taken square.
 * Example: corners 0, 0, 0, 4 on 400 by 300 rock by 4, stand 1 off the best plane, twist 0.573 degrees (row 10.6).
 */
export function warp({ z00, z10, z01, z11 }: CornerHeights, a: number, b: number): Warp {
  const fourthCorner = z00 - z10 - z01 + z11;
  const twist = Math.atan((z11 - z01) / a) - Math.atan((z10 - z00) / a);
  return {
    fourthCorner,
    perArea: fourthCorner / (a * b),
    leastSquaresResidual: fourthCorner / 4,
    twist,
    twistPerUnit: twist / b,
  };
}
