import { useMemo, useState } from 'react';
import type { Finding } from '../../../checks/finding.ts';
import { runningFrom } from '../../../model/chained.ts';
import type { Edit } from '../../../model/edits/edits.ts';
import { keepFit } from '../../../model/edits/keepFit.ts';
import type { Model } from '../../../model/schema.ts';
import { pasteCells } from '../../../model/tables/paste.ts';
import {
  type Cell,
  type CellValue,
  type Change,
  type Column,
  commonOf,
  type Row,
  setCells,
  setCommon,
  type Table,
} from '../../../model/tables/tables.ts';
import { useApp } from '../../state/store.ts';
import { useDesk } from '../desk.ts';
import { sentencesOf } from '../sentences.ts';
import { COMMON, inOrder, nextCell, rowsBetween, type Sort, sortedBy } from './inOrder.ts';
import { paperFaults } from './paperFaults.ts';

/** Rows shown at once; the rest on asking. */
const MOST_ROWS = 160;
/** Faults of a pasted block said at once. */
const MOST_SAID = 6;

/** What is wrong with a cell; an empty column where it is the whole row. */
interface Said extends Cell {
  readonly sentence: string;
}

type Common = ReturnType<typeof commonOf>;

/** A table as it lies on the sheet now, and what can be done to it. */
export interface GridNow {
  readonly table: Table;
  readonly model: Model;
  readonly columns: readonly Column[];
  /** Rows as the table has them; in the order asked for; and those of them that are shown. */
  readonly plain: readonly Row[];
  readonly rows: readonly Row[];
  readonly shown: readonly Row[];
  readonly sort: Sort | null;
  /** What most rows share, by column; null where the table has no row of common values. */
  readonly shared: ReadonlyMap<string, Common> | null;
  readonly faults: ReadonlyMap<string, Finding>;
  /** The cell in hand, its column, and the rows taken with it. */
  readonly cell: Cell | null;
  readonly column: Column | undefined;
  readonly chosen: readonly string[];
  /** Counts up to take the same cell in hand afresh. */
  readonly again: number;
  readonly said: readonly Said[];
  /** Distances from rib to rib that were pasted for places, added up. */
  readonly chained: readonly Change[] | null;
  sortBy(column: string): void;
  showAll(): void;
  /** Takes a cell in hand; `more` takes all rows from the one before. */
  go(to: Cell, more?: boolean): void;
  /** Goes on from the cell in hand by rows down and columns across. */
  step(by: readonly [number, number], more?: boolean): void;
  /** The edit that puts a value into a cell, or into all that share the common one. */
  make(model: Model, cell: Cell, value: CellValue): Edit;
  change(list: readonly Change[], name: string): void;
  remove(row: string): void;
  paste(text: string): boolean;
  addUp(): void;
}

/** An edit of stations or spars that cuts the ribs again to the fit they had. */
const withFit = (edit: Edit): Edit => ({ name: edit.name, apply: (m) => keepFit(m, edit.apply(m)) });

interface Asked {
  readonly table: Table;
  /** Ribs may be cut again to the fit they had. */
  readonly keeps: boolean;
  /** A row of what most rows share stands above the others. */
  readonly common: boolean;
  readonly onRemove: ((row: string) => readonly { readonly sentence: string }[]) | undefined;
}

/** The table as it is read: its columns, its rows in order, what most of them share, what does not fit on paper. */
function useRows(table: Table, common: boolean) {
  const model = useApp((s) => s.model);
  const [sort, setSort] = useState<Sort | null>(null);
  const [all, setAll] = useState(false);
  const columns = useMemo(() => table.columns(model), [table, model]);
  const plain = useMemo(() => table.rows(model), [table, model]);
  const rows = useMemo(() => inOrder(plain, sort, columns, model), [plain, sort, columns, model]);
  const shared = useMemo(
    () => (common && plain.length > 1 ? new Map(columns.map((c) => [c.id, commonOf(c, model, plain)])) : null),
    [common, columns, model, plain],
  );
  const faults = useMemo(() => paperFaults(model), [model]);
  const shown = all ? rows : rows.slice(0, MOST_ROWS);
  const sortBy = (column: string): void => setSort(sortedBy(column, sort));
  return { model, columns, plain, rows, shown, sort, shared, faults, sortBy, showAll: () => setAll(true) };
}

