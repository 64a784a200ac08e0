import type { Act } from '../../tonight/act.ts';
import type { TonightList } from '../../tonight/tonight.ts';

/** An act as plain data: of its remedies only that there are some, for what they do stays with the engine. */
export interface ListedAct extends Omit<Act, 'remedies'> {
  readonly decides: boolean;
}

/** Tonight's list as plain data, which a worker can hand over. */
export interface Listed extends Pick<TonightList, 'sentence' | 'drill' | 'muted' | 'unasked'> {
  readonly acts: readonly ListedAct[];
  readonly later: readonly ListedAct[];
}

const plain = ({ remedies, ...act }: Act): ListedAct => ({ ...act, decides: remedies.length > 0 });

export const listedOf = ({ sentence, drill, muted, unasked, acts, later }: TonightList): Listed => ({
  sentence,
  drill,
  muted,
  unasked,
  acts: acts.map(plain),
  later: later.map(plain),
});
