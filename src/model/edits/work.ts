import { acted, lastAct, movesOf } from '../acts.ts';
import { keptWhole } from '../rested.ts';
import type { Act, Decision, Model, Reading, Work } from '../schema.ts';
import { readingHolds, sizeBook } from '../sizes.ts';
import type { Edit } from './edits.ts';

/*
 * Decided, made, measured: three steps, never one. A remedy that is decided is kept as what it will do to the panel,
 * and can be taken back; the panel itself changes when it is ticked as made; and what it moved is worked out until it
 * is read.
 */

/** Lists of a panel whose items have names, in the order in which they may name one another. */
const LISTS = ['stations', 'sheets', 'ribs', 'doublers', 'brackets', 'joints', 'stages'] as const;
type ListName = (typeof LISTS)[number];
const GROUPS = ['spars', 'webToWeb', 'stand', 'stock'] as const;

interface Named {
  readonly id: string;
}

const alike = (a: unknown, b: unknown): boolean => a === b || JSON.stringify(a) === JSON.stringify(b);

/** Items of a list that are new or changed, and the names of those that are gone. */
function listChange(before: readonly Named[], after: readonly Named[]): { put: Named[]; drop: string[] } {
  const had = new Map(before.map((x) => [x.id, x]));
  const kept = new Set(after.map((x) => x.id));
  return {
    put: after.filter((x) => !alike(had.get(x.id), x)),
    drop: before.filter((x) => !kept.has(x.id)).map((x) => x.id),
  };
}

const bySize = (readings: readonly Reading[]): ReadonlyMap<string, readonly Reading[]> => {
  const map = new Map<string, Reading[]>();
  for (const r of readings) {
    const list = map.get(r.size);
    if (list) list.push(r);
    else map.set(r.size, [r]);
  }
  return map;
};

/**
 * Readings that a change leaves otherwise: what is carried along by a known amount is worked out, not read. A reading
 * that is carried by less than counts (half its uncertainty, with all that moved it before) is still one.
 */
function readingChange(before: Model, after: Model, moves: Act['moves']): { put: Reading[]; drop: string[] } {
  const [had, has] = [bySize(before.readings), bySize(after.readings)];
  const sizes = [...new Set([...had.keys(), ...has.keys()])].filter((s) => !alike(had.get(s), has.get(s)));
  const put = sizes.flatMap((s) =>
    (has.get(s) ?? []).map((r, i): Reading => {
      const from = had.get(s)?.[i];
      const carried = from && { ...from, value: r.value };
      const isCarried = carried !== undefined && alike({ ...carried, note: '' }, { ...r, note: '' });
      return isCarried && stillRead(before, carried, moves) ? carried : { ...r, worked: true };
    }),
  );
  return { put, drop: sizes };
}

/** Whether a reading still holds once a change has moved its size too. */
function stillRead(before: Model, reading: Reading, moves: Act['moves']): boolean {
  const entry = sizeBook(before).entryOf(reading.size);
  const move = moves.find((m) => m.size === reading.size);
  if (!entry || !move) return false;
  const next = { n: lastAct(before) + 1, by: move.by, u: move.u };
  return readingHolds(before, entry.kind, [...movesOf(before, reading.size), next], reading);
}

/** How far a change moves each size, with the doubt of doing it: by what the book of sizes says before and after. */
function movesBetween(before: Model, after: Model, doubt: number): Act['moves'] {
  const [was, is] = [sizeBook(before), sizeBook(after)];
  const moves: Act['moves'] = [];
  for (const key of is.entries.keys()) {
    const [a, b] = [was.find(key), is.find(key)];
    if (!b || (a && a.best === b.best && a.origin === b.origin)) continue;
    const by = a ? { by: b.best - a.best } : {};
    moves.push({ size: key, ...by, u: doubt });
  }
  return moves;
}

/**
 * What a change does to a panel, as plain data: parts put in and taken out, groups of the drawing set anew, readings
 * that no longer hold, and the sizes it moves. `doubt` is that of the work itself, one standard uncertainty in mm.
 */
export function workBetween(before: Model, after: Model, doubt: number): Work {
  const put: Record<string, unknown> = {};
  const drop: Record<string, unknown> = {};
  const changes = LISTS.map((name) => [name, listChange(before[name], after[name])] as const);
  const moves = movesBetween(before, after, doubt);
  for (const [name, change] of [...changes, ['readings', readingChange(before, after, moves)] as const]) {
    if (change.put.length > 0) put[name] = change.put;
    if (change.drop.length > 0) drop[name] = change.drop;
  }
  const set: Record<string, unknown> = {};
  for (const name of GROUPS) if (!alike(before[name], after[name])) set[name] = after[name];
  return { put, drop, set, moves } as Work;
}

