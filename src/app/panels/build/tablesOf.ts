import { BRINGS, HOLES, JOINTS, OPENS } from '../../../model/jointTables.ts';
import { BRACKETS, DOUBLERS, MAIN_RIBS, NOSE_RIBS, TIP_RIBS } from '../../../model/partTables.ts';
import { SHEETS, SPARS, STRIPS } from '../../../model/sparTables.ts';
import { STATIONS } from '../../../model/stationTable.ts';
import type { Column, Table } from '../../../model/tables.ts';
import type { Model } from '../../../model/schema.ts';

/** Every table of the panel, by its id. */
export const TABLES: readonly Table[] = [
  STATIONS,
  MAIN_RIBS,
  NOSE_RIBS,
  TIP_RIBS,
  DOUBLERS,
  BRACKETS,
  SPARS,
  STRIPS,
  SHEETS,
  JOINTS,
  HOLES,
  BRINGS,
  OPENS,
];

export const tableOf = (id: string | null): Table | undefined => TABLES.find((t) => t.id === id);

export const columnOf = (table: Table, model: Model, id: string): Column | undefined =>
  table.columns(model).find((c) => c.id === id);
