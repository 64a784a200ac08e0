import { Memory } from './rested/memory.ts';
import { noter, type Panel, type Same, unnoted } from './rested/notes.ts';
import { panelOf, staying } from './rested/panel.ts';
import type { Model } from './schema.ts';

/*
 * Answers that are kept from one panel to the next, and what they rest on, written down by machine while they are
 * worked out.
 *
 * A panel is only ever looked at through doors: a group of the file (`model.limits`, read off the panel's view), a
 * Size by its key, the readings of a station, another kept answer. While a kept answer is worked out, every door it
 * goes through is written down with what was seen there, in the order of first looking. On the next panel the answer
 * still holds if every door shows the same; the first that does not ends the looking, so nothing is asked that the
 * answer would no longer ask.
 *
 * A kept answer gets the panel's view and a key and nothing else, so that it cannot look past the doors; and its
 * value is done with the panel, or what is worked out only when wanted goes through `later`.
 * `tests/remembered.test.ts` holds every kept answer to the one given afresh.
 */

/** What is asked of a panel, at a key. */
type Ask<K, V> = (model: Model, key: K) => V;
/** The same, where a key that may be any word may be left out for the empty one. */
type Asked<K, V> = string extends K ? (model: Model, key?: K) => V : (model: Model, key: K) => V;

interface Terms<K, V> {
  /** Whether two answers are one; unless told, where they are the same object or value. */
  readonly same?: Same<V>;
  /** A short name of a key, its own alone; a word is its own name. */
  readonly name?: (key: K) => string;
}

/** Whether two lists hold the same things in the same order. */
export function sameItems<T>(a: readonly T[], b: readonly T[]): boolean {
  return a === b || (a.length === b.length && a.every((item, i) => item === b[i]));
}

const itself = <K>(key: K): string => key as string;

/** Whoever asks goes through a door under the key's name. */
function through<K, V>(
  look: (panel: Panel, name: string, key: K) => V,
  { same = Object.is, name = itself }: Terms<K, V>,
  surely?: (panel: Panel, key: K, of: number) => boolean,
): Asked<K, V> {
  const note = noter({
    shows: (panel, key, seen, of) =>
      surely?.(panel, key as K, of) || same(seen as V, look(panel, name(key as K), key as K)),
  });
  const ask = (model: Model, key: K = '' as K): V => {
    const panel = panelOf(model);
    const named = name(key);
    const value = look(panel, named, key);
    note(panel, named, key, value);
    return value;
  };
  return ask as Asked<K, V>;
}

/**
 * A door: something cheap to look up in any panel, compared by what it shows. Who looks through it while an answer is
 * worked out rests on what it showed, and on nothing behind it.
 */
export function door<V, K = string>(look: Ask<K, V>, terms: Terms<K, V> = {}): Asked<K, V> {
  return through((panel, _, key) => unnoted(() => look(panel.view, key)), terms);
}

/** What a door leads into: something of a panel that is got once and then looked up at many keys. */
interface Into<T, K, V> extends Terms<K, V> {
  readonly of: (model: Model) => T;
  /** Looking it up must not look at the panel. */
  readonly look: (thing: T, key: K) => V;
  /** The keys where the thing of another panel may show something else; undefined where that could be any. */
  readonly moved?: (was: T, is: T) => ReadonlySet<K> | undefined;
}

const NOTHING: ReadonlySet<never> = new Set();

/**
 * A door into something of a panel. As long as that is the same object, it shows the same.
 *
 * @example `doorInto({ of: knownOf, look: (known, key) => known.find(key), same: sameSize })`
 */
export function doorInto<T, V, K = string>({ of, look, moved, ...terms }: Into<T, K, V>): Asked<K, V> {
  let at: { readonly panel: Panel; readonly thing: T } | undefined;
  let before = 0;
  let keys: ReadonlySet<K> | undefined;
  const thingOf = (panel: Panel): T => {
    if (at?.panel === panel) return at.thing;
    const thing = unnoted(() => of(panel.view));
    keys = at && (at.thing === thing ? NOTHING : moved?.(at.thing, thing));
    before = at?.panel.number ?? 0;
    at = { panel, thing };
    return thing;
  };
  const surely = (panel: Panel, key: K, seenIn: number): boolean => {
    thingOf(panel);
    return seenIn === before && keys !== undefined && !keys.has(key);
  };
  return through((panel, _, key) => look(thingOf(panel), key), terms, surely);
}

/** A bundle of doors, made once for each panel. Itself it is not written down: only what is looked at through it. */
export function doorsOf<V>(make: (model: Model) => V): (model: Model) => V {
  return (model) => {
    const panel = panelOf(model);
    return staying(panel, make, '', () => unnoted(() => make(panel.view)));
  };
}

/** Something worked out once for each panel, which stays with that panel and no other, for it holds on to it. */
export function perPanel<V, K = string>(make: Ask<K, V>, terms: Terms<K, V> = {}): Asked<K, V> {
  const look = (panel: Panel, name: string, key: K): V =>
    staying(panel, make, name, () => unnoted(() => make(panel.view, key)));
  return through(look, terms);
}

/**
 * A question put to a panel at one place, its key. The last answer of each place is kept, and is given again as long
 * as all it rests on is as it was. Where it comes out the same for other reasons, by `same`, who rests on it need not
 * be asked again.
 */
export function kept<V, K = string>(ask: Ask<K, V>, terms: Terms<K, V> = {}): Asked<K, V> {
  const memory = new Memory(ask, terms.same ?? Object.is, false);
  return through((panel, name, key) => memory.answer(panel, name, key), terms);
}

/**
 * As `kept`, for a question to the whole panel: its answers stay with every panel that is held by anyone, as undo
 * holds them.
 */
export function keptWhole<V, K = string>(ask: Ask<K, V>, terms: Terms<K, V> = {}): Asked<K, V> {
  const memory = new Memory(ask, terms.same ?? Object.is, true);
  const look = (panel: Panel, name: string, key: K): V =>
    staying(panel, ask, name, () => memory.answer(panel, name, key));
  return through(look, terms);
}