function listWith<T extends Named>(list: readonly T[], put: readonly T[], drop: readonly string[]): T[] {
  const changed = new Map(put.map((x) => [x.id, x]));
  const gone = new Set(drop);
  const kept = list.filter((x) => !gone.has(x.id)).map((x) => changed.get(x.id) ?? x);
  const had = new Set(list.map((x) => x.id));
  return [...kept, ...put.filter((x) => !had.has(x.id))];
}

/** The panel with some work done to it, nothing written down. */
function workDone(model: Model, { put, drop, set }: Work): Model {
  const next: Model = { ...model };
  const write = <K extends ListName>(name: K): void => {
    const items = (put[name] ?? []) as unknown as Named[];
    const gone = drop[name] ?? [];
    if (items.length > 0 || gone.length > 0) next[name] = listWith<Named>(model[name], items, gone) as Model[K];
  };
  for (const name of LISTS) write(name);
  for (const name of GROUPS) if (set[name] !== undefined) Object.assign(next, { [name]: set[name] });
  const sizes = new Set(drop.readings ?? []);
  if (sizes.size > 0 || put.readings)
    next.readings = [...model.readings.filter((r) => !sizes.has(r.size)), ...(put.readings ?? [])];
  return next;
}

/** Whether a decision is decided only: what it does is kept, and not done yet. */
export const isOpen = (d: Decision): boolean => d.kind === 'taken' && d.made === undefined && d.does !== undefined;

/** Decisions that are decided and not made, oldest first. */
export const openDecisions = (model: Pick<Model, 'decisions'>): Decision[] => (model.decisions ?? []).filter(isOpen);

/** The panel with all work done that is decided and not made. */
const allDone = keptWhole((model): Model => {
  const panel: Model = { ...model };
  return openDecisions(panel).reduce((m, d) => (d.does ? workDone(m, d.does) : m), panel);
});

/**
 * The panel as it will be once all that is decided is made: what is cut, bent and put into bags. Findings and gates
 * are asked of the panel as made.
 */
export function asDecided(model: Model): Model {
  return openDecisions(model).length === 0 ? model : allDone(model);
}

const KIND: readonly (readonly [group: 'doublers' | 'ribs' | 'stations', kind: Act['kind']])[] = [
  ['stations', 'moved'],
  ['ribs', 'made'],
  ['doublers', 'fitted'],
];

/** What kind of act it is to carry out a decision: by what it puts in. */
function kindOf({ put, set }: Work): Act['kind'] {
  const found = KIND.find(([group]) => (put[group] ?? []).length > 0);
  if (found) return found[1];
  return set.stock ? 'packed' : 'bent';
}

/**
 * Ticks a decision as made: the panel changes, the act is numbered, and what it moved is worked out until it is read.
 */
export function madeIt(id: string, { by, date }: { readonly by: string; readonly date: string }): Edit {
  return {
    name: 'ticked what was decided as made',
    quiet: true,
    apply: (model) => {
      const decision = model.decisions?.find((d) => d.id === id);
      if (!decision?.does || !isOpen(decision)) return model;
      const { does, ...rest } = decision;
      const changed = workDone(model, does);
      const done = acted(changed, {
        kind: kindOf(does),
        what: decision.what,
        date,
        by,
        decision: id,
        moves: does.moves,
      });
      const made = { ...rest, made: { date, by, act: lastAct(done) } };
      return { ...done, decisions: (done.decisions ?? []).map((d) => (d.id === id ? made : d)) };
    },
  };
}

/** Takes a decision back that is not made yet. One that is made stays: undo it at the bench, and write that down. */
export function takenBack(id: string): Edit {
  return {
    name: 'took back a decision',
    apply: (model) => {
      const decision = model.decisions?.find((d) => d.id === id);
      if (!decision || !isOpen(decision)) return model;
      return { ...model, decisions: (model.decisions ?? []).filter((d) => d.id !== id) };
    },
  };
}

/** Work done by hand at once, undecided before: the panel as it then is, what it moved worked out until it is read. */
export function doneByHand(after: Model, act: Pick<Act, 'kind' | 'what' | 'date' | 'by'>, doubt: number): Edit {
  return {
    name: act.what,
    apply: (model) => {
      const work = workBetween(model, after, doubt);
      return acted(workDone(model, work), { ...act, moves: work.moves });
    },
  };
}
