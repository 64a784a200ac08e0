import { isRow, keyOf, type Part, type Row, type Sense } from './rows.ts';

/*
 * A run beside the recorded one, by ratios alone: those travel between machines, milliseconds do not. It tells, it never
 * forbids.
 */

/** What a recording holds: the day, the Node it ran on, and every ratio by its row's name. */
export interface Recorded {
  readonly date: string;
  readonly node: string;
  readonly ratios: Readonly<Record<string, number>>;
}

/** A ratio has changed when it is more than a fifth up or down. */
const CHANGED = 0.2;

const WORDS: Readonly<Record<Sense, readonly [up: string, down: string]>> = {
  time: ['slower', 'faster'],
  speed: ['faster', 'slower'],
  size: ['larger', 'smaller'],
  amount: ['more', 'less'],
};

/** The rows that have a ratio, by the name they are recorded under. */
function withRatio(parts: readonly Part[]): Map<string, Row & { readonly ratio: number }> {
  const out = new Map<string, Row & { readonly ratio: number }>();
  for (const { name, rows } of parts)
    for (const r of rows)
      if (isRow(r) && r.ratio !== undefined && Number.isFinite(r.ratio))
        out.set(keyOf(name, r), { ...r, ratio: r.ratio });
  return out;
}

/** The ratios of a run, to four figures. */
export function ratiosOf(parts: readonly Part[]): Record<string, number> {
  return Object.fromEntries([...withRatio(parts)].map(([key, r]) => [key, Number(r.ratio.toPrecision(4))]));
}

/**
 * What is to be said of each row whose ratio changed by more than a fifth, or is new: 1.31 where 1 was recorded is "slower by 31 %",
 * 0.75 where 1 was is "faster by 25 %". Rows that stayed say nothing.
 */
export function marksOf(parts: readonly Part[], recorded: Recorded): Map<string, string> {
  const marks = new Map<string, string>();
  for (const [key, { ratio, sense }] of withRatio(parts)) {
    const then = recorded.ratios[key];
    const [up, down] = WORDS[sense];
    if (then === undefined) marks.set(key, 'not recorded yet');
    else if (then === 0 || ratio / then < 0) {
      if (ratio !== then) marks.set(key, `${ratio > then ? up : down}: ${then.toPrecision(3)} was recorded`);
    } else {
      const change = ratio / then - 1;
      if (Math.abs(change) > CHANGED)
        marks.set(key, `${change > 0 ? up : down} by ${Math.round(100 * Math.abs(change))} %`);
    }
  }
  return marks;
}

/** The sentence the table ends with. */
export function closing(parts: readonly Part[], recorded: Recorded | undefined): string {
  const now = withRatio(parts);
  if (!recorded) return `${now.size} ratios measured; none recorded to set them against: npm run bench -- --record.`;
  const marks = [...marksOf(parts, recorded)];
  const changed = marks.filter(([, words]) => words !== 'not recorded yet');
  const fresh = marks.length - changed.length;
  const gone = Object.keys(recorded.ratios).filter((key) => !now.has(key));
  const same = now.size - marks.length;
  const since = `the recording of ${recorded.date} (Node ${recorded.node})`;
  const beside =
    changed.length === 0
      ? `${same} ${same === 1 ? 'ratio is' : 'ratios are'} within ${100 * CHANGED} % of ${since}`
      : `${changed.length} of ${changed.length + same} ratios changed by more than ${100 * CHANGED} % since ${since}`;
  return `${beside}${fresh > 0 ? `; ${fresh} not recorded yet` : ''}${gone.length > 0 ? `; ${gone.length} recorded but not measured in this run` : ''}. This is a report, not a gate.`;
}
