import { create } from 'zustand';
import { checkAll } from '../../checks/checkAll.ts';
import type { Finding } from '../../checks/finding.ts';
import { applyEdit } from '../../model/edits/edits.ts';
import type { Fault } from '../../model/file/faults/fault.ts';
import type { Model } from '../../model/schema.ts';
import { type SaidWith, type Taking, taken } from '../../remedies/decision.ts';
import { useApp } from './store.ts';

/*
 * What is tried on the bench and not taken: a remedy, a plan or a move, shown before and after. The panel itself is
 * never changed by trying. What was made for one panel is left aside as soon as that panel has changed.
 */

/** A remedy or plan tried: the panel it was made for, and the panel with it done. */
export interface Tried {
  readonly name: string;
  readonly base: Model;
  readonly model: Model;
  readonly taking: Taking;
}

/** One remedy chosen for a finding, by their names: what a plan of one's own is made of. */
export interface Pick {
  readonly finding: string;
  readonly remedy: string;
  readonly name: string;
}

/** A plan of one's own, kept under a name; its remedies are worked out anew for the panel as it is then. */
export interface Kept {
  readonly name: string;
  readonly panel: string;
  readonly picks: readonly Pick[];
}

interface TryingState {
  readonly tried: Tried | null;
  readonly side: 'before' | 'after';
  readonly picks: readonly Pick[];
  readonly kept: readonly Kept[];
  /** What the builder says of the next thing taken: kept while one looks about. */
  readonly why: string;
  readonly asked: string;
  put(part: Partial<Omit<TryingState, 'put'>>): void;
}

export const useTrying = create<TryingState>((set) => ({
  tried: null,
  side: 'after',
  picks: [],
  kept: [],
  why: '',
  asked: '',
  put: (part) => set(part),
}));

/** What is tried on the panel as it is now; null where nothing is, or the panel has changed since. */
export function useTried(): Tried | null {
  const model = useApp((s) => s.model);
  const tried = useTrying((s) => s.tried);
  return tried && tried.base === model ? tried : null;
}

/** The panel to show: as it is, or as it would be with what is tried. */
export function useShownModel(): Model {
  const model = useApp((s) => s.model);
  const tried = useTried();
  const side = useTrying((s) => s.side);
  return tried && side === 'after' ? tried.model : model;
}

/** Findings of the panel to show. */
export function useShownFindings(): readonly Finding[] {
  return checkAll(useShownModel());
}

/** Tries what could be taken on the bench; faults say why it cannot be done. */
export function tryOn(name: string, taking: Taking): readonly Fault[] {
  const base = useApp.getState().model;
  const done = applyEdit(base, { name, apply: taking.apply });
  if (!done.ok) return done.faults;
  useTrying.getState().put({ tried: { name, base, model: done.model, taking }, side: 'after' });
  return [];
}

export function putBack(): void {
  useTrying.getState().put({ tried: null });
}

/** Takes it into the panel, with its line in the log, in one step of undo. */
export function take(taking: Taking, date: string): readonly Fault[] {
  const { why, asked, put } = useTrying.getState();
  const said: SaidWith = { why, asked, date };
  const faults = useApp.getState().edit(taken(taking, said));
  if (faults.length === 0) put({ tried: null, why: '', asked: '', picks: [] });
  return faults;
}
