import { type DBSchema, type IDBPDatabase, openDB } from 'idb';

/*
 * The browser's own database, where panels are kept: every state of each, so that a reload, a closed tab or a wrong
 * change loses nothing. A state and its panel's record are written in one transaction: both are there or neither.
 * States are in order by their count, never by the clock, which may be set back; the date is only for people to read.
 */

/** One panel kept here. */
export interface KeptPanel {
  readonly id: string;
  readonly name: string;
  /** The count of its newest state. */
  readonly head: number;
  /** When that was kept, as the clock had it. */
  readonly at: number;
  /** Each state still here, oldest first, and how many characters it is. */
  readonly states: readonly (readonly [seq: number, chars: number])[];
  /** The invented panel it came from, while nothing in it was changed. */
  readonly demo?: string;
  /** Why it is here, where it was not opened by hand. */
  readonly note?: string;
}

/** One state of a panel: the step that made it, and the whole file. */
export interface KeptState {
  readonly panel: string;
  readonly seq: number;
  readonly step: string;
  readonly at: number;
  readonly text: string;
}

interface Kept extends DBSchema {
  kept: { key: string; value: KeptPanel };
  states: { key: [string, number]; value: KeptState };
  marks: { key: string; value: string };
  /** Of version 1: the one panel's text under 'current'. */
  panels: { key: string; value: string };
}

const NAME = 'ribtrue';
const VERSION = 2;
/** States of a panel that stay, and their characters in all; the newest few stay however large they are. */
const MOST_STATES = 100;
const MOST_CHARS = 30_000_000;
const LEAST_STATES = 3;

/** Why a state was not kept. `moved`: another tab has kept a state since; `none`: the browser keeps nothing at all. */
export type Why = 'none' | 'full' | 'newer' | 'older-open' | 'moved' | 'failed';

/** `anew`: what was kept of the panel had been cleared. */
export type KeepResult =
  | { readonly ok: true; readonly seq: number; readonly anew: boolean }
  | { readonly ok: false; readonly why: Why };

let opening: Promise<IDBPDatabase<Kept>> | undefined;
/** Set once a newer Ribtrue has asked for the database: this one must not open it again. */
let overtaken = false;
let onBlocked: (() => void) | undefined;

/** Called when an older Ribtrue in another tab holds the database up. */
export function whenBlocked(say: () => void): void {
  onBlocked = say;
}

function database(): Promise<IDBPDatabase<Kept>> {
  if (overtaken) return Promise.reject(new DOMException('a newer version has it', 'VersionError'));
  opening ??= openDB<Kept>(NAME, VERSION, {
    upgrade: async (db, from, _to, tx) => {
      db.createObjectStore('kept', { keyPath: 'id' });
      db.createObjectStore('states', { keyPath: ['panel', 'seq'] });
      db.createObjectStore('marks');
      if (from !== 1) return;
      const text = await tx.objectStore('panels').get('current');
      db.deleteObjectStore('panels');
      if (text === undefined) return;
      await tx.objectStore('kept').put({ id: 'first', name: nameIn(text), head: 1, at: 0, states: [[1, text.length]] });
      await tx.objectStore('states').put({ panel: 'first', seq: 1, step: 'kept by an earlier Ribtrue', at: 0, text });
      await tx.objectStore('marks').put('first', 'current');
    },
    blocked: () => onBlocked?.(),
    // Another tab deletes the database or brings it up: let go of it. Deleted, it is made again at the next change.
    blocking: (_now, wanted, event) => {
      if (wanted !== null) overtaken = true;
      (event.target as unknown as { close(): void }).close();
      opening = undefined;
    },
    terminated: () => {
      opening = undefined;
    },
  }).catch((e: unknown) => {
    opening = undefined;
    throw e;
  });
  return opening;
}

/** A panel's name out of its text, without judging the rest. */
function nameIn(text: string): string {
  return /"name":\s*"((?:[^"\\]|\\.){1,80})"/.exec(text)?.[1] ?? 'a panel';
}

const named = (e: unknown): string => (e instanceof Error ? e.name : '');

function whyOf(e: unknown): Why {
  if (named(e) === 'QuotaExceededError') return 'full';
  if (named(e) === 'VersionError') return 'newer';
  return typeof indexedDB === 'undefined' ||
    named(e) === 'SecurityError' ||
    named(e) === 'InvalidStateError' ||
    named(e) === 'UnknownError'
    ? 'none'
    : 'failed';
}

/** States to drop so that what stays keeps within the bounds, oldest first. */
export function tooMany(
  states: KeptPanel['states'],
  most = { states: MOST_STATES, chars: MOST_CHARS, least: LEAST_STATES },
): number {
  let chars = states.reduce((sum, [, n]) => sum + n, 0);
  let drop = 0;
  for (const [, n] of states) {
    const left = states.length - drop;
    if (left <= most.least || (left <= most.states && chars <= most.chars)) break;
    chars -= n;
    drop++;
  }
  return drop;
}

