import type { Model } from '../schema.ts';
import { Notes, type Panel, type Same } from './notes.ts';

/** An answer with its notes and the number of the panel it was last found to hold for. */
interface Kept<V> {
  holdsFor: number;
  readonly notes: Notes;
  readonly value: V;
}

/** So many places are kept without asking whether the panel still has them. */
const LEAST = 64;

const memories: Memory<never, unknown>[] = [];

/** The last answers to one question, a place each. */
export class Memory<K, V> {
  readonly #ask: (model: Model, key: K) => V;
  readonly #same: Same<V>;
  readonly #brief: boolean;
  readonly #kept = new Map<string, Kept<V>>();
  /** The last panel asked about, and the number of the one before it. */
  #now: Panel | undefined;
  #before = 0;
  /** How many places are kept before those are dropped that neither of the two has. */
  #most = LEAST;

  /** A brief memory drops, with every new panel, what the one before it was not asked. */
  constructor(ask: (model: Model, key: K) => V, same: Same<V>, brief: boolean) {
    this.#ask = ask;
    this.#same = same;
    this.#brief = brief;
    memories.push(this as unknown as Memory<never, unknown>);
  }

  answer(panel: Panel, name: string, key: K): V {
    if (panel !== this.#now) this.#turnTo(panel);
    const had = this.#kept.get(name);
    if (had && (had.holdsFor === panel.number || had.notes.holdIn(panel, had.holdsFor))) {
      had.holdsFor = panel.number;
      return had.value;
    }
    const notes = new Notes(panel);
    const fresh = notes.noting(() => this.#ask(panel.view, key));
    const value = had && this.#same(had.value, fresh) ? had.value : fresh;
    this.#kept.set(name, { holdsFor: panel.number, notes, value });
    if (this.#kept.size > this.#most) this.#drop();
    return value;
  }

  forget(): void {
    this.#kept.clear();
    this.#now = undefined;
  }

  #turnTo(panel: Panel): void {
    const moved = this.#now?.model.stations !== panel.model.stations;
    this.#before = this.#now?.number ?? 0;
    this.#now = panel;
    if (moved || this.#brief) this.#drop();
  }

  #drop(): void {
    for (const [name, { holdsFor }] of this.#kept)
      if (holdsFor !== this.#now?.number && holdsFor !== this.#before) this.#kept.delete(name);
    this.#most = Math.max(LEAST, 2 * this.#kept.size);
  }
}

/** Forgets every last answer: the next panel is asked about as if it were the first. What stays with a panel stays. */
export function forget(): void {
  for (const memory of memories) memory.forget();
}
