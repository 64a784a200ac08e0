import type { Finding } from '../../../checks/finding.ts';
import type { CellValue, Column } from '../../../model/tables/tables.ts';
import type { GridNow } from './useGrid.ts';

/** One cell of a table: where it is, what it holds, and what is said of it. */
export interface CellProps {
  readonly grid: GridNow;
  readonly column: Column;
  readonly row: string;
  /** Name of the row, for the ear. */
  readonly name: string;
  readonly value: CellValue | undefined;
  readonly fixed: boolean;
  readonly chosen?: boolean;
  /** Differs from what most have. */
  readonly other?: boolean;
  readonly note?: string;
  /** What does not fit on paper of it. */
  readonly wrong?: Finding | undefined;
  /** Why what was put into it was not taken. */
  readonly refused?: string | undefined;
}
