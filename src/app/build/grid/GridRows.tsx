import type { Finding } from '../../../checks/finding.ts';
import type { Column, Row } from '../../../model/tables/tables.ts';
import { useApp } from '../../state/store.ts';
import { CellBox } from './CellBox.tsx';
import { COMMON } from './inOrder.ts';
import type { GridNow } from './useGrid.ts';

const SHARED = 'A value most of them share. Changing it changes all that have it; the others keep their own.';

/** What is said of a common value: how many have another, or that there is none. */
function commonNote(shared: { readonly exceptions: ReadonlySet<string> } | undefined): string {
  if (!shared) return 'varies';
  return shared.exceptions.size > 0 ? `${shared.exceptions.size} differ` : '';
}

/** What most rows share, changed for all of them at once. */
export function CommonRow({ grid, shared }: { grid: GridNow; shared: NonNullable<GridNow['shared']> }) {
  return (
    <tr className="grid-common">
      <th scope="row" className="grid-name" title={SHARED}>
        in common
      </th>
      {grid.columns.map((c) => {
        const value = shared.get(c.id);
        return (
          <CellBox
            key={c.id}
            grid={grid}
            column={c}
            row={COMMON}
            name="all in common"
            value={value?.value}
            fixed={!c.write || !value}
            note={commonNote(value)}
          />
        );
      })}
    </tr>
  );
}

/** What does not fit on paper of a size in this row. */
function wrongAt(grid: GridNow, column: Column, row: Row): Finding | undefined {
  const key = column.size?.(row.id);
  const wrong = key === undefined ? undefined : grid.faults.get(key);
  const elsewhere = row.station !== null && wrong?.station != null && wrong.station !== row.station;
  return elsewhere ? undefined : wrong;
}

export function GridRow({ grid, row }: { grid: GridNow; row: Row }) {
  const { model, cell, chosen, shared, said } = grid;
  const choose = (): void => {
    if (row.station !== null) useApp.getState().choose(row.station);
  };
  return (
    <tr className={cell?.row === row.id ? 'in-hand' : ''}>
      <th scope="row" className="grid-name">
        <button type="button" onClick={choose}>
          {row.name}
        </button>
      </th>
      {grid.columns.map((c) => {
        const value = c.read(model, row.id);
        return (
          <CellBox
            key={c.id}
            grid={grid}
            column={c}
            row={row.id}
            name={row.name}
            value={value}
            fixed={!c.write || value === undefined}
            chosen={chosen.length > 1 && cell?.column === c.id && chosen.includes(row.id)}
            other={shared?.get(c.id)?.exceptions.has(row.id) ?? false}
            wrong={wrongAt(grid, c, row)}
            refused={said.find((s) => s.row === row.id && s.column === c.id)?.sentence}
          />
        );
      })}
    </tr>
  );
}
