import type { Column } from '../../../model/tables/tables.ts';

/** Whether a column holds numbers, which stand to the right of their cells. */
export const numeric = ({ kind }: Column): boolean =>
  kind === 'length' || kind === 'angle' || kind === 'count' || kind === 'number';

/** Whether values between the first and the last can be filled in evenly. */
export const tapers = (column: Column | undefined): column is Column =>
  column?.kind === 'length' || column?.kind === 'angle';
