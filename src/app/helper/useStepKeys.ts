import { type RefObject, useEffect, useEffectEvent } from 'react';

/** Keys of a keyboard, and of the foot switches that act as one. */
const NEXT = ['PageDown', 'ArrowRight', 'ArrowDown', ' ', 'Enter'];
const BACK = ['PageUp', 'ArrowLeft', 'ArrowUp', 'Backspace'];

const isTyping = (target: EventTarget | null): target is HTMLInputElement =>
  target instanceof HTMLInputElement && target.type !== 'checkbox';

/**
 * A button or box reached by Tab is pressed by Enter or Space; a foot switch goes on all the same after a tap on one.
 */
function isPressed({ key, target }: KeyboardEvent): boolean {
  if (key !== 'Enter' && key !== ' ') return false;
  const own = target instanceof HTMLButtonElement || target instanceof HTMLInputElement;
  return own && target.matches(':focus-visible');
}

/** Which way a key goes: 1 on, -1 back, 0 neither. */
function wayOf(key: string): 1 | -1 | 0 {
  if (NEXT.includes(key)) return 1;
  return BACK.includes(key) ? -1 : 0;
}

/** Gives the focus to the whole that a box lies in, none of its buttons. */
export function focusWhole(box: RefObject<HTMLElement | null>): void {
  box.current?.closest('dialog')?.focus();
}

/**
 * Next and back by key; everything else on the page holds still meanwhile. Out of the box being typed in by Escape or
 * Enter.
 */
export function useStepKeys(go: (by: 1 | -1) => void, box: RefObject<HTMLElement | null>): void {
  const onKey = useEffectEvent((e: KeyboardEvent): void => {
    if (e.ctrlKey || e.metaKey || e.altKey) return;
    if (isTyping(e.target)) {
      e.stopPropagation();
      if (e.key !== 'Escape' && e.key !== 'Enter') return;
      e.preventDefault(); // Escape leaves the box, not the card
      focusWhole(box);
      return;
    }
    if (isPressed(e) || e.key === 'Tab' || e.key === 'Escape') return;
    e.stopPropagation();
    const way = wayOf(e.key);
    if (way === 0) return;
    e.preventDefault();
    go(way);
  });
  useEffect(() => {
    const hear = (e: KeyboardEvent): void => onKey(e);
    document.addEventListener('keydown', hear, true);
    return () => document.removeEventListener('keydown', hear, true);
  }, []);
}
