import type { Model } from '../model/schema.ts';

/** Flags by name; one that takes a value has it, one that stands alone has ''. */
export type Flags = ReadonlyMap<string, string>;

/** One flag of a command. */
export interface Flag {
  readonly name: `--${string}`;
  /** What stands after it, as the usage shows it: `DIR`, `a4|letter`; absent where it stands alone. */
  readonly value?: string;
  /** What stands after it, in words, for a call that left it out. */
  readonly wants?: string;
  readonly says: string;
  /** Without it there is nothing to do. */
  readonly needed?: true;
}

/** What a command has to say when it is done, and with which exit code: 0 or 1, as the usage says. */
interface Outcome {
  readonly text: string;
  readonly code: 0 | 1;
}

/** One thing the terminal can be asked. */
export interface Command {
  /** What it prints or writes. */
  readonly says: string;
  readonly flags: readonly Flag[];
  readonly run: (model: Model, flags: Flags) => Outcome | Promise<Outcome>;
}

/** An answer for other programs: unrounded, one key a line. */
export const json = (answer: unknown): string => JSON.stringify(answer, null, 1);
