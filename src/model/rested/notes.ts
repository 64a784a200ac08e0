import type { Model } from '../schema.ts';

/* What is written down while an answer is worked out: every door it goes through, and what was seen there. */

/** One panel that is asked about. */
export interface Panel {
  readonly model: Model;
  /** The model as a kept answer may see it: every group of the file a door. */
  readonly view: Model;
  /** Panels are numbered as they come. */
  readonly number: number;
  /** What stays with the panel for as long as it is held by anyone, by who made it and its name. */
  readonly answers: Map<object, Map<string, unknown>>;
}

export type Same<V> = (a: V, b: V) => boolean;

/** A way of looking at a panel, at a key. */
export interface Door {
  /** Whether a panel shows what was seen of another one, which goes by its number. */
  shows(panel: Panel, key: unknown, seen: unknown, of: number): boolean;
}

/** One thing an answer rests on; the same object for all answers about one panel. */
interface Rest {
  readonly door: Door;
  readonly key: unknown;
  readonly seen: unknown;
  /** Number of the notes it was last written into. */
  writtenIn: number;
  /** Number of the panel that was last asked whether it shows the same, and whether it did. */
  askedOf: number;
  shown: boolean;
}

/** Whether a panel shows what was seen in the one of a number: asked once a panel, however many answers rest on it. */
function isShown(rest: Rest, panel: Panel, seenIn: number): boolean {
  if (rest.askedOf === panel.number) return rest.shown;
  rest.shown = rest.door.shows(panel, rest.key, rest.seen, seenIn);
  rest.askedOf = panel.number;
  return rest.shown;
}

/** The notes of one answer. */
export class Notes {
  static #last = 0;
  readonly #number = ++Notes.#last;
  readonly panel: Panel;
  readonly #rests: Rest[] = [];
  /** What is worked out only when it is wanted. */
  #late: (() => unknown)[] = [];

  constructor(panel: Panel) {
    this.panel = panel;
  }

  add(rest: Rest): void {
    if (rest.writtenIn === this.#number) return;
    rest.writtenIn = this.#number;
    this.#rests.push(rest);
  }

  /** Works something out with these notes open. */
  noting<V>(make: () => V): V {
    const outer = open;
    open = this;
    try {
      return make();
    } finally {
      open = outer;
    }
  }

  wait(late: () => unknown): void {
    this.#late.push(late);
  }

  /**
   * Whether all that was seen, and was last to be seen in the panel of a number, is to be seen in another panel; what
   * was not wanted until now is worked out first.
   */
  holdIn(panel: Panel, seenIn: number): boolean {
    if (!this.#shownIn(panel, seenIn, 0)) return false;
    const so = this.#rests.length;
    for (const late of this.#late) late();
    this.#late = [];
    return this.#shownIn(panel, this.panel.number, so);
  }

  /**
   * In the order of looking, so that nothing is looked at that would no longer be. Where a look fails, it does not
   * show.
   */
  #shownIn(panel: Panel, seenIn: number, from: number): boolean {
    const rests = this.#rests;
    return unnoted(() => {
      try {
        for (let i = from; i < rests.length; i++) {
          const rest = rests[i];
          if (rest && !isShown(rest, panel, seenIn)) return false;
        }
        return true;
      } catch {
        return false;
      }
    });
  }
}

/**
 * The notes of the answer being worked out; none while a door is looked through, which is written down whole. A panel
 * made from another one on the way follows from what was seen of that one: nothing of it is noted.
 */
let open: Notes | undefined;

/** Works something out of which nothing is noted. */
export function unnoted<V>(make: () => V): V {
  const outer = open;
  if (!outer) return make();
  open = undefined;
  try {
    return make();
  } finally {
    open = outer;
  }
}

/** Writes down what was seen at a door, wherever notes of that panel are open; `name` tells its keys apart. */
export function noter(door: Door): (panel: Panel, name: string, key: unknown, seen: unknown) => void {
  let at: Panel | undefined;
  let rests = new Map<string, Rest>();
  return (panel, name, key, seen) => {
    if (open?.panel !== panel) return;
    if (at !== panel) {
      at = panel;
      rests = new Map();
    }
    let rest = rests.get(name);
    if (!rest || rest.seen !== seen) {
      rest = { door, key, seen, writtenIn: 0, askedOf: panel.number, shown: true };
      rests.set(name, rest);
    }
    open.add(rest);
  };
}

/**
 * A part of an answer that is worked out only when it is first wanted, and noted with the answer it belongs to. It is
 * worked out at the latest before the answer is taken over by another panel.
 */
export function later<V>(make: () => V): () => V {
  const notes = open;
  let wanted: (() => V) | undefined = make;
  let value: V | undefined;
  const late = (): V => {
    if (wanted) value = notes ? notes.noting(wanted) : wanted();
    wanted = undefined;
    return value as V;
  };
  notes?.wait(late);
  return late;
}
