/*
 * When thin sheet goes out of flat: elastic buckling of plates and round sheet. Textbook values for perfect sheet with
 * ideal edges; a real skin is neither, so what comes from here is an estimate of where to look. MPa, mm.
 */

/** Aluminium sheet, MIL-HDBK-5J tables 3.2.3 and 3.6.2: 10.5 and 9.9 million psi; Poisson 0.33 both. */
const POISSON = 0.33;
const PSI_MILLION = 6894.757293168;

/**
 * Young's modulus by alloy, MPa: 2024 10.5, 6061 and 5052 9.9 to 10.2, 7075 10.3 million psi (MIL-HDBK-5J; 5052 and
 * 7075 recalled).
 */
export function modulusOf(alloy: string): number {
  if (alloy.startsWith('2024')) return 10.5 * PSI_MILLION;
  if (alloy.startsWith('7075')) return 10.3 * PSI_MILLION;
  return (alloy.startsWith('5052') ? 10.2 : 9.9) * PSI_MILLION;
}

/** Shear modulus by alloy, MPa: 2024 4.0, others 3.8 to 3.9 million psi (MIL-HDBK-5J; 5052 and 7075 recalled). */
export function shearModulusOf(alloy: string): number {
  if (alloy.startsWith('2024')) return 4.0 * PSI_MILLION;
  return (alloy.startsWith('7075') ? 3.9 : 3.8) * PSI_MILLION;
}

/** Buckling stress of a plate, k π² E/(12(1 - ν²)) (t/b)². k 4, 71000 MPa, 0.5 over 100 mm: 6.553 MPa. */
export function plateStress(k: number, modulus: number, thickness: number, breadth: number, poisson = POISSON): number {
  return ((k * Math.PI ** 2 * modulus) / (12 * (1 - poisson ** 2))) * (thickness / breadth) ** 2;
}

/**
 * k of a long plate in compression along its length, by its two long edges (Gerard and Becker, NACA TN 3781):
 * resting, held fast, or one free.
 */
export const LONG_PLATE = { resting: 4, fast: 6.970905, oneFree: 0.425 } as const;

/**
 * k of a plate a long and b broad, all edges resting, compressed along a: least over half-waves m of (mb/a + a/mb)².
 * 4 at whole a/b.
 */
export function restingPlate(aspect: number): number {
  let least = Number.POSITIVE_INFINITY;
  const most = Math.ceil(aspect) + 1;
  for (let m = 1; m <= most; m++) least = Math.min(least, (m / aspect + aspect / m) ** 2);
  return least;
}

/** k of a resting plate in shear, a ≥ b: 5.34 + 4.00 (b/a)² (Timoshenko and Gere, 9.7). */
export function shearPlate(aspect: number): number {
  return 5.34 + 4 / aspect ** 2;
}

/**
 * k of a long perfect curved panel, edges resting, Z = b²√(1 - ν²)/(Rt): 4 + 3Z²/π⁴ while nearly flat, then the
 * cylinder's own 4√3 Z/π² (Batdorf, NACA TR 874).
 */
export function curvedPanel(z: number): number {
  const turn = (2 * Math.PI ** 2) / Math.sqrt(3);
  return z < turn ? 4 + (3 * z * z) / Math.PI ** 4 : (4 * Math.sqrt(3) * z) / Math.PI ** 2;
}

/**
 * What is left of a perfect cylinder's buckling stress in a real one, by radius over thickness (NASA SP-8007, lower
 * bound): 200 → 0.471.
 */
export function knockDown(ratio: number, load: 'compression' | 'bending' = 'compression'): number {
  return 1 - (load === 'compression' ? 0.901 : 0.731) * (1 - Math.exp(-Math.sqrt(ratio) / 16));
}

/** Buckling stress of round sheet in compression, perfect and knocked down, MPa: E t/(r√(3(1 - ν²))). */
export function roundStress(
  modulus: number,
  thickness: number,
  radius: number,
  poisson = POISSON,
): { readonly perfect: number; readonly likely: number } {
  const perfect = (modulus * thickness) / (radius * Math.sqrt(3 * (1 - poisson ** 2)));
  return { perfect, likely: perfect * knockDown(radius / thickness) };
}
