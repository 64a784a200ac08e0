/* The small numbers of truing, each with its reason. The slack of arithmetic itself is `NEAR` in units. */

/** A reading moved by less, mm or degrees, was not moved: a sum of shares that cancel leaves its last bits. */
export const UNMOVED = 1e-12;

/**
 * Two choices of packs whose largest residuals are this near, in shares of a limit, are as good: a solver's last
 * figures.
 */
export const AS_GOOD = 1e-7;

/**
 * A sum of squares, each in first limits, that counts as no worse: lifting all blocks alike by a few mm changes a
 * tapered panel's twist by so little. Picked.
 */
export const LIFTED_ALIKE = 0.01;

/** Share of a first limit that planing must gain over packing alone to be worth a word. Picked. */
export const WORTH_PLANING = 0.05;
