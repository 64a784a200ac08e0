/* Words that the acts share. */

const NUMBERS = [
  'no',
  'one',
  'two',
  'three',
  'four',
  'five',
  'six',
  'seven',
  'eight',
  'nine',
  'ten',
  'eleven',
  'twelve',
];

/** Most names that are said in one line. */
const MOST = 8;

/** `six`; from thirteen on `13`. */
const numberWord = (n: number): string => NUMBERS[n] ?? String(n);

/** `one size`, `five sizes`. */
export const counted = (n: number, one: string, many = `${one}s`): string => `${numberWord(n)} ${n === 1 ? one : many}`;

/** `D2, D3 and D4`; the first seven of more than eight, and how many more. */
export function listed(names: readonly string[]): string {
  if (names.length > MOST) return `${names.slice(0, MOST - 1).join(', ')} and ${names.length - MOST + 1} more`;
  const last = names.at(-1) ?? '';
  return names.length < 2 ? last : `${names.slice(0, -1).join(', ')} and ${last}`;
}

/** The first letter of a sentence small, for the inside of another; a part's mark stays as it is. */
export const inside = (text: string): string =>
  /^[A-Z][a-z]/.test(text) ? text.slice(0, 1).toLowerCase() + text.slice(1) : text;

/** The first letter large. */
export const opening = (text: string): string => text.slice(0, 1).toUpperCase() + text.slice(1);
