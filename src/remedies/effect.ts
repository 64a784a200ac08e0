import { checkAll } from '../checks/checkAll.ts';
import { type Finding, severity } from '../checks/finding.ts';
import { applyEdit } from '../model/edits/edits.ts';
import type { Fault } from '../model/file/faults/fault.ts';
import type { Model } from '../model/schema.ts';
import type { Remedy } from './remedy.ts';

/*
 * What else moves? A remedy is judged by applying its Edit and asking every check again; nothing is stored of what it
 * should do.
 */

/** One finding before and after; either is missing where the place itself came or went. */
export interface FindingChange {
  readonly id: string;
  readonly before: Finding | undefined;
  readonly after: Finding | undefined;
  /** Verdict rank after less before: positive is worse. */
  readonly worse: number;
}

export interface Effect {
  readonly model: Model;
  /** Everything that moves, changed verdicts first, the worst first among them. */
  readonly changes: readonly FindingChange[];
}

const rank = (f: Finding | undefined): number => (f ? severity(f.verdict) : 0);
const moved = (a: Finding | undefined, b: Finding | undefined): boolean =>
  !a || !b || a.verdict !== b.verdict || Math.abs(a.value - b.value) > 1e-6 || Math.abs(a.u - b.u) > 1e-6;

/** Findings of two models side by side, those that moved. */
export function changesBetween(before: Model, after: Model): FindingChange[] {
  const was = new Map(checkAll(before).map((f) => [f.id, f]));
  const is = new Map(checkAll(after).map((f) => [f.id, f]));
  const changes: FindingChange[] = [];
  for (const id of new Set([...was.keys(), ...is.keys()])) {
    const [a, b] = [was.get(id), is.get(id)];
    if (moved(a, b)) changes.push({ id, before: a, after: b, worse: rank(b) - rank(a) });
  }
  const top = (c: FindingChange): number => Math.max(rank(c.before), rank(c.after));
  return changes.sort(
    (p, q) =>
      Number(q.worse !== 0) - Number(p.worse !== 0) || q.worse - p.worse || top(q) - top(p) || (p.id < q.id ? -1 : 1),
  );
}

/** What a set of remedies taken together changes, or the faults that make them impossible. */
export function effectOf(
  model: Model,
  remedies: readonly Remedy[],
): { ok: true; effect: Effect } | { ok: false; faults: readonly Fault[] } {
  let now = model;
  for (const r of remedies) {
    const done = applyEdit(now, r.edit);
    if (!done.ok) return done;
    now = done.model;
  }
  return { ok: true, effect: { model: now, changes: changesBetween(model, now) } };
}
