import { capital } from '../../units/capital.ts';

/** Faults said at once; the rest are counted. */
const MOST = 2;

const asSentence = (text: string): string => {
  const begun = capital(text);
  return /[.?!]$/.test(begun) ? begun : `${begun}.`;
};

/**
 * What is wrong with an edit, in whole sentences: the first faults, and how many more there are. Empty where nothing
 * is.
 */
export function sentencesOf(faults: readonly { readonly sentence: string }[]): string {
  const said = faults.slice(0, MOST).map((f) => asSentence(f.sentence));
  const more = faults.length - said.length;
  return [...said, ...(more > 0 ? [`And ${more} more of the kind.`] : [])].join(' ');
}
