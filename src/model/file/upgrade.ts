/**
 * Old panel files brought to the present version, one named step each. A step takes the whole file as plain data and
 * returns a new one with the next version number; it never changes its input.
 */

export const FORMAT = 'ribtrue-panel';
export const VERSION = 2;

export type PlainFile = Readonly<Record<string, unknown>>;

export interface UpgradeStep {
  readonly from: number;
  /** What the step does, in words for the person who opens the file. */
  readonly name: string;
  readonly apply: (file: PlainFile) => PlainFile;
}

/** A remedy taken in a file of before changed the panel at once: it was made, on the day it was decided. */
function madeAtOnce(file: PlainFile): PlainFile {
  const { decisions } = file;
  if (!Array.isArray(decisions)) return file;
  const made = (d: unknown): unknown => {
    if (d === null || typeof d !== 'object' || Array.isArray(d)) return d;
    const { kind, date } = d as PlainFile;
    return kind === 'taken' && typeof date === 'string' ? { ...d, made: { date, by: '' } } : d;
  };
  return { ...file, decisions: decisions.map(made) };
}

export const STEPS: readonly UpgradeStep[] = [
  { from: 1, name: 'remedies that were taken count as made', apply: madeAtOnce },
];

/**
 * Runs every step from the file's version to `to`, in order; the names of the steps taken come back with the file.
 * Throws RangeError when a step is missing, which is a fault of the program, not of the file.
 */
export function upgrade(
  file: PlainFile,
  from: number,
  steps: readonly UpgradeStep[] = STEPS,
  to: number = VERSION,
): { file: PlainFile; taken: readonly string[] } {
  let at = from;
  let now = file;
  const taken: string[] = [];
  while (at < to) {
    const step = steps.find((s) => s.from === at);
    if (!step) throw new RangeError(`no upgrade step leads on from version ${at}`);
    now = { ...step.apply(now), version: at + 1 };
    taken.push(step.name);
    at++;
  }
  return { file: now, taken };
}
