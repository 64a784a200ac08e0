import type { LogEntry, Model } from '../schema.ts';
import { sizeBook } from '../sizes.ts';
import type { Edit } from './edits.ts';

/*
 * The journal: what was changed and on which day, kept in the panel file so that it can be read without the program.
 * Light on purpose: many changes of one thing on one day are one entry, from what it was first to what it was last.
 */

/** Steps of the past tense that name one thing: what is said twice on one day is said once. */
const isSame = (a: LogEntry, b: LogEntry): boolean => a.date === b.date && a.what === b.what && a.size === b.size;

const bestOf = (model: Model, size: string | undefined): number | undefined =>
  size === undefined ? undefined : sizeBook(model).find(size)?.best;

/**
 * The same Edit, which also writes itself into the journal under a day: one step for undo. An Edit that is quiet, or
 * that changes nothing, writes nothing.
 */
export function journaled(edit: Edit, date: string): Edit {
  if (edit.quiet) return edit;
  return {
    ...edit,
    apply: (model) => {
      const next = edit.apply(model);
      return next === model ? model : { ...next, log: written(next.log ?? [], entryOf(edit, model, next, date)) };
    },
  };
}

function entryOf(edit: Edit, before: Model, after: Model, date: string): LogEntry {
  const { size } = edit;
  const [was, is] = [bestOf(before, size), bestOf(after, size)];
  return {
    date,
    what: edit.name.slice(0, 500),
    ...(size === undefined ? {} : { size }),
    ...(was === undefined ? {} : { was }),
    ...(is === undefined ? {} : { is }),
  };
}

function written(log: readonly LogEntry[], entry: LogEntry): LogEntry[] {
  const had = log.find((e) => isSame(e, entry));
  if (!had) return [...log, entry];
  const { was: _, ...rest } = entry;
  // What it was before the first change of the day stays.
  const first = had.was === undefined ? {} : { was: had.was };
  return [...log.filter((e) => e !== had), { ...rest, ...first }];
}