export interface NewState {
  readonly panel: string;
  readonly name: string;
  readonly step: string;
  readonly text: string;
  /** The count of the state it was made from; 0 for a new panel. */
  readonly base: number;
  readonly demo?: string;
  readonly note?: string;
}

/**
 * Keeps a state as its panel's newest, and remembers the panel as the one on screen. Where the disk is full, older
 * states make room first.
 */
export async function keepState(state: NewState): Promise<KeepResult> {
  let leave = MOST_STATES;
  let again = false;
  for (;;) {
    try {
      return await put(state, leave);
    } catch (e) {
      if (whyOf(e) === 'full' && leave !== LEAST_STATES) leave = LEAST_STATES;
      // A connection that died under us opens again once.
      else if (named(e) === 'InvalidStateError' && opening && !again) {
        opening = undefined;
        again = true;
      } else return { ok: false, why: whyOf(e) };
    }
  }
}

async function put({ panel, name, step, text, base, demo, note }: NewState, most: number): Promise<KeepResult> {
  const db = await database();
  const tx = db.transaction(['kept', 'states', 'marks'], 'readwrite', { durability: 'strict' });
  const [records, states, marks] = [tx.objectStore('kept'), tx.objectStore('states'), tx.objectStore('marks')];
  const record = await records.get(panel);
  if (record && record.head !== base) {
    await tx.done;
    return { ok: false, why: 'moved' };
  }
  const at = Date.now();
  const seq = base + 1;
  const all = [...(record?.states ?? []), [seq, text.length] as const];
  const drop = tooMany(all, { states: most, chars: MOST_CHARS, least: LEAST_STATES });
  const why = note ?? record?.note;
  // All asked for at once: where one fails, what counts is why the transaction did.
  const asked = [
    ...all.slice(0, drop).map(([old]) => states.delete([panel, old])),
    states.put({ panel, seq, step, at, text }),
    records.put({
      id: panel,
      name,
      head: seq,
      at,
      states: all.slice(drop),
      ...(demo === undefined ? {} : { demo }),
      ...(why === undefined ? {} : { note: why }),
    }),
    marks.put(panel, 'current'),
  ];
  await Promise.allSettled(asked);
  await tx.done;
  return { ok: true, seq, anew: base > 0 && !record };
}

/**
 * What was on screen last: its record and its newest state's text; null where nothing is kept; why where the browser
 * will not say.
 */
export async function lastKept(): Promise<
  { readonly panel: KeptPanel; readonly state: KeptState } | null | { readonly why: Why }
> {
  try {
    const db = await database();
    const current = await db.get('marks', 'current');
    const panel =
      (current === undefined ? undefined : await db.get('kept', current)) ?? newest(await db.getAll('kept'));
    if (!panel) return null;
    const state = await db.get('states', [panel.id, panel.head]);
    return state ? { panel, state } : null;
  } catch (e) {
    return { why: whyOf(e) };
  }
}

const newest = (panels: readonly KeptPanel[]): KeptPanel | undefined => [...panels].sort((a, b) => b.at - a.at)[0];

/** Every panel kept here, the one changed last first. */
export async function panelsKept(): Promise<readonly KeptPanel[]> {
  try {
    return [...(await (await database()).getAll('kept'))].sort((a, b) => b.at - a.at);
  } catch {
    return [];
  }
}

/** The states of a panel still here, newest first, at most so many. */
export async function statesOf(panel: string, most = MOST_STATES): Promise<readonly KeptState[]> {
  try {
    const db = await database();
    const out: KeptState[] = [];
    let cursor = await db
      .transaction('states')
      .store.openCursor(IDBKeyRange.bound([panel, 0], [panel, Infinity]), 'prev');
    while (cursor && out.length < most) {
      out.push(cursor.value);
      cursor = await cursor.continue();
    }
    return out;
  } catch {
    return [];
  }
}

/** Takes a panel and all its states out of this browser. */
export async function dropPanel(id: string): Promise<boolean> {
  try {
    const tx = (await database()).transaction(['kept', 'states', 'marks'], 'readwrite');
    await tx.objectStore('kept').delete(id);
    await tx.objectStore('states').delete(IDBKeyRange.bound([id, 0], [id, Infinity]));
    if ((await tx.objectStore('marks').get('current')) === id) await tx.objectStore('marks').delete('current');
    await tx.done;
    return true;
  } catch {
    return false;
  }
}

/** Remembers the panel on screen, when nothing in it has changed. */
export async function markCurrent(panel: string): Promise<void> {
  try {
    await (await database()).put('marks', panel, 'current');
  } catch {
    // What cannot be kept is said when a change is.
  }
}
