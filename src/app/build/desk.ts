import { create } from 'zustand';
import type { Model } from '../../model/schema.ts';
import type { Cell } from '../../model/tables/tables.ts';

/** What the wide sheet under the rail shows; null while it is put away. */
export type SheetName =
  | 'start'
  | 'stations'
  | 'ribs'
  | 'spars'
  | 'joints'
  | 'stages'
  | 'limits'
  | 'stock'
  | 'shapes'
  | 'compare';

interface Desk {
  readonly sheet: SheetName | null;
  /** The sheet that was put away last: the focus goes back to what it is taken out by. */
  readonly putBack: SheetName | null;
  /** The cell in hand, and the table it is in. */
  readonly table: string | null;
  readonly cell: Cell | null;
  /** Ribs are cut again to the fit they had when stations or spars are redrawn. */
  readonly keepFit: boolean;
  /**
   * The start being answered, what is typed for each of its questions and for those of the others, and the question
   * in hand; kept until a panel is made of it.
   */
  readonly start: string | null;
  readonly typed: Readonly<Record<string, Readonly<Record<string, string>>>>;
  readonly question: string | null;
  /** The panel laid beside this one to compare, made alike; the bench outlines what differs. */
  readonly beside: { readonly model: Model; readonly parts: ReadonlySet<string> } | null;
  open(sheet: SheetName | null): void;
  hold(table: string | null, cell: Cell | null): void;
  set(part: Partial<Pick<Desk, 'keepFit' | 'start' | 'typed' | 'question' | 'beside'>>): void;
}

/** What Build has on its desk: which sheet is out and which cell is in hand. Nothing of the panel is kept here. */
export const useDesk = create<Desk>((set) => ({
  sheet: null,
  putBack: null,
  table: null,
  cell: null,
  keepFit: true,
  start: null,
  typed: {},
  question: null,
  beside: null,
  open: (sheet) => set((s) => ({ sheet, putBack: s.sheet, table: null, cell: null })),
  hold: (table, cell) => set({ table, cell }),
  set: (part) => set(part),
}));

/** Puts the sheet away, whichever is out. */
export const putAway = (): void => useDesk.getState().open(null);
