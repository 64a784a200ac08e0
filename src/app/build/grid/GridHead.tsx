import type { Model } from '../../../model/schema.ts';
import type { Column } from '../../../model/tables/tables.ts';
import { numeric } from './columns.ts';
import type { Sort } from './inOrder.ts';
import type { GridNow } from './useGrid.ts';

/** What a column is in, beside its heading. */
function unitOf({ kind }: Column, model: Model): string {
  if (kind === 'length') return model.units;
  return kind === 'angle' ? '°' : '';
}

interface Band {
  readonly key: string;
  readonly name: string;
  span: number;
}

/** Names that stand over several columns, with how many each is over. */
function bandsOf(columns: readonly Column[]): readonly Band[] {
  const bands: Band[] = [];
  for (const { id, band = '' } of columns) {
    const last = bands.at(-1);
    if (last?.name === band) last.span++;
    else bands.push({ key: id, name: band, span: 1 });
  }
  return bands;
}

const SORTED = { '1': ['ascending', ' ↑'], '-1': ['descending', ' ↓'] } as const;

function Heading({ column, grid }: { column: Column; grid: GridNow }) {
  const unit = unitOf(column, grid.model);
  const way: Sort['way'] | null = grid.sort?.column === column.id ? grid.sort.way : null;
  const [aria, arrow] = way === null ? ([undefined, ''] as const) : SORTED[way];
  return (
    <th scope="col" className={numeric(column) ? undefined : 'words'} aria-sort={aria}>
      <button type="button" title={`Sort by ${column.name}`} onClick={() => grid.sortBy(column.id)}>
        {column.head}
        {unit && <span className="unit"> {unit}</span>}
        {arrow}
      </button>
    </th>
  );
}

/** The headings, each a button that sorts; over them the names that several share. */
export function GridHead({ grid }: { grid: GridNow }) {
  const { columns } = grid;
  return (
    <thead>
      {columns.some((c) => c.band !== undefined) && (
        <tr className="bands">
          <th />
          {bandsOf(columns).map((b) => (
            <th key={b.key} colSpan={b.span} scope="colgroup">
              {b.name}
            </th>
          ))}
        </tr>
      )}
      <tr>
        <th scope="col" className="grid-name" />
        {columns.map((c) => (
          <Heading key={c.id} column={c} grid={grid} />
        ))}
      </tr>
    </thead>
  );
}
