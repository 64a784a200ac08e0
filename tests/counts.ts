/*
 * How often a law is asked and how much is broken, from one setting: RIBTRUE_TESTS=everyday (what holds where nothing is said),
 * all, or long. Few enough every day to be waited for; by the thousand before anything is given away.
 */

interface Counts {
  /** Random panels that a law is asked of. */
  readonly panels: number;
  /** Panels made as drawn and read to the end, of each start. */
  readonly draws: number;
  /** Files and texts damaged at random. */
  readonly damaged: number;
  /** Browser tabs killed in the middle of a change. */
  readonly kills: number;
  /** Panel B is typed cell by cell too, to count what the screens save. */
  readonly longWay: boolean;
  /** When the runner gives a test up, minutes: a net for what hangs, no measure of speed. */
  readonly patience: number;
}

const BY_SETTING: Readonly<Record<string, Counts>> = {
  everyday: { panels: 60, draws: 4, damaged: 1000, kills: 3, longWay: false, patience: 10 },
  all: { panels: 1000, draws: 20, damaged: 10_000, kills: 6, longWay: false, patience: 30 },
  long: { panels: 10_000, draws: 100, damaged: 100_000, kills: 200, longWay: true, patience: 240 },
};

function countsOf(setting: string): Counts {
  const counts = BY_SETTING[setting];
  if (!counts) throw new Error(`RIBTRUE_TESTS is "${setting}"; expected ${Object.keys(BY_SETTING).join(', ')}`);
  return counts;
}

/** The counts of this run. */
export const COUNTS = countsOf(process.env.RIBTRUE_TESTS ?? 'everyday');
