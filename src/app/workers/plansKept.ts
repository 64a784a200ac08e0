import { type IDBPDatabase, openDB } from 'idb';
import { awaited } from '../state/atRest.ts';
import { type Kept, useTrying } from '../state/trying.ts';

/*
 * Plans of one's own, kept in the browser beside the panel. A plan is the names of its findings and remedies, small
 * text.
 */

const STORE = 'plans';
let opening: Promise<IDBPDatabase> | undefined;

function database(): Promise<IDBPDatabase> {
  opening ??= openDB('ribtrue-plans', 1, { upgrade: (db) => void db.createObjectStore(STORE) });
  return opening;
}

const isKept = (v: unknown): v is Kept => {
  const k = v as Partial<Kept> | null;
  return (
    typeof k?.name === 'string' &&
    typeof k.panel === 'string' &&
    Array.isArray(k.picks) &&
    k.picks.every((p) => typeof p?.finding === 'string' && typeof p.remedy === 'string' && typeof p.name === 'string')
  );
};

/**
 * Reads the plans kept last, then keeps every change. A browser that keeps nothing loses plans at the next load, and
 * nothing else.
 */
export async function keepPlans(): Promise<void> {
  try {
    const had: unknown = await (await database()).get(STORE, 'all');
    if (Array.isArray(had)) useTrying.getState().put({ kept: had.filter(isKept) });
  } catch {
    return;
  }
  let last = useTrying.getState().kept;
  useTrying.subscribe(({ kept }) => {
    if (kept === last) return;
    last = kept;
    const put = database().then((db) => db.put(STORE, kept, 'all'));
    awaited(put).catch(() => undefined);
  });
}
