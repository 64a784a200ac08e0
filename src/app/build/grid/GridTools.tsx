import type { ReactNode } from 'react';
import { type Column, copyDown, fillTaper } from '../../../model/tables/tables.ts';
import { useDesk } from '../desk.ts';
import { tapers } from './columns.ts';
import { COMMON } from './inOrder.ts';
import type { GridNow } from './useGrid.ts';

/** A button that leaves the cell in hand where it is. */
function Tool({ quiet = false, onClick, children }: { quiet?: boolean; onClick: () => void; children: ReactNode }) {
  return (
    <button
      type="button"
      className={quiet ? 'quiet' : 'take'}
      onMouseDown={(e) => e.preventDefault()}
      onClick={onClick}
    >
      {children}
    </button>
  );
}

/** What is done to several rows at once. */
function ManyRows({ grid, column }: { grid: GridNow; column: Column }) {
  const { table, model, chosen } = grid;
  const copied = (): void =>
    grid.change(copyDown(table, model, column.id, chosen), `copied the ${column.name} down ${chosen.length} rows`);
  const filled = (): void =>
    grid.change(fillTaper(table, model, column.id, chosen), `filled a taper of ${column.name}`);
  return (
    <>
      <span className="small">
        {chosen.length} rows of {column.name}
      </span>
      <Tool onClick={copied}>Copy down</Tool>
      {tapers(column) && <Tool onClick={filled}>Fill a taper</Tool>}
    </>
  );
}

/** A taper over the whole table, from its first row to its last. */
function WholeTaper({ grid }: { grid: GridNow }) {
  const { table, model, plain, cell, column } = grid;
  const [first, last] = [plain[0], plain.at(-1)];
  if (!tapers(column) || !column.write || cell?.row === COMMON || plain.length < 3 || !first || !last) return null;
  const rows = plain.map((r) => r.id);
  const fill = (): void => grid.change(fillTaper(table, model, column.id, rows), `filled a taper of ${column.name}`);
  return (
    <Tool quiet onClick={fill}>
      Taper {column.name} from {first.name} to {last.name}
    </Tool>
  );
}

function KeepFit() {
  const fits = useDesk((s) => s.keepFit);
  return (
    <label className="grid-keep">
      <input type="checkbox" checked={fits} onChange={(e) => useDesk.getState().set({ keepFit: e.target.checked })} />{' '}
      ribs keep their fit
    </label>
  );
}

interface Props {
  readonly grid: GridNow;
  readonly keeps: boolean;
  readonly removes: boolean;
  readonly children: ReactNode;
}

/** What can be done to the cells and rows in hand, and to the table. */
export function GridTools({ grid, keeps, removes, children }: Props) {
  const { cell, column, chosen, rows } = grid;
  const many = chosen.length > 1;
  return (
    <div className="grid-tools">
      {many && column && <ManyRows grid={grid} column={column} />}
      {!many && <WholeTaper grid={grid} />}
      {removes && cell && cell.row !== COMMON && (
        <button type="button" className="quiet" onClick={() => grid.remove(cell.row)}>
          Remove {rows.find((r) => r.id === cell.row)?.name ?? ''}
        </button>
      )}
      {keeps && <KeepFit />}
      {children}
    </div>
  );
}
