import { type KeyboardEvent, useCallback, useEffect, useLayoutEffect, useRef, useState } from 'react';
import { flushSync } from 'react-dom';
import { cellEntry, readCell } from '../../../model/tables/cells.ts';
import { useApp } from '../../state/store.ts';
import { useDesk } from '../desk.ts';
import { sentencesOf } from '../sentences.ts';
import type { CellProps } from './cell.ts';
import { COMMON } from './inOrder.ts';
import { useTrial } from './trial.ts';

/** How long a value must stand in its box before the bench follows it, ms. */
const FOLLOWS_AFTER = 280;

type Box = HTMLInputElement | HTMLSelectElement;

/** A box that takes the focus when it comes, its text chosen whole and in sight. */
function useBox() {
  const box = useRef<Box | null>(null);
  const choose = useCallback((): void => {
    if (box.current instanceof HTMLInputElement) box.current.select();
  }, []);
  const ref = useCallback(
    (came: Box | null): void => {
      box.current = came;
      came?.focus({ preventScroll: true });
      choose();
      came?.scrollIntoView({ block: 'nearest', inline: 'nearest' });
    },
    [choose],
  );
  return { ref, choose };
}

/** By how many rows and columns to go on, and whether to take the rows on the way. */
interface Move {
  readonly by: readonly [number, number];
  readonly more: boolean;
}

/** Where a key goes on to; undefined where it stays in the box. */
function moveBy(e: KeyboardEvent, free: { readonly up: boolean; readonly sideways: boolean }): Move | undefined {
  const { key, shiftKey: shift } = e;
  if (key === 'Enter') return { by: [shift ? -1 : 1, 0], more: false };
  if (key === 'Tab') return { by: [0, shift ? -1 : 1], more: false };
  if (free.up && key === 'ArrowDown') return { by: [1, 0], more: shift };
  if (free.up && key === 'ArrowUp') return { by: [-1, 0], more: shift };
  if (free.sideways && key === 'ArrowRight') return { by: [0, 1], more: false };
  if (free.sideways && key === 'ArrowLeft') return { by: [0, -1], more: false };
  return undefined;
}

/** What undo and redo have for a key; undefined for any other. */
function historyKey(e: KeyboardEvent): (() => void) | undefined {
  if (!(e.ctrlKey || e.metaKey) || e.key.toLowerCase() !== 'z') return undefined;
  const { undo, redo } = useApp.getState();
  return e.shiftKey ? redo : undo;
}

/**
 * What is typed into a cell, tried on the panel as soon as it can be read; what cannot be taken stays, and `fault`
 * says why.
 */
function useTyped({ grid, column, row, value }: CellProps) {
  const trial = useTrial();
  const [typed, setTyped] = useState<string | null>(null);
  const [fault, setFault] = useState('');
  /** What is typed and not yet on the panel. */
  const pending = useRef<string | null>(null);
  const timer = useRef<ReturnType<typeof setTimeout> | undefined>(undefined);

  /** Puts a typed value on the panel in place of one tried before; false where it cannot be taken. */
  const attempt = (text: string): boolean => {
    clearTimeout(timer.current);
    const before = trial.panel();
    const read = readCell(column, before, text);
    const same = read.ok && row !== COMMON && column.read(before, row) === read.value;
    if (same) trial.giveUp();
    const faults = read.ok && !same ? trial.put(grid.make(before, { row, column: column.id }, read.value)) : [];
    const wrong = read.ok ? sentencesOf(faults) : read.sentence;
    setFault(wrong);
    if (wrong === '') pending.current = null;
    return wrong === '';
  };
  const type = (text: string): void => {
    pending.current = text;
    setTyped(text);
    setFault('');
    clearTimeout(timer.current);
    timer.current = setTimeout(() => attempt(text), FOLLOWS_AFTER);
  };
  /** What is typed is taken, where it can be. */
  const take = (): boolean => pending.current === null || attempt(pending.current);
  const giveUp = (): void => {
    clearTimeout(timer.current);
    pending.current = null;
    trial.giveUp();
    setFault('');
    setTyped(null);
  };
  // Left by a tap elsewhere, a value that can be taken is taken.
  const leaving = useRef(take);
  useLayoutEffect(() => {
    leaving.current = take;
  });
  useEffect(() => () => void leaving.current(), []);
  const text = typed ?? cellEntry(column, grid.model, value);
  return { text, typed: typed !== null, fault, type, take, giveUp, attempt, taken: () => setTyped(null) };
}

/** The cell in hand: what stands in its box, and what keys and typing do to it. */
export function useCellEntry(props: CellProps) {
  const { grid, column } = props;
  const { ref, choose: chooseText } = useBox();
  const { text, typed, fault, type, take, giveUp, attempt, taken } = useTyped(props);
  const isChoice = column.kind === 'choice';

  /** Gives up what is typed; nothing typed, puts the cell down. */
  const leaveIt = (): void => {
    if (!typed) useDesk.getState().hold(null, null);
    else {
      // Put in the box before the next key comes, and chosen whole, so that what is typed next takes its place.
      flushSync(giveUp);
      chooseText();
    }
  };
  const goOn = ({ by, more }: Move): void => {
    if (!take()) return;
    taken();
    grid.step(by, more);
  };
  const doneBy = (e: KeyboardEvent): (() => void) | undefined => {
    const move = moveBy(e, { up: !isChoice, sideways: !isChoice && !typed });
    if (move) return () => goOn(move);
    if (e.key === 'Escape') return leaveIt;
    return typed ? undefined : historyKey(e);
  };
  const onKeyDown = (e: KeyboardEvent): void => {
    const done = doneBy(e);
    if (!done) return;
    e.preventDefault();
    e.stopPropagation();
    done();
  };
  const choose = (value: string): void => {
    type(value);
    if (attempt(value)) taken();
  };
  return { ref, text, typed, fault, type, choose, leave: take, onKeyDown };
}
