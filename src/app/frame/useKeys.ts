import { useEffect } from 'react';
import { VIEWS } from '../bench/BenchTools.tsx';
import { useDesk } from '../build/desk.ts';
import { useApp } from '../state/store.ts';
import { isCovered } from '../widgets/useDialog.ts';

/** Inputs that are pressed or slid, not typed into. */
const NOT_TYPED: readonly string[] = ['range', 'checkbox'];

/** Whether keys go into what is being filled in. */
function isFilledIn(target: EventTarget | null): boolean {
  if (target instanceof HTMLInputElement) return !NOT_TYPED.includes(target.type);
  return target instanceof HTMLSelectElement || target instanceof HTMLTextAreaElement;
}

/**
 * A key alone looks another way only from the bench and the rail: elsewhere it may be a slip, or a word spoken to the
 * machine.
 */
const isAtBench = (target: EventTarget | null): boolean =>
  !(target instanceof Element) || target === document.body || target.closest('.bench, .rail') !== null;

/** What lies nearest goes first: the sheet of Build, then the station. */
function putAway(): void {
  const desk = useDesk.getState();
  const { question, choose } = useApp.getState();
  if (question === 'build' && desk.sheet !== null) desk.open(null);
  else choose(null);
}

/** What a key does with Ctrl or the command key held. */
function turnOf({ key, shiftKey }: KeyboardEvent): (() => void) | undefined {
  const { undo, redo } = useApp.getState();
  if (key.toLowerCase() === 'y') return redo;
  if (key.toLowerCase() !== 'z') return undefined;
  return shiftKey ? redo : undo;
}

/** What a key does anywhere on the page; undefined where it does nothing. */
function actOf(e: KeyboardEvent): (() => void) | undefined {
  if (e.ctrlKey || e.metaKey) return turnOf(e);
  if (e.altKey) return undefined;
  if (e.key === 'Escape') return putAway;
  const view = isAtBench(e.target) ? VIEWS.find((v) => v.key === e.key) : undefined;
  return view && (() => useApp.getState().look(view.id));
}

function onKey(e: KeyboardEvent): void {
  if (e.defaultPrevented || isFilledIn(e.target) || isCovered()) return;
  const act = actOf(e);
  if (!act) return;
  act();
  e.preventDefault();
}

/** Keys that work everywhere but in a box being typed in, and under what lies over the page. */
export function useKeys(): void {
  useEffect(() => {
    window.addEventListener('keydown', onKey);
    return () => window.removeEventListener('keydown', onKey);
  }, []);
}
