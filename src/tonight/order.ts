import type { HoleAnswer } from '../drilling/hole.ts';
import { type Act, type Draft, PHASES, type Phase } from './act.ts';
import { inside } from './words.ts';

/*
 * The rules of order, one function each: what is disputed first; causes before what they cause; reading before metal;
 * loose, standing, clamped, drilled; nothing drilled before its gate says yes; metal once; an evening has hours.
 * Where two acts are free of all of them, the panel is walked from the root out.
 */

/** Two acts by key: the first comes before the second. */
export type Before = readonly [first: string, then: string];

const among = (drafts: readonly Draft[], phase: Phase): Draft[] => drafts.filter((d) => d.phase === phase);

/** 1. What disagrees is read again before anything rests on it, and before any metal is cut for it. */
export function disputedFirst(drafts: readonly Draft[]): Before[] {
  const others = drafts.filter((d) => d.phase !== 'disputed');
  return among(drafts, 'disputed').flatMap((d) => others.map((o): Before => [d.key, o.key]));
}

/** 2. What an act says it rests on comes before it: the cause before what it causes. */
export function causesFirst(drafts: readonly Draft[]): Before[] {
  const here = new Set(drafts.map((d) => d.key));
  return drafts.flatMap((d) => d.rests.filter((key) => here.has(key)).map((key): Before => [key, d.key]));
}

/** 3. A reading that could change what metal is made comes before that metal. */
export function readingFirst(drafts: readonly Draft[], decides: readonly Before[]): Before[] {
  const here = new Set(drafts.map((d) => d.key));
  return decides.filter(([reading, metal]) => here.has(reading) && here.has(metal));
}

const place = (d: Draft): number => PHASES.indexOf(d.phase);

/** 4. Loose, standing, clamped, drilled: an act comes in its state; in one state from the root out, then by name. */
export function byState(a: Draft, b: Draft, along: (station: string | undefined) => number): number {
  return place(a) - place(b) || along(a.stations[0]) - along(b.stations[0]) || (a.key < b.key ? -1 : 1);
}

/** 5. Of all holes those that may be drilled: the ones whose row's gate says yes and whose own answer is good. */
export const onlyNow = (holes: readonly HoleAnswer[]): HoleAnswer[] =>
  holes.filter((h) => h.state === 'now' && h.gate === 'yes');

const METAL: ReadonlySet<Draft['kind']> = new Set<Draft['kind']>(['make', 'bend']);
const isAgain = (d: Draft): boolean => d.remedies.some((r) => r.cost.remade > 0);

/** Both done in one go. */
const together = (a: Draft, b: Draft): Draft => ({
  ...a,
  what: `${a.what}; ${inside(b.what)}`,
  minutes: a.minutes + b.minutes,
  parts: [...new Set([...a.parts, ...b.parts])],
  remedies: [...a.remedies, ...b.remedies],
});

/** Two acts on one part as one: the one that makes it again, else the first, answering what both answer. */
function asOne(a: Draft, b: Draft): Draft {
  const [kept, other] = isAgain(b) && !isAgain(a) ? [b, a] : [a, b];
  const both = isAgain(kept) ? kept : together(kept, other);
  return {
    ...both,
    settles: [...new Set([...kept.settles, ...other.settles])],
    holes: [...new Set([...kept.holes, ...other.holes])],
    rests: [...new Set([...kept.rests, ...other.rests])].filter((key) => key !== kept.key && key !== other.key),
  };
}

/** 6. Metal once: acts that make or bend one part are one act. */
export function metalOnce(drafts: readonly Draft[]): Draft[] {
  const all: Draft[] = [];
  for (const d of drafts) {
    const at = METAL.has(d.kind) ? all.findIndex((o) => METAL.has(o.kind) && o.parts[0] === d.parts[0]) : -1;
    const had = all[at];
    if (had && d.parts.length > 0) all[at] = asOne(had, d);
    else all.push(d);
  }
  return all;
}

/** Drafts in the order that the rules leave: no act before one it must follow, else by state. */
export function inOrder(
  drafts: readonly Draft[],
  before: readonly Before[],
  along: (station: string | undefined) => number,
): Act[] {
  const left = new Map([...drafts].sort((a, b) => byState(a, b, along)).map((d) => [d.key, d]));
  const firsts = new Map<string, Set<string>>();
  for (const [first, then] of before) {
    if (!left.has(first) || !left.has(then) || first === then) continue;
    firsts.set(then, (firsts.get(then) ?? new Set()).add(first));
  }
  const numbers = new Map<string, number>();
  const acts: Act[] = [];
  while (left.size > 0) {
    const isFree = (d: Draft): boolean => [...(firsts.get(d.key) ?? [])].every((key) => numbers.has(key));
    const next = [...left.values()].find(isFree) ?? [...left.values()][0];
    if (!next) break;
    left.delete(next.key);
    const n = acts.length + 1;
    numbers.set(next.key, n);
    const after = [...(firsts.get(next.key) ?? [])].flatMap((key) => numbers.get(key) ?? []);
    acts.push({ ...next, n, after: after.filter((m) => m < n).sort((a, b) => a - b) });
  }
  return acts;
}

/** What fits into an evening, and what is left for another. */
export interface Cut {
  readonly tonight: readonly Act[];
  readonly later: readonly Act[];
}

const HOUR = 60;

/** 7. An evening has hours: the list is cut where it no longer fits, but never before its first act. */
export function withinHours(acts: readonly Act[], hours: number | undefined): Cut {
  if (hours === undefined) return { tonight: acts, later: [] };
  let minutes = 0;
  const over = acts.findIndex((a, i) => {
    minutes += a.minutes;
    return i > 0 && minutes > hours * HOUR;
  });
  return over < 0 ? { tonight: acts, later: [] } : { tonight: acts.slice(0, over), later: acts.slice(over) };
}
