import type { Model } from '../../model/schema.ts';
import { HOLES } from '../../model/tables/holeTable.ts';
import { JOINTS } from '../../model/tables/jointTables.ts';
import { BRACKETS, DOUBLERS } from '../../model/tables/pieceTables.ts';
import { MAIN_RIBS, NOSE_RIBS, TIP_RIBS } from '../../model/tables/ribTables.ts';
import { SHEET_TABLE, SPAR_TABLE, STRIPS } from '../../model/tables/sparTables.ts';
import { BRINGS, OPENS } from '../../model/tables/stageTables.ts';
import { STATIONS } from '../../model/tables/stationTable.ts';
import type { Column, Table } from '../../model/tables/tables.ts';

/** Every table of the panel, by its id. */
export const TABLES: readonly Table[] = [
  STATIONS,
  MAIN_RIBS,
  NOSE_RIBS,
  TIP_RIBS,
  DOUBLERS,
  BRACKETS,
  SPAR_TABLE,
  STRIPS,
  SHEET_TABLE,
  JOINTS,
  HOLES,
  BRINGS,
  OPENS,
];

export const tableOf = (id: string | null): Table | undefined => TABLES.find((t) => t.id === id);

export const columnOf = (table: Table, model: Model, id: string): Column | undefined =>
  table.columns(model).find((c) => c.id === id);
