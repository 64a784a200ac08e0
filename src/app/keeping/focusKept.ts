/*
 * Focus is never lost. A button that goes when it is pressed, a row that is taken out, a card that gives way to
 * another, a sheet that closes: whoever works by keyboard or by ear would be thrown back to the top of the page. Here
 * the focus goes on to what is nearest: the heading of what came in its place, the next row of the same list, else
 * the heading of the part of the page it was in; and out of what lay over the page back to what it was opened from.
 * Nor is it carried off the screen: what grows above it, an advice that comes back when a remedy is undone, is
 * scrolled past.
 */

const STOPS = 'a[href], button, input, select, textarea, summary, [tabindex="0"]';
/** Parts of the page with a heading or a name of their own. */
const REGIONS =
  'section, form, fieldset, nav, main, header, details, dialog, [role="dialog"], [role="alertdialog"], [role="region"], [role="group"]';
/** What lies over the page, and is left for what opened it. */
const OVER = 'dialog, [role="dialog"], [role="alertdialog"], [role="alert"], [data-over]';

interface Held {
  readonly element: HTMLElement;
  /** What it stands in, innermost first. */
  readonly within: readonly Element[];
  /** Stops of the page before and after it, nearest first. */
  readonly before: readonly HTMLElement[];
  readonly after: readonly HTMLElement[];
}

/** Whether it is drawn at all: on the page, not hidden, not in something that is folded away. */
const drawn = (e: Element): boolean => e.checkVisibility({ visibilityProperty: true });

const usable = (e: HTMLElement): boolean => drawn(e) && !e.matches(':disabled') && e.closest('[inert]') === null;

/** Whether any of it can be seen: on the screen, and inside all that scrolls. */
function seen(e: HTMLElement): boolean {
  const box = e.getBoundingClientRect();
  let [left, top, right, bottom] = [0, 0, innerWidth, innerHeight];
  for (let p = e.parentElement; p && p !== document.body; p = p.parentElement) {
    const { overflowX, overflowY } = getComputedStyle(p);
    if (overflowX === 'visible' && overflowY === 'visible') continue;
    const r = p.getBoundingClientRect();
    [left, top, right, bottom] = [
      Math.max(left, r.left),
      Math.max(top, r.top),
      Math.min(right, r.right),
      Math.min(bottom, r.bottom),
    ];
  }
  return box.right > left && box.left < right && box.bottom > top && box.top < bottom;
}

function holding(element: HTMLElement): Held {
  const within: Element[] = [];
  for (let e: Element | null = element; e && e !== document.body; e = e.parentElement) within.push(e);
  // Stops of the same part of the page are enough: nothing further off is ever gone to.
  const part = element.closest('.app > *') ?? within.at(-1) ?? element;
  const stops = [...part.querySelectorAll<HTMLElement>(STOPS)];
  const at = stops.indexOf(element);
  return {
    element,
    within,
    before: at < 0 ? [] : stops.slice(0, at).reverse(),
    after: at < 0 ? [] : stops.slice(at + 1),
  };
}

/** Something that can take the focus though Tab does not stop at it: a heading, or a part of the page. */
function reachable(e: HTMLElement): HTMLElement {
  if (e.matches(STOPS) || e.hasAttribute('tabindex')) return e;
  e.setAttribute('tabindex', '-1');
  e.addEventListener('blur', () => e.removeAttribute('tabindex'), { once: true });
  return e;
}

/** Where the focus goes on from what has gone. */
function onwardFrom({ within, before, after }: Held): HTMLElement | null {
  // What only cannot be pressed any more is still there: its neighbours are nearest.
  const left = within.slice(1).find(drawn);
  if (!left) return null;
  const near = left.closest('.bench, .card, .rail') ?? left;
  const next = [...after, ...before].find(
    (e) => usable(e) && left.contains(e) && left !== near && left.id !== 'app' && !left.classList.contains('app'),
  );
  if (next) return next;
  const region = left.closest<HTMLElement>(REGIONS);
  if (!region) return null;
  if (region instanceof HTMLDetailsElement) return region.querySelector('summary');
  return region.querySelector<HTMLElement>('h1, h2, h3, legend') ?? region;
}

/** The heading of what came in the same changes where `element` went. */
function insteadOf(element: HTMLElement, records: readonly MutationRecord[]): HTMLElement | null {
  const place = records.find((r) => [...r.removedNodes].some((n) => n.contains(element)))?.target;
  if (!place) return null;
  for (const { addedNodes } of records) {
    for (const node of addedNodes) {
      if (!(node instanceof HTMLElement) || node.parentNode !== place) continue;
      const heading = node.matches('h1, h2, h3') ? node : node.querySelector<HTMLElement>('h1, h2, h3');
      if (heading) return heading;
    }
  }
  return null;
}

/** The answer to the question, for where nothing nearer is left. */
const fallback = (): HTMLElement | null =>
  document.querySelector<HTMLElement>('.card h1') ?? document.querySelector<HTMLElement>('.questions [aria-current]');

/** Calls back at every event of a kind, wherever on the page. */
const hear = <K extends keyof DocumentEventMap>(kind: K, act: (e: DocumentEventMap[K]) => void): void =>
  document.addEventListener(kind, act, { capture: true, passive: true });

/** Keeps the focus on the page; call once. */
export function keepFocus(): void {
  let held: Held | null = null;
  let byHand = false;
  let wasSeen = false;
  let due = false;
  let instead: HTMLElement | null = null;
  const openers = new WeakMap<Element, HTMLElement>();
  hear('pointerdown', () => {
    byHand = true;
  });
  hear('keydown', () => {
    byHand = false;
  });
  // Scrolled away from by whoever works here, it is left where it is.
  hear('scroll', () => {
    wasSeen = held !== null && seen(held.element);
  });
  hear('focusin', ({ target }) => {
    if (!(target instanceof HTMLElement)) return;
    const over = target.closest(OVER);
    if (over && held && !over.contains(held.element) && !openers.has(over)) openers.set(over, held.element);
    held = holding(target);
    wasSeen = true; // the browser scrolls to it
    instead = null;
  });
  /**
   * Where the focus goes from what has gone: back to what opened it, to what came in its place, or to what is
   * nearest.
   */
  const onward = (gone: Held): HTMLElement | null => {
    const over = gone.within.find((e) => e.matches(OVER));
    const opener = over && !over.isConnected ? openers.get(over) : undefined;
    const came = instead?.isConnected ? instead : null;
    instead = null;
    if (opener) return usable(opener) ? opener : fallback();
    return came ?? onwardFrom(gone) ?? fallback();
  };
  const look = (): void => {
    due = false;
    const now = document.activeElement;
    if (!held || (now !== null && now !== document.body && now !== held.element)) return;
    if (!usable(held.element)) {
      const to = onward(held);
      if (to) reachable(to).focus({ preventScroll: byHand });
      return;
    }
    // Still there: pushed off the screen, or let go of on purpose by a tap on nothing.
    const pushedOff = now === held.element && wasSeen && !byHand && !seen(held.element);
    if (pushedOff) held.element.scrollIntoView({ block: 'nearest' });
  };
  // After what the change itself gives the focus to.
  const watch = new MutationObserver((records) => {
    if (!held) return;
    if (!held.element.isConnected) instead = insteadOf(held.element, records) ?? instead;
    if (due) return;
    due = true;
    setTimeout(look, 0);
  });
  watch.observe(document.body, {
    childList: true,
    subtree: true,
    attributes: true,
    attributeFilter: ['disabled', 'hidden', 'inert', 'open'],
  });
}
