import type { ReactNode } from 'react';
import { cellText } from '../../../model/tables/cells.ts';
import { MarkShape } from '../../widgets/Mark.tsx';
import { CellEdit } from './CellEdit.tsx';
import type { CellProps } from './cell.ts';
import { numeric } from './columns.ts';

type Name = string | false | undefined;

/** A cell of the table with what is in it. */
function Box({ selected, names, children }: { selected: boolean; names: readonly Name[]; children: ReactNode }) {
  return (
    // biome-ignore lint/a11y/useAriaPropsSupportedByRole: in a table with the role of a grid a td is a gridcell, which can be selected
    <td aria-selected={selected} className={['cell', ...names].filter(Boolean).join(' ')}>
      {children}
    </td>
  );
}

/** A cell that is not in hand: a button that takes it in hand. */
function CellButton({ grid, column, row, name, value, fixed, note, wrong, refused }: CellProps) {
  const text = cellText(column, grid.model, value);
  const onPaper = wrong ? `; on paper: ${wrong.sentence}` : '';
  return (
    <button
      type="button"
      disabled={fixed}
      aria-label={`${column.name} of ${name}, ${text === '' ? 'none' : text}${onPaper}`}
      title={wrong?.sentence ?? refused}
      onClick={(e) => grid.go({ row, column: column.id }, e.shiftKey)}
      onFocus={(e) => {
        if (e.target.matches(':focus-visible')) grid.go({ row, column: column.id });
      }}
    >
      {wrong && (
        <svg className={`mark ${wrong.verdict}`} width="12" height="12" viewBox="0 0 14 14" aria-hidden="true">
          <MarkShape verdict={wrong.verdict} basis="drawing" />
        </svg>
      )}
      {text}
      {note && <small> {note}</small>}
    </button>
  );
}

/** One cell of a table: in hand it is typed in, else it shows what it says and is taken in hand by a tap. */
export function CellBox(props: CellProps) {
  const { grid, column, row, fixed, chosen = false, other, wrong, refused } = props;
  const kind = numeric(column) ? 'number' : 'words';
  const inHand = grid.cell?.row === row && grid.cell.column === column.id && !fixed;
  if (inHand)
    return (
      <Box selected names={[kind, 'in-hand', wrong && `${wrong.verdict} doubted`]}>
        <CellEdit key={grid.again} {...props} />
      </Box>
    );
  return (
    <Box selected={chosen} names={[kind, fixed && 'fixed', chosen && 'chosen', other && 'other', refused && 'bad']}>
      <CellButton {...props} />
    </Box>
  );
}
