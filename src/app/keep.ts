import { type IDBPDatabase, openDB } from 'idb';

/*
 * Keeps the panel on screen in the browser's own database, so that a reload or a closed tab loses nothing.
 * One record is written whole in one transaction: it is the old text or the new, never half of one.
 */

const STORE = 'panels';
let opening: Promise<IDBPDatabase> | undefined;

function database(): Promise<IDBPDatabase> {
  opening ??= openDB('ribtrue', 1, { upgrade: (db) => void db.createObjectStore(STORE) });
  return opening;
}

/** The text kept last, or undefined when there is none or the browser keeps nothing. */
export async function keptText(): Promise<string | undefined> {
  try {
    const text: unknown = await (await database()).get(STORE, 'current');
    return typeof text === 'string' ? text : undefined;
  } catch {
    return undefined;
  }
}

/** Keeps a text; false when the browser would not (private window, full disk). */
export async function keepText(text: string): Promise<boolean> {
  try {
    await (await database()).put(STORE, text, 'current');
    return true;
  } catch {
    return false;
  }
}
