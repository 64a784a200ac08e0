import { pieceOf } from '../../checks/at.ts';
import type { Finding } from '../../checks/finding.ts';
import type { LabelWords } from '../../model/checkRow.ts';
import { checkRow } from '../../model/checkTable.ts';
import type { Skeleton } from '../../parts/layout/layout.ts';
import { formatAngle, formatLength } from '../../units.ts';

/** The words of a label: whose it is, what is so, and the same said of several parts at once. */
export interface Wording {
  readonly head: string;
  readonly tail: string;
  readonly many: string;
}

/** Below this a size is a touch and is not said, mm. */
const NOTHING = 0.005;

const piece = ({ at }: Finding): string => pieceOf(at) ?? at.spar ?? 'panel';

/** Whose a label is. */
const HEADS: Readonly<Record<NonNullable<LabelWords['of']>, (f: Finding) => string>> = {
  piece,
  // A rib end: the front one goes without saying.
  end: (f) => (f.at.end === 'rear' ? `${piece(f)} rear` : piece(f)),
  hole: ({ at }) => `${at.joint} ${at.hole}`,
  station: ({ station }) => station ?? 'panel',
  step: ({ at }) => `${at.from} to ${at.to}`,
  line: ({ at }) => `${at.spar} ${at.what}`,
};

const PLAIN: LabelWords = { over: '{sense} {size}' };

/** The words for the side a finding lies on, of one part and of several. */
function sideOf(words: LabelWords, f: Finding): readonly [one: string, many: string] {
  const { over, overs = over, under = over, unders = under, act = under, nothing } = words;
  if (nothing !== undefined && Math.abs(f.value) < NOTHING) return [nothing, nothing];
  if (f.value >= 0) return [over, overs];
  return f.verdict === 'act' && words.act !== undefined ? [act, act] : [under, words.under ? unders : overs];
}

/** Example: M2 whose front end is 0.32 mm too tall is "M2" and "binds 0.32". */
export function wordingOf({ model }: Skeleton, f: Finding): Wording {
  const words: LabelWords = checkRow(f.check).label ?? PLAIN;
  const figures = {
    '{size}': formatLength(Math.abs(f.value), model.units, { unitMark: false }),
    '{angle}': formatAngle((Math.abs(f.value) * Math.PI) / 180),
    '{ratio}': f.value.toFixed(2),
    '{sense}': f.sense,
  };
  const filled = (text: string): string =>
    Object.entries(figures).reduce((said, [mark, figure]) => said.replace(mark, figure), text);
  const [one, many] = sideOf(words, f);
  return { head: words.of ? HEADS[words.of](f) : f.place, tail: filled(one), many: filled(many) };
}

/** "M2 binds 0.32"; with others alike, "D2 and 5 more ride 0.57". */
export function labelText(skeleton: Skeleton, f: Finding, others: number): string {
  const { head, tail, many } = wordingOf(skeleton, f);
  return others > 0 ? `${head} and ${others} more ${many}` : `${head} ${tail}`;
}
