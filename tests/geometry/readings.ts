/** Readings that more than one test file takes a line through; the rows are those of the list of published values. */
export interface Readings {
  readonly x: readonly number[];
  readonly y: readonly number[];
}

/** Row 3.1: NIST Statistical Reference Datasets, Norris. */
export const NORRIS: Readings = {
  x: [
    0.2, 337.4, 118.2, 884.6, 10.1, 226.5, 666.3, 996.3, 448.6, 777, 558.2, 0.4, 0.6, 775.5, 666.9, 338, 447.5, 11.6,
    556, 228.1, 995.8, 887.6, 120.2, 0.3, 0.3, 556.8, 339.1, 887.2, 999, 779, 11.1, 118.3, 229.2, 669.1, 448.9, 0.5,
  ],
  y: [
    0.1, 338.8, 118.1, 888, 9.2, 228.1, 668.5, 998.5, 449.1, 778.9, 559.2, 0.3, 0.1, 778.1, 668.8, 339.3, 448.9, 10.8,
    557.7, 228.3, 998, 888.8, 119.6, 0.3, 0.6, 557.6, 339.3, 888, 998.5, 778.9, 10.2, 117.6, 228.9, 668.4, 449.2, 0.2,
  ],
};

/** Row 3.7: Giordano, Fox and Horton, A First Course in Mathematical Modeling, 3.1. */
export const SIX_POINTS: Readings = { x: [1, 2.3, 3.7, 4.2, 6.1, 7], y: [3.6, 3, 3.2, 5.1, 5.3, 6.8] };

/** Row 3.8: K. Pearson, Phil. Mag. 2 (1901). */
export const PEARSON: Readings = {
  x: [0, 0.9, 1.8, 2.6, 3.3, 4.4, 5.2, 6.1, 6.5, 7.4],
  y: [5.9, 5.4, 4.4, 4.6, 3.5, 3.7, 2.8, 2.8, 2.4, 1.5],
};

/** Row 3.13: leading-edge readings, mm. */
export const READINGS_A: Readings = {
  x: [0, 250, 500, 750, 1000, 1250, 1500, 1750, 2000],
  y: [0, 0.3, 0.4, 0.9, 0.6, 0.5, 0.7, 0.2, 0.1],
};
