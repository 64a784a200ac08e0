import type { PaperName } from '../sheets/paper/page.ts';
import { BadCall } from './badCall.ts';
import type { Flag, Flags } from './command.ts';

/* Flags that several commands take, and how they are read. */

export const OUT: Flag = {
  name: '--out',
  value: 'DIR',
  wants: 'a folder',
  says: 'where to; made where it is not',
  needed: true,
};
export const PAPER: Flag = {
  name: '--paper',
  value: 'a4|letter',
  wants: 'a4 or letter',
  says: 'a4 or letter; a4 unless told',
};

/** The folder to write to. */
export function folderOf(flags: Flags, command: string): string {
  const folder = flags.get('--out');
  if (folder === undefined)
    throw new BadCall(`${command} was given no folder to write to; expected "--out DIR"; add it`);
  return folder;
}

/** One word of a few; the first unless told. */
function oneOf<T extends string>(flags: Flags, flag: string, words: readonly [T, ...T[]], what: string): T {
  const asked = flags.get(flag);
  if (asked === undefined) return words[0];
  const found = words.find((w) => w === asked);
  if (found === undefined) throw new BadCall(`"${asked}" is not ${what}; expected ${orOf(words)}; correct it`);
  return found;
}

/** `pdf, svg or dxf`. */
const orOf = (words: readonly string[]): string =>
  [words.slice(0, -1).join(', '), words.slice(-1).join('')].join(' or ');

export const formOf = <T extends string>(flags: Flags, forms: readonly [T, ...T[]], of: string): T =>
  oneOf(flags, '--form', forms, `a form of ${of}`);

export const paperOf = (flags: Flags): PaperName => oneOf(flags, '--paper', ['a4', 'letter'], 'a paper');
export const paperName = (paper: PaperName): string => (paper === 'a4' ? 'A4' : 'Letter');

/** Names with commas between, all of them known; undefined where the flag was not given. */
export function namesGiven(
  flags: Flags,
  flag: string,
  known: readonly string[],
  what: string,
): readonly string[] | undefined {
  const names = flags
    .get(flag)
    ?.split(',')
    .map((name) => name.trim());
  const unknown = names?.find((name) => !known.includes(name));
  if (unknown !== undefined) throw new BadCall(`"${unknown}" is not ${what}; expected ${known.join(', ')}; correct it`);
  return names;
}

/** A number no less than another; `usual` where the flag was not given. */
export function numberOf(flags: Flags, flag: string, usual: number, least: number): number {
  const text = flags.get(flag);
  if (text === undefined) return usual;
  const n = Number(text);
  if (!Number.isFinite(n) || n < least)
    throw new BadCall(
      `"${flag} ${text}" is not a number of ${least} or more; expected one, such as "${flag} ${usual}"; correct it`,
    );
  return n;
}
