import { HOLES } from './holeTable.ts';
import { JOINTS } from './jointTables.ts';
import { BRACKETS, DOUBLERS } from './pieceTables.ts';
import { MAIN_RIBS, NOSE_RIBS, TIP_RIBS } from './ribTables.ts';
import { SHEET_TABLE, SPAR_TABLE, STRIPS } from './sparTables.ts';
import { BRINGS, OPENS } from './stageTables.ts';
import { STATIONS } from './stationTable.ts';
import type { Table } from './tables.ts';

/** Every table of the panel, in the order of Build. */
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
