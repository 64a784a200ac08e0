import { type BasisWord, basisOfRests } from '../checks/basis.ts';
import { type Rests, restsTogether, type Want } from '../checks/evidence.ts';
import type { Finding } from '../checks/finding.ts';
import { sameItems } from '../model/rested.ts';

/*
 * What a gate is: a list of items, each with its answer, what it rests on and the first thing to do. Yes is said only
 * where every item was asked and answered yes; nothing that was not asked is ever yes.
 */

/** not asked: no check could be put, or nobody looked. */
export type GateAnswer = 'yes' | 'no' | 'unsettled' | 'not asked';

export interface GateItem {
  readonly name: string;
  /**
   * How it stands, as a fact: the name where it is so, what is the matter where it is not, that it is open where
   * nobody knows.
   */
  readonly says: string;
  readonly answer: GateAnswer;
  /** First thing to do where the answer is not yes. */
  readonly first: string;
  readonly rests: Rests;
  /** What the answer rests on in one word: of a no or an unsettled what its finding does, else the weakest of all. */
  readonly basis: BasisWord;
  /** The things that nobody looked at, each with the size to read or the tick to set: what to do about it, as data. */
  readonly asks: readonly Want[];
  /** The finding that decides: the worst that was asked. */
  readonly finding?: Finding;
  /** What was decided about it. A note never turns a no or an unsettled into a yes. */
  readonly note?: string;
}

export type GateId = 'pilots' | 'final' | 'skin';

export interface Gate {
  readonly id: GateId;
  readonly question: string;
  /** yes only when every row of the present stage is, and for the skin every item. */
  readonly answer: GateAnswer;
  /** How many rows of the present stage are yes. */
  readonly rows: { readonly yes: number; readonly of: number };
  readonly items: readonly GateItem[];
}

export const QUESTIONS: Readonly<Record<GateId, string>> = {
  pilots: 'May I drill pilots?',
  final: 'May I open to final?',
  skin: 'May I skin?',
};

/** Worst first: what speaks against it, what is in doubt, what nobody looked at. */
const WORST: readonly GateAnswer[] = ['no', 'unsettled', 'not asked', 'yes'];
const rank = (answer: GateAnswer): number => WORST.indexOf(answer);

/**
 * The answer of several together: no where any is, else unsettled, else not asked; yes only where all are, and where
 * there is any.
 */
export function together(answers: readonly GateAnswer[]): GateAnswer {
  return WORST.find((a) => answers.includes(a)) ?? 'not asked';
}

/** The item that decides among several of one name: the worst, and of two alike the first. */
export function worstItem(items: readonly GateItem[]): GateItem | undefined {
  return items.reduce<GateItem | undefined>(
    (worst, item) => (!worst || rank(item.answer) < rank(worst.answer) ? item : worst),
    undefined,
  );
}

/** Things to look at, each once, in their order. */
function eachOnce(wants: readonly Want[]): Want[] {
  const byName = new Map<string, Want[]>();
  return wants.filter((want) => {
    const had = byName.get(want.name) ?? [];
    if (had.some(({ keys }) => sameItems(keys, want.keys))) return false;
    byName.set(want.name, [...had, want]);
    return true;
  });
}

/** Items of one name from many rows as one: the worst decides, and what they rest on is counted together. */
export function mergedItem(items: readonly GateItem[]): GateItem | undefined {
  const worst = worstItem(items);
  const apart = [...new Set(items)];
  const asks = eachOnce(apart.flatMap((i) => i.asks));
  return worst && { ...worst, rests: restsTogether(apart.map((i) => i.rests)), asks };
}

export const NOTHING: Rests = { read: 0, of: 0, ticked: 0, last: null, missing: [] };

/** How an item is called where it is so, where it is not, and where nobody knows. */
export interface ItemWords {
  readonly name: string;
  readonly not: string;
}

const unsettledOf = (name: string): string => `not settled whether ${name}`;

/** An item with its fact in words. */
export function item(
  { name, not }: ItemWords,
  answer: GateAnswer,
  first: string,
  rests: Rests,
  more: Partial<Pick<GateItem, 'finding' | 'note' | 'asks' | 'basis'>> = {},
): GateItem {
  const says: Record<GateAnswer, string> = {
    yes: name,
    no: not,
    unsettled: unsettledOf(name),
    'not asked': `not asked whether ${name}`,
  };
  const known = basisOfRests(rests);
  const basis = answer === 'not asked' && known === 'recorded' ? 'not asked' : known;
  return { name, says: says[answer], answer, first, rests, asks: [], basis, ...more };
}
