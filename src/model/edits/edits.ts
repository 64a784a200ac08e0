import { afterLast } from '../acts.ts';
import type { Fault } from '../file/faults/fault.ts';
import { neighbourFaults } from '../file/faults/neighbours.ts';
import { readingFaults } from '../file/faults/readings.ts';
import { meaningFaults } from '../file/faults.ts';
import { QUANTITIES } from '../quantities.ts';
import { type Model, panelSchema, type Reading } from '../schema.ts';
import { sizeBook } from '../sizes.ts';

/** A named pure step from one Model to the next; what undo counts. */
export interface Edit {
  /** In the past tense of the log: "measured the length of M5". */
  readonly name: string;
  readonly apply: (model: Model) => Model;
  /** The one size it changes: the journal then keeps its value before and after. */
  readonly size?: string;
  /** Nothing for the journal: it changes only how the panel is looked at, or keeps its own date. */
  readonly quiet?: true;
}

/** Groups in which only what is new is checked: they grow with every step of the work. */
const GROWING: readonly (keyof Model)[] = ['readings', 'ticks', 'log'];

/** Runs an Edit and checks what comes out as strictly as a file; nothing is taken when anything is wrong. */
export function applyEdit(
  model: Model,
  edit: Edit,
): { ok: true; model: Model } | { ok: false; faults: readonly Fault[] } {
  const next = edit.apply(model);
  const changed = changedGroups(model, next);
  const onlyGrown = changed.every((k) => GROWING.includes(k));
  const faults = onlyGrown
    ? freshFaults(model, next, changed)
    : [...formFaults(next, changed, model), ...meaningFaults(next)];
  return faults.length > 0 ? { ok: false, faults } : { ok: true, model: next };
}

/** Top-level groups of the file that an Edit replaced; the others were checked when they came in. */
function changedGroups(before: Model, after: Model): (keyof Model)[] {
  const keys = Object.keys(panelSchema.shape) as (keyof Model)[];
  return keys.filter((k) => before[k] !== after[k]);
}

/**
 * Faults of form in groups of a model. Items of a list that stood in `before`, and were checked then, are not read
 * again.
 */
function formFaults(model: Model, groups: readonly (keyof Model)[], before?: Model): Fault[] {
  return groups.flatMap((key) => {
    const [list, had] = [model[key], before?.[key]];
    if (key === 'joints' && Array.isArray(list) && Array.isArray(had) && list.length <= had.length) {
      const known = new Set<unknown>(had);
      return model.joints.flatMap((item, i) => {
        const read = known.has(item) ? undefined : panelSchema.shape.joints.element.safeParse(item);
        return !read || read.success
          ? []
          : read.error.issues.map((issue) => ({ path: [key, i, ...issue.path].join('.'), sentence: issue.message }));
      });
    }
    const read = panelSchema.shape[key].safeParse(model[key]);
    return read.success
      ? []
      : read.error.issues.map((i) => ({ path: [key, ...i.path].join('.'), sentence: i.message }));
  });
}

/**
 * Faults of the readings, ticks and journal entries that were not there before; the rest were checked when they came
 * in.
 */
function freshFaults(before: Model, after: Model, changed: readonly (keyof Model)[]): Fault[] {
  const fresh = { ...after, readings: news(before.readings, after.readings) };
  if (after.ticks) fresh.ticks = news(before.ticks ?? [], after.ticks);
  if (after.log) fresh.log = news(before.log ?? [], after.log);
  const read = changed.includes('readings') ? [...readingFaults(fresh), ...neighbourFaults(after, fresh.readings)] : [];
  return [...formFaults(fresh, changed), ...read];
}

function news<T>(before: readonly T[], after: readonly T[]): T[] {
  const had = new Set(before);
  return after.filter((item) => !had.has(item));
}

/** Puts one reading in place of all earlier ones of its size; with several values, all of them. */
export function measure(
  model: Model,
  size: string,
  values: readonly number[],
  how: Omit<Reading, 'size' | 'value'>,
): Edit {
  const name = sizeBook(model).entries.get(size)?.name ?? size;
  return {
    name: `measured the ${name}`,
    size,
    apply: (m) => {
      const at = m.readings.findIndex((r) => r.size === size);
      const kept = m.readings.filter((r) => r.size !== size);
      const fresh = values.map((value): Reading => ({ size, value, ...how, ...afterLast(m) }));
      const where = at < 0 ? kept.length : at;
      return { ...m, readings: [...kept.slice(0, where), ...fresh, ...kept.slice(where)] };
    },
  };
}