/** The cell in hand, the rows taken with it, and the way from cell to cell. */
function useCellInHand(table: Table, { model, columns, rows, shown, shared }: ReturnType<typeof useRows>) {
  const inHand = useDesk((s) => (s.table === table.id ? s.cell : null));
  const [from, setFrom] = useState<string | null>(null);
  const [again, setAgain] = useState(0);
  const order = rows.map((r) => r.id);
  const chosen = inHand ? rowsBetween(order, from ?? inHand.row, inHand.row) : [];
  const go = (to: Cell, more = false): void => {
    setFrom(more ? (from ?? inHand?.row ?? to.row) : null);
    useDesk.getState().hold(table.id, to);
    const station = rows.find((r) => r.id === to.row)?.station ?? null;
    if (station !== null && useApp.getState().station !== station) useApp.getState().choose(station);
  };
  const step = (by: readonly [number, number], more = false): void => {
    if (!inHand) return;
    const next = nextCell(inHand, by, {
      rows: [...(shared ? [COMMON] : []), ...shown.map((r) => r.id)],
      columns: columns.filter((c) => c.write),
      has: (row, c) => (row === COMMON ? shared?.get(c.id) !== undefined : c.read(model, row) !== undefined),
    });
    if (next) go(next, more);
    else setAgain(again + 1); // at the edge of the table the cell in hand stays
  };
  return { cell: inHand, column: columns.find((c) => c.id === inHand?.column), chosen, again, order, go, step };
}

/**
 * A table of the panel on the sheet: what of it is shown and in hand, and what is done to it. Everything done is one
 * step of undo.
 */
export function useGrid({ table, keeps, common, onRemove }: Asked): GridNow {
  const edit = useApp((s) => s.edit);
  const fits = useDesk((s) => s.keepFit) && keeps;
  const read = useRows(table, common);
  const hand = useCellInHand(table, read);
  const [said, say] = useState<readonly Said[]>([]);
  const [chained, setChained] = useState<readonly Change[] | null>(null);
  const { model, plain } = read;
  const { cell, order } = hand;
  const fitted = (step: Edit): Edit => (fits ? withFit(step) : step);
  /** Takes an edit, and says at the cell in hand what is wrong with it; true where nothing is. */
  const take = (step: Edit): boolean => {
    const wrong = sentencesOf(edit(fitted(step)));
    say(wrong === '' || !cell ? [] : [{ ...cell, sentence: wrong }]);
    return wrong === '';
  };
  const change = (list: readonly Change[], name: string): boolean =>
    list.length === 0 || take(setCells(table, model, list, name));
  return {
    ...read,
    ...hand,
    table,
    said,
    chained,
    change,
    make: (before, at, value) => {
      const name = `changed the common ${hand.column?.name ?? ''} of ${table.name}`;
      const shared = read.columns.find((c) => c.id === at.column);
      if (at.row !== COMMON || !shared) return fitted(setCells(table, before, [{ ...at, value }]));
      return fitted(setCells(table, before, setCommon(shared, before, plain, value), name));
    },
    remove: (row) => {
      const wrong = onRemove?.(row) ?? [];
      say(wrong.map((f) => ({ row, column: '', sentence: f.sentence })));
    },
    paste: (text) => {
      if (!cell || cell.row === COMMON || !/[\n\t]/.test(text.trimEnd())) return false;
      const block = pasteCells(table, model, cell, text, order);
      if (!block.ok) say(block.faults.slice(0, MOST_SAID));
      else {
        const name = `pasted ${block.changes.length} cells into ${table.name}`;
        setChained(change(block.changes, name) ? null : addedUp(table, block.changes));
      }
      return true;
    },
    addUp: () => {
      if (chained && change(chained, 'added up distances from rib to rib')) setChained(null);
    },
  };
}

/** Places pasted as distances from rib to rib, added up to running ones; null where they are not. */
function addedUp(table: Table, pasted: readonly Change[]): readonly Change[] | null {
  if (table.id !== 'stations') return null;
  const places = pasted.filter((c) => c.column === 'y');
  const running = runningFrom(places.map((c) => Number(c.value)));
  return running ? places.map((c, i) => ({ ...c, value: running[i] ?? c.value })) : null;
}
