import type { Model } from '../../model/schema.ts';
import { TABLES } from '../../model/tables/allTables.ts';
import type { Column, Table } from '../../model/tables/tables.ts';

export const tableOf = (id: string | null): Table | undefined => TABLES.find((t) => t.id === id);

export const columnOf = (table: Table, model: Model, id: string): Column | undefined =>
  table.columns(model).find((c) => c.id === id);
