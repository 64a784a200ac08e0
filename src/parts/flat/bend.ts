import { NEAR } from '../../units/near.ts';

/*
 * What a bend takes out of a flat sheet: allowance, setback, relief holes. Lengths mm, angles degrees: the angle is
 * the one the metal is bent through, 180 less the angle between the flanges.
 */

/** Figures of the empirical bend allowance, per degree: of the inside radius and of the thickness. */
export interface AllowanceRule {
  readonly radius: number;
  readonly thickness: number;
  readonly origin: string;
}

/** FAA-H-8083-31, chapter 4, formula 2. */
export const HANDBOOK_RULE: AllowanceRule = { radius: 0.01743, thickness: 0.0078, origin: 'FAA-H-8083-31, chapter 4' };
/** NAVEDTRA 14018, chapter 13. */
export const MANUAL_RULE: AllowanceRule = { radius: 0.0173, thickness: 0.0078, origin: 'NAVEDTRA 14018, chapter 13' };

export interface Bend {
  /** Inside radius. */
  readonly radius: number;
  readonly thickness: number;
  /** 90 unless told. */
  readonly angle?: number;
}

/**
 * Sheet used up in a bend, from one bend tangent line to the other: (0.01743 R + 0.0078 T) N.
 * Example: R 1.98, T 0.635, 90 degrees is 3.55; by the manual's 0.0173 it is 3.53. Bend a scrap first: it is empirical.
 */
export function bendAllowance({ radius, thickness, angle = 90 }: Bend, rule: AllowanceRule = HANDBOOK_RULE): number {
  return (rule.radius * radius + rule.thickness * thickness) * angle;
}

/** K = tan(N/2) of AC 43.13-1B, table 4-7: 1 at 90 degrees. */
export const setbackFactor = (angle = 90): number => Math.tan((angle * Math.PI) / 360);

/** From the mould line point to the bend tangent line, K(R + T). Example: 0.25 + 0.064 in at 45 degrees is 0.130 in. */
export function setbackOf({ radius, thickness, angle = 90 }: Bend): number {
  return setbackFactor(angle) * (radius + thickness);
}

const INCH = 25.4;
/** Drills for relief holes come in 32nds. */
const STEP = INCH / 32;

/** Least relief hole for a sheet, and whether the handbook's table covers the thickness. */
export interface LeastRelief {
  readonly diameter: number;
  readonly covered: boolean;
}

/**
 * FAA-H-8083-31, chapter 4: 1/8 in up to 0.064 in sheet, 3/16 in from 0.072 to 0.128 in. Sheet between the two takes
 * 3/16 in, thicker sheet too, and `covered` is false: the table does not say.
 */
export function leastRelief(thickness: number): LeastRelief {
  const inches = thickness / INCH;
  // Half a mil: a sheet measured a hair over its name is still that sheet.
  const slack = 0.0005;
  if (inches <= 0.064 + slack) return { diameter: INCH / 8, covered: true };
  return { diameter: (3 * INCH) / 16, covered: inches >= 0.072 - slack && inches <= 0.128 + slack };
}

/**
 * Relief hole for a corner: no less than the table's, nor than `reach` from its centre takes; the next 32nd of an
 * inch.
 */
export function bendRelief(thickness: number, reach = 0): number {
  const least = leastRelief(thickness).diameter;
  return Math.max(least, Math.ceil((2 * reach) / STEP - NEAR) * STEP);
}
