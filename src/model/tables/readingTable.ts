import Papa from 'papaparse';
import { parseAngle, parseLength } from '../../units/read.ts';
import { exactLength } from '../../units.ts';
import type { Fault } from '../file/faults/fault.ts';
import { type Kind, QUANTITIES } from '../quantities.ts';
import type { Model, Reading } from '../schema.ts';
import type { SizeEntry, SizeOf } from '../sizeEntries.ts';
import { sizeEntries } from '../sizes.ts';

/*
 * Readings as a table for a spreadsheet: one row a reading, the size named by its key, so that what is printed,
 * exported and read back uses one name. Values carry their unit; a table may be comma, semicolon or tab separated.
 */

const COLUMNS = ['size', 'name', 'value', 'instrument', 'date', 'temperature', 'over', 'sure', 'note'] as const;

/** A cell that a spreadsheet would run as a formula is made plain text. */
const plain = (cell: string): string => (/^[=+\-@\t\r]/.test(cell) && !/^[+-]?[\d.]/.test(cell) ? `'${cell}` : cell);

/** Rows as comma-separated text under a header, formulas defused. */
export function tableText(columns: readonly string[], rows: readonly (readonly string[])[]): string {
  return `${Papa.unparse({ fields: [...columns], data: rows.map((row) => row.map(plain)) }, { newline: '\n' })}\n`;
}

/** Value of a reading with its unit, every figure kept: `83.35 mm`, `-0.5 deg`. */
function valueText(kind: Kind, value: number, units: 'mm' | 'in'): string {
  return QUANTITIES[kind].unit === 'deg' ? `${value} deg` : exactLength(value, units);
}

/** All readings of a panel as comma-separated text with a header; formulas are defused. */
export function readingsTable(model: Model, units: 'mm' | 'in' = 'mm'): string {
  const entries = sizeEntries(model);
  const rows = model.readings.map((r) => {
    const e = entries.get(r.size);
    return [
      r.size,
      e?.name ?? '',
      e ? valueText(e.kind, r.value, units) : String(r.value),
      r.instrument,
      r.date ?? '',
      r.temperature === undefined ? '' : String(r.temperature),
      r.over === undefined ? '' : exactLength(r.over, units),
      r.sure ? 'yes' : '',
      r.note ?? '',
    ];
  });
  return tableText(COLUMNS, rows);
}

/** Readings taken from a table, or every fault found; nothing is half taken. */
export type TableResult =
  | { readonly ok: true; readonly readings: readonly Reading[] }
  | { readonly ok: false; readonly faults: readonly Fault[] };

/** A typed or pasted value of a size: mm for lengths, degrees for levels; a bare number takes `bare`. */
export function readValue(
  kind: Kind,
  text: string,
  bare: 'mm' | 'in',
): { ok: true; value: number } | { ok: false; sentence: string } {
  if (QUANTITIES[kind].unit === 'mm') return parseLength(text, bare);
  const read = parseAngle(text);
  return read.ok ? { ok: true, value: (read.value * 180) / Math.PI } : read;
}

/**
 * Whether two sizes are of like things: the same end, side, spar, sheet, layer or axis, at whatever part or station.
 */
const alike = (a: SizeOf, b: SizeOf): boolean =>
  (['end', 'side', 'spar', 'sheet', 'layer', 'axis'] as const).every((k) => a[k] === b[k]) &&
  (a.joint === undefined) === (b.joint === undefined);

/** Sizes of the same kind and end as one, in station order from it on: where a pasted column of bare values goes. */
export function columnFrom(model: Model, size: string): SizeEntry[] {
  const entries = [...sizeEntries(model).values()];
  const first = entries.find((e) => e.key === size);
  if (!first) return [];
  const same = entries.filter((e) => e.kind === first.kind && alike(e.of, first.of));
  return same.slice(same.indexOf(first));
}

/** A pasted column without a header, given to sizes from `size` on; blank lines skip a size. */
export function parseColumn(
  model: Model,
  size: string,
  text: string,
  bare: 'mm' | 'in',
  how: Omit<Reading, 'size' | 'value'>,
): TableResult {
  const lines = text.replace(/\r\n?/g, '\n').replace(/\n+$/, '').split('\n');
  const places = columnFrom(model, size);
  if (lines.length > places.length)
    return {
      ok: false,
      faults: [
        {
          path: '',
          sentence: `${lines.length} values were pasted and ${places.length} sizes are left from ${size} on; expected no more values than sizes; start further in or paste fewer`,
        },
      ],
    };
  const faults: Fault[] = [];
  const readings: Reading[] = [];
  places.slice(0, lines.length).forEach((place, i) => {
    const line = lines[i] ?? '';
    if (line.trim() === '') return;
    const value = readValue(place.kind, line.trim(), bare);
    if (value.ok) readings.push({ size: place.key, value: value.value, ...how });
    else faults.push({ path: `line ${i + 1}`, sentence: `${place.name}: ${value.sentence}` });
  });
  return faults.length > 0 ? { ok: false, faults } : { ok: true, readings };
}
