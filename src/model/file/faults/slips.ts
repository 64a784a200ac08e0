/*
 * Slips of unit and of point: when a value is so far off what is expected that a person is asked about it.
 */

/** From here up a size is doubted by its share alone, mm; below, by what its tolerance allows. */
const SMALL = 20;
/**
 * What a small size may be off beside its tolerances before anybody asks, mm: picked. Sheets differ by little, so
 * little is asked about.
 */
export const FLOOR = 0.3;
export const SHEET_FLOOR = 0.05;
/** A size no larger is none, mm: nothing is so many times as much as it. */
const NOTHING = 1e-6;
/** How near a ratio must come to a known one to be taken for it. */
const NEAR_RATIO = 0.12;

/**
 * How far a size may be off its drawing before it is doubted, mm. Below 20 mm three tolerances and a floor, but never
 * less than 15 %, and never more than half of it where that is more than the floor.
 */
function allowed(expected: number, tolerance: number, floor: number): number {
  const size = Math.abs(expected);
  if (size >= SMALL) return 0.15 * size;
  const most = Math.max(3 * tolerance + floor, 0.15 * size);
  return Math.max(floor, Math.min(most, size / 2));
}

/** The slip a value is known by; undefined where it is known by none. */
export function knownSlip(value: number, expected: number): string | undefined {
  const ratio = Math.abs(value / expected);
  const near = (k: number): boolean => Math.abs(ratio / k - 1) < NEAR_RATIO;
  if (near(25.4) || near(1 / 25.4)) return 'millimetres and inches look exchanged';
  if (near(10) || near(0.1)) return 'a decimal point looks slipped';
  return undefined;
}

/**
 * What looks wrong with a value: about ten or 25.4 times (or a tenth, or 1/25.4 of) what is expected, or far off it;
 * undefined where nothing does. Without a tolerance a small size is asked about for a known slip alone.
 *
 * @example `doubtful(7.81, 200)` is "millimetres and inches look exchanged".
 */
export function doubtful(value: number, expected: number, tolerance?: number, floor = FLOOR): string | undefined {
  if (Math.abs(expected) < NOTHING) return undefined;
  const slip = knownSlip(value, expected);
  if (slip) return slip;
  if (tolerance === undefined && Math.abs(expected) < SMALL) return undefined;
  const ratio = Math.abs(value / expected);
  const off = Math.abs(Math.abs(value) - Math.abs(expected));
  if (off <= allowed(expected, tolerance ?? 0, floor)) return undefined;
  return ratio >= 3
    ? `that is ${Math.round(ratio)} times as much`
    : `that is ${Math.round(Math.abs(ratio - 1) * 100)} % off`;
}
