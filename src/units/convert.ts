/* The only conversions in the project; inside, every length is in millimetres and every angle in radians. */

/** Exact by definition of the inch (1959). */
export const MM_PER_INCH = 25.4;

// Through whole tenths, since 25.4 itself has no exact binary form: so 3/32 in is 2.38125 mm to the last figure.
export const inches = (mm: number): number => (mm * 10) / (MM_PER_INCH * 10);
export const millimetres = (inch: number): number => (inch * (MM_PER_INCH * 10)) / 10;
export const degrees = (rad: number): number => (rad * 180) / Math.PI;
export const radians = (deg: number): number => (deg * Math.PI) / 180;
