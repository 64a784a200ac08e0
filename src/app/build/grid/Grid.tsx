import type { ReactNode } from 'react';
import type { Table } from '../../../model/tables/tables.ts';
import { WhatIsThis } from '../../widgets/WhatIsThis.tsx';
import { ABOUT_TABLES } from '../aboutTables.ts';
import { GridHead } from './GridHead.tsx';
import { CommonRow, GridRow } from './GridRows.tsx';
import { GridTools } from './GridTools.tsx';
import { type GridNow, useGrid } from './useGrid.ts';

interface Props {
  readonly table: Table;
  readonly keeps?: boolean;
  readonly common?: boolean;
  readonly tools?: ReactNode;
  readonly onRemove?: ((row: string) => readonly { readonly sentence: string }[]) | undefined;
}

/** What could not be taken, by its cells, and the way out where pasted places look chained. */
function WhatIsWrong({ grid }: { grid: GridNow }) {
  if (grid.said.length === 0) return null;
  const place = (row: string, column: string): string =>
    [grid.rows.find((r) => r.id === row)?.name, grid.columns.find((c) => c.id === column)?.name]
      .filter(Boolean)
      .join(' ');
  return (
    <p className="refused grid-said" role="alert">
      {grid.said.map((s) => `${place(s.row, s.column)}: ${s.sentence}`).join(' ')}
      {grid.chained && (
        <button type="button" className="quiet" onClick={grid.addUp}>
          They look chained, from rib to rib: add them up to running dimensions
        </button>
      )}
    </p>
  );
}

/**
 * A table of the panel. One cell is in hand: typing changes it, the bench follows, Enter or Tab takes it on, Esc
 * gives it up. Shift with an arrow or a tap takes more rows: copy down, or a taper from the first to the last. A
 * block from a spreadsheet is pasted where the cell in hand is. Everything is a step that undo takes back.
 */
export function Grid({ table, keeps = false, common = false, tools, onRemove }: Props) {
  const grid = useGrid({ table, keeps, common, onRemove });
  const { rows, shown } = grid;
  const about = ABOUT_TABLES[table.id];
  const what = about && <WhatIsThis {...about} />;
  if (rows.length === 0)
    return (
      <div className="grid-empty">
        {what}
        {tools}
      </div>
    );
  return (
    <div className="grid-box">
      {what}
      <GridTools grid={grid} keeps={keeps} removes={onRemove !== undefined}>
        {tools}
      </GridTools>
      <WhatIsWrong grid={grid} />
      <div className="grid-scroll">
        <table
          className="grid"
          // biome-ignore lint/a11y/noNoninteractiveElementToInteractiveRole: worked in cell by cell with the arrow keys, which is what the role of grid says
          role="grid"
          aria-label={table.name}
          aria-rowcount={rows.length + 1}
          onPaste={(e) => {
            if (grid.paste(e.clipboardData.getData('text'))) e.preventDefault();
          }}
        >
          <GridHead grid={grid} />
          <tbody>
            {grid.shared && <CommonRow grid={grid} shared={grid.shared} />}
            {shown.map((r) => (
              <GridRow key={r.id} grid={grid} row={r} />
            ))}
          </tbody>
        </table>
        {rows.length > shown.length && (
          <button type="button" className="quiet" onClick={grid.showAll}>
            Show the other {rows.length - shown.length}
          </button>
        )}
      </div>
    </div>
  );
}