/** Adds one more reading of a size to those it has, with whatever instrument. */
export function measureMore(model: Model, size: string, reading: Omit<Reading, 'size'>): Edit {
  const name = sizeBook(model).entries.get(size)?.name ?? size;
  return {
    name: `measured the ${name} once more`,
    apply: (m) => {
      const at = m.readings.findLastIndex((r) => r.size === size) + 1 || m.readings.length;
      return {
        ...m,
        readings: [...m.readings.slice(0, at), { size, ...reading, ...afterLast(m) }, ...m.readings.slice(at)],
      };
    },
  };
}

/**
 * The same readings, those that were questioned marked as what they really read. `faults` are those of taking just
 * these.
 */
export function confirmed(readings: readonly Reading[], faults: readonly Fault[]): Reading[] {
  const asked = new Set(faults.filter((f) => f.question !== undefined).map((f) => f.path));
  return readings.map((r, i) => (asked.has(`readings[${i}].value`) ? { ...r, sure: true } : r));
}

/** Says of a size that was asked about that it reads so. */
export function confirmSize(model: Model, size: string): Edit {
  const name = sizeBook(model).entryOf(size)?.name ?? size;
  return {
    name: `confirmed the ${name}`,
    size,
    apply: (m) => ({ ...m, readings: m.readings.map((r) => (r.size === size ? { ...r, sure: true } : r)) }),
  };
}

/** Puts readings of many sizes in place of what those sizes had, keeping the others. */
export function takeReadings(readings: readonly Reading[]): Edit {
  const sizes = new Set(readings.map((r) => r.size));
  return {
    name: `took ${readings.length} readings`,
    apply: (m) => {
      const fresh = readings.map((r) => ({ ...r, ...afterLast(m) }));
      return { ...m, readings: [...m.readings.filter((r) => !sizes.has(r.size)), ...fresh] };
    },
  };
}

/** Takes back every reading of a size; the drawing value holds again. */
export function forgetReadings(model: Model, size: string): Edit {
  const name = sizeBook(model).entries.get(size)?.name ?? size;
  return {
    name: `took back the readings of the ${name}`,
    size,
    apply: (m) => ({ ...m, readings: m.readings.filter((r) => r.size !== size) }),
  };
}

function replaced(value: unknown, path: readonly (string | number)[], leaf: number): unknown {
  const [head, ...rest] = path;
  if (head === undefined) return leaf;
  if (Array.isArray(value)) return value.map((v, i) => (i === head ? replaced(v, rest, leaf) : v));
  const group = value as Record<string, unknown>;
  return { ...group, [head]: replaced(group[head], rest, leaf) };
}

/** Changes the drawing value of a size that stands as one number in the file; undefined where it does not. */
export function redraw(model: Model, size: string, value: number): Edit | undefined {
  const entry = sizeBook(model).entries.get(size);
  const path = entry?.path;
  if (!entry || !path) return undefined;
  return { name: `changed the drawing's ${entry.name}`, size, apply: (m) => replaced(m, path, value) as Model };
}

/** The instrument of the last reading of a size, else of the last reading of that kind, else the usual one. */
export function usualInstrument(model: Model, size: string): string {
  const book = sizeBook(model);
  const own = book.readingsOf(size).at(-1);
  if (own) return own.instrument;
  const kind = book.entries.get(size)?.kind;
  if (!kind) return 'caliper';
  const last = model.readings.findLast((r) => book.entries.get(r.size)?.kind === kind);
  return last?.instrument ?? Object.keys(QUANTITIES[kind].u)[0] ?? 'caliper';
}

/**
 * A panel with lengths shown in a unit first: itself where it is. It is no Edit, for it changes nothing of the panel.
 */
export const shownIn = (model: Model, units: Model['units']): Model =>
  model.units === units ? model : { ...model, units };

export const standAt = (stand: Model['stand']): Edit => ({
  name: stand === 'clamped' ? 'clamped the ribs' : `stood the ribs against the ${stand} web`,
  apply: (m) => ({ ...m, stand }),
});

export const reachStage = (id: string): Edit => ({ name: `moved to stage ${id}`, apply: (m) => ({ ...m, now: id }) });
