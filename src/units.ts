import { degrees, inches, millimetres, radians } from './units/convert.ts';

/*
 * The only number printing in the project. Inside, every length is in millimetres and every angle in radians; shop
 * units exist in typed text (`units/read.ts`) and in print alone.
 * Where a sign is printed it is the plain '-', and a value that rounds to nothing is printed without one.
 */

export interface PrintOptions {
  /** Print `+` before a value above nothing. */
  readonly signed?: boolean;
  readonly digits?: number;
}

/** Rounds half away from zero as a person would with the decimal figures, and never prints `-0.00`. */
function fixed(value: number, digits: number, signed = false): string {
  if (!Number.isFinite(value)) return 'unknown';
  // Fourteen figures first: dust left by a conversion must not decide a half.
  const [figures = '0', power = '0'] = String(Number(Math.abs(value).toPrecision(14))).split('e');
  const units = Math.round(Number(`${figures}e${Number(power) + digits}`));
  const text = (units / 10 ** digits).toFixed(digits);
  if (units === 0) return text;
  const plus = signed ? '+' : '';
  return `${value < 0 ? '-' : plus}${text}`;
}

/** Prints a length to two decimals of a millimetre or three of an inch: `formatLength(0.8128, 'in')` is `0.032 in`. */
export function formatLength(
  mm: number,
  unit: 'mm' | 'in',
  options: PrintOptions & { readonly unitMark?: boolean } = {},
): string {
  const { signed = false, unitMark = true, digits = unit === 'mm' ? 2 : 3 } = options;
  const text = fixed(unit === 'mm' ? mm : inches(mm), digits, signed);
  return unitMark ? `${text} ${unit}` : text;
}

/** Prints a length both ways: `formatBoth(0.8128)` is `0.81 mm (0.032 in)`. */
export function formatBoth(mm: number, options: { readonly signed?: boolean } = {}): string {
  return `${formatLength(mm, 'mm', options)} (${formatLength(mm, 'in', options)})`;
}

/** What a typed length was understood to be, shown before it is stored: `echo(0.8128)` is `0.813 mm = 0.032 in`. */
export function echo(mm: number): string {
  return `${formatLength(mm, 'mm', { digits: 3 })} = ${formatLength(mm, 'in')}`;
}

/** Prints radians as degrees: `formatAngle(-0.0087266)` is `-0.50°`. */
export function formatAngle(rad: number, options: PrintOptions = {}): string {
  return `${fixed(degrees(rad), options.digits ?? 2, options.signed ?? false)}°`;
}

/**
 * Prints a share (0 to 1) in whole per cent: `formatPercent(0.137)` is `14 %`. A share that is not nothing is never
 * printed as 0 %, nor one short of everything as 100 %: those say `under 1 %` and `over 99 %`.
 */
export function formatPercent(p: number): string {
  if (p > 0 && p < 0.005) return 'under 1 %';
  if (p >= 0.995 && p < 1) return 'over 99 %';
  return `${fixed(p * 100, 0)} %`;
}

/** Prints grams, and kilograms from 1000 g on: `formatMass(256.83)` is `256.8 g`, `formatMass(1234)` is `1.234 kg`. */
export function formatMass(grams: number): string {
  return Math.abs(grams) < 999.95 ? `${fixed(grams, 1)} g` : `${fixed(grams / 1000, 3)} kg`;
}

/** The shortest figures that `back` turns into the value again, or all seventeen when none do exactly. */
function shortest(figure: number, value: number, back: (figure: number) => number): string {
  for (let digits = 1; digits < 17; digits++) {
    const tried = Number(figure.toPrecision(digits));
    if (back(tried) === value) return String(tried);
  }
  return String(Number(figure.toPrecision(17)));
}

/** A finite length with every figure, for a file or an entry box: `exactLength(92.075, 'in')` is `3.625 in`. */
export function exactLength(mm: number, unit: 'mm' | 'in' = 'mm'): string {
  return unit === 'mm' ? `${mm} mm` : `${shortest(inches(mm), mm, millimetres)} in`;
}

/** A finite angle with every figure, in degrees: `exactAngle(0.017453292519943295)` is `1°`. */
export function exactAngle(rad: number): string {
  return `${shortest(degrees(rad), rad, radians)}°`;
}
