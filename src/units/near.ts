/**
 * The one numerical slack: numbers this close are the same but for their last bits. 9.525/3.175 is 3 at the bench,
 * and must not fall short of 3 D. It belongs to the computer; a tolerance belongs to a drawing, an uncertainty to a
 * reading.
 */
export const NEAR = 1e-9;
