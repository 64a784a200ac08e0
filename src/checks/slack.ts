/*
 * The small numbers of the checks, each with its reason. The slack of arithmetic itself is `NEAR` in units; limits of
 * fit stand in the table of checks.
 */

/** Half of the last digit printed, mm or degrees: what is smaller prints as 0.00, and is said as none. */
export const UNSEEN = 0.005;

/** A bow of a spar, mm, that deceives no eye and takes no room worth a word. */
export const SLIGHT_BOW = 0.15;

/** A chance under half of one in a hundred is not worth a word. */
export const RARE = 0.005;
