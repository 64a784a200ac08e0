import { useLayoutEffect } from 'react';

/*
 * The page says when it is at rest: `data-at-rest` stands on its root element while nothing has been asked of a
 * worker, of the browser's database or of the server that has not come, nothing waits to be drawn, and nothing on the
 * page or in its picture has changed for three frames. Whoever looks at the page by a program waits for it instead of
 * for a time.
 */

/** Frames without a change after which the page counts as at rest. */
const STILL = 3;

/** What a hand does that the page may answer only a moment later. */
const TOUCHES = ['pointerdown', 'pointermove', 'pointerup', 'click', 'wheel', 'scroll', 'keydown', 'input', 'drop'];

let pending = 0;
let still = 0;
let counting = false;

/** Counts still frames, one a call, for as long as nothing is pending; at the last of them says that all is at rest. */
function count(): void {
  counting = pending === 0 && still < STILL;
  still++;
  if (counting) requestAnimationFrame(count);
  else if (pending === 0) document.documentElement.dataset.atRest = '';
}

/** Something was done, drawn or changed: the page is at rest again only after some still frames. */
export function stir(): void {
  still = 0;
  delete document.documentElement.dataset.atRest;
  if (!counting) count();
}

/** Holds the page from being at rest; returns what lets it go. */
function hold(): () => void {
  pending++;
  stir();
  let held = true;
  return () => {
    if (held) pending--;
    held = false;
    stir();
  };
}

/** Passes on what was asked for; until it has come, or failed, the page is not at rest. */
export function awaited<T>(asked: Promise<T>): Promise<T> {
  const letGo = hold();
  asked.then(letGo, letGo);
  return asked;
}

/** Holds the page from being at rest while a part of it says that more is to come. */
export function useMoreToCome(more: boolean): void {
  useLayoutEffect(() => (more ? hold() : undefined), [more]);
}

/** Holds the page from being at rest while a store says that something is going on. */
export function restlessWhile<S>(
  store: { getState(): S; subscribe(hear: (state: S) => void): unknown },
  going: (state: S) => boolean,
): void {
  let letGo: (() => void) | undefined;
  store.subscribe((state) => {
    if (going(state)) letGo ??= hold();
    else {
      letGo?.();
      letGo = undefined;
    }
  });
}

/** From now on the page says whether it is at rest; call once. */
export function sayWhenAtRest(): void {
  for (const touch of TOUCHES) window.addEventListener(touch, stir, { capture: true, passive: true });
  const changes = { subtree: true, childList: true, characterData: true, attributes: true };
  new MutationObserver(stir).observe(document.body, changes);
  stir();
}
