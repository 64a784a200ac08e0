import { useRef } from 'react';
import type { Edit } from '../../../model/edits/edits.ts';
import type { Fault } from '../../../model/file/faults/fault.ts';
import type { Model } from '../../../model/schema.ts';
import { type History, stepped, useApp } from '../../state/store.ts';

/*
 * A value tried on the panel while it is typed. What is on screen is always the panel as it was before the cell was
 * touched with the one edit on it: each try is made of that panel anew, and giving up is going back to it.
 */

/** The panel and its steps before, and the panel that the last try made of them. */
interface Tried {
  readonly before: History;
  readonly made: Model;
}

export interface Trial {
  /** The panel that the next try is made of. */
  panel(): Model;
  /** Puts an edit of that panel on screen, as one step; what is wrong with it comes back, and nothing changes. */
  put(edit: Edit): readonly Fault[];
  /** Takes what was tried off the screen, unless something else has changed the panel since. */
  giveUp(): void;
}

export function useTrial(): Trial {
  const last = useRef<Tried | null>(null);
  const history = (): History => {
    const now = useApp.getState();
    return last.current?.made === now.model ? last.current.before : now;
  };
  return {
    panel: () => history().model,
    put: (edit) => {
      const { model, demo, past, future } = history();
      const before = { model, demo, past, future };
      const done = stepped(before, edit);
      if (!done.ok) return done.faults;
      useApp.setState(done.history);
      last.current = { before, made: done.history.model };
      return [];
    },
    giveUp: () => {
      useApp.setState(history());
      last.current = null;
    },
  };
}
