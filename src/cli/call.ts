import { BadCall } from './badCall.ts';
import type { Command, Flags } from './command.ts';

/** What was asked: a command, a panel file, flags. */
export interface Call {
  readonly command: Command;
  readonly file: string;
  readonly flags: Flags;
}

function commandOf(commands: ReadonlyMap<string, Command>, name: string | undefined): Command {
  if (!name) throw new BadCall('no command was given; expected "check FILE"; see the lines above');
  const command = commands.get(name);
  if (command) return command;
  const known = [...commands.keys()].map((c) => `"${c}"`).join(' or ');
  throw new BadCall(`"${name}" is not a command; expected ${known}; correct it`);
}

/** Words after the command: flags with their values, and the files. */
function wordsOf(name: string, command: Command, words: readonly string[]): { flags: Flags; files: string[] } {
  const flags = new Map<string, string>();
  const files: string[] = [];
  const left = [...words];
  for (let word = left.shift(); word !== undefined; word = left.shift()) {
    if (word.startsWith('--')) flags.set(word, valueAfter(name, command, word, left));
    else files.push(word);
  }
  return { flags, files };
}

/** The value of a flag, taken off the words that are left; '' for one that stands alone. */
function valueAfter(name: string, command: Command, word: string, left: string[]): string {
  const flag = command.flags.find((f) => f.name === word);
  if (!flag)
    throw new BadCall(
      `"${word}" is not known to ${name}; expected ${command.flags.map((f) => f.name).join(' or ')}; correct it`,
    );
  if (flag.wants === undefined) return '';
  const value = left.shift();
  if (value === undefined || value.startsWith('--'))
    throw new BadCall(`"${word}" was given without its value; expected ${flag.wants} after it; add it`);
  return value;
}

/** Reads what stands after the program's name; throws BadCall where it cannot be followed. */
export function readCall(commands: ReadonlyMap<string, Command>, args: readonly string[]): Call {
  const [name, ...rest] = args;
  const command = commandOf(commands, name);
  const { flags, files } = wordsOf(name ?? '', command, rest);
  const [file] = files;
  if (!file || files.length > 1) throw new BadCall(`${name} takes one panel file and got ${files.length}; name one`);
  return { command, file, flags };
}
