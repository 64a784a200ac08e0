import { formatLength } from '../../../units.ts';

/** One thing wrong with a file: where it stands, and one sentence (found, expected, what to do). */
export interface Fault {
  /** Path in the file, such as `ribs[3].length`. */
  readonly path: string;
  readonly sentence: string;
  /** Where a person may answer "yes, that is what it reads": what makes it doubtful. */
  readonly question?: string;
}

/** Faults one after another, in the order of the file. */
export type Faults = Generator<Fault, void, undefined>;

/** A length as a fault says it: two decimals of a millimetre, whatever unit the panel shows first. */
export const inMm = (v: number): string => formatLength(v, 'mm');

/** Names in a sentence: the first eight, then how many more. */
export const someOf = (ids: readonly string[]): string =>
  ids.length > 8 ? `${ids.slice(0, 8).join(', ')} and ${ids.length - 8} more` : ids.join(', ');
