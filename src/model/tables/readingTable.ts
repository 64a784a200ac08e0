import Papa from 'papaparse';
import { exactLength, parseAngle, parseLength } from '../../units.ts';
import type { Fault } from '../file/faults/fault.ts';
import { type Kind, QUANTITIES } from '../quantities.ts';
import type { Model, Reading } from '../schema.ts';
import type { SizeEntry, SizeOf } from '../sizeEntries.ts';
import { instrumentUncertainty, sizeBook, sizeEntries } from '../sizes.ts';

/*
 * Readings as a table for a spreadsheet: one row a reading, the size named by its key, so that what is printed, exported
 * and read back uses one name. Values carry their unit; a table may be comma, semicolon or tab separated.
 */

const COLUMNS = ['size', 'name', 'value', 'instrument', 'date', 'temperature', 'over', 'sure', 'note'] as const;

/** Most rows taken at once. */
const MOST_ROWS = 100_000;

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

/** Reads a table with a header row that names at least `size` and `value`. */
export function parseReadings(model: Model, text: string, bare: 'mm' | 'in' = 'mm'): TableResult {
  const bareText = text.replace(/^\uFEFF/, '');
  const head = (Papa.parse<string[]>(bareText, { preview: 1, skipEmptyLines: 'greedy' }).data[0] ?? [])
    .map((h) => h.trim().toLowerCase())
    .filter((h) => h !== '');
  const twice = head.find((h, i) => head.indexOf(h) < i);
  if (twice !== undefined)
    return {
      ok: false,
      faults: [
        {
          path: 'line 1',
          sentence: `the table has two columns named "${twice.slice(0, 40)}"; expected one, for only one can count; rename or remove the other`,
        },
      ],
    };
  const read = Papa.parse<Record<string, string>>(bareText, {
    header: true,
    skipEmptyLines: 'greedy',
    transformHeader: (h) => h.trim().toLowerCase(),
  });
  const fields = read.meta.fields ?? [];
  const missing = ['size', 'value'].filter((c) => !fields.includes(c));
  if (missing.length > 0)
    return {
      ok: false,
      faults: [
        {
          path: 'line 1',
          sentence: `the table has the columns ${fields.slice(0, 8).join(', ') || 'none'}; expected ${missing.map((m) => `"${m}"`).join(' and ')} among them; add a header row`,
        },
      ],
    };
  if (read.data.length > MOST_ROWS)
    return {
      ok: false,
      faults: [
        { path: '', sentence: `the table has ${read.data.length} rows; expected at most ${MOST_ROWS}; split it` },
      ],
    };
  const faults: Fault[] = [];
  const readings: Reading[] = [];
  // A row that does not divide into the header's columns would be half read: a decimal comma in a comma table does that.
  for (const error of read.errors) {
    const line = `line ${(error.row ?? 0) + 2}`;
    if (error.code === 'TooManyFields')
      faults.push({
        path: line,
        sentence: `the row has more cells than the header has columns; expected as many; put a value with a comma in quotes, or use a point`,
      });
    else if (error.type === 'Quotes')
      faults.push({
        path: line,
        sentence: `a quote is opened and not closed; expected it closed before the next cell; correct it`,
      });
  }
  read.data.forEach((row, i) => {
    const one = readRow(model, row, bare);
    if (typeof one === 'string') faults.push({ path: `line ${i + 2}`, sentence: one });
    else readings.push(one);
  });
  return faults.length > 0 ? { ok: false, faults } : { ok: true, readings };
}

function readRow(model: Model, row: Record<string, string>, bare: 'mm' | 'in'): Reading | string {
  const cell = (name: string): string =>
    (row[name] ?? '')
      .trim()
      .replace(/^'(?=[=+\-@\t\r])/, '')
      .trim();
  const size = cell('size');
  const entry = sizeEntries(model).get(size);
  if (!entry)
    return `"${size.slice(0, 40)}" is not a size of this panel; expected a name such as M2.length; correct it`;
  const value = readValue(entry.kind, cell('value'), bare);
  if (!value.ok) return `${entry.name}: ${value.sentence}`;
  const instrument =
    cell('instrument') ||
    (sizeBook(model).readingsOf(size).at(-1)?.instrument ?? Object.keys(QUANTITIES[entry.kind].u)[0]!);
  if (instrumentUncertainty(model, entry.kind, instrument) === undefined)
    return `${entry.name}: "${instrument.slice(0, 40)}" is not an instrument for it; expected ${Object.keys(QUANTITIES[entry.kind].u).join(' or ')}; correct it`;
  const temperature = cell('temperature');
  if (temperature !== '' && !Number.isFinite(Number(temperature)))
    return `${entry.name}: the temperature "${temperature.slice(0, 20)}" is not a number of degrees C; correct it`;
  const over = cell('over') ? parseLength(cell('over'), bare) : undefined;
  if (over && !over.ok) return `${entry.name}, over: ${over.sentence}`;
  return {
    size,
    value: value.value,
    instrument,
    ...(cell('date') ? { date: cell('date') } : {}),
    ...(temperature === '' ? {} : { temperature: Number(temperature) }),
    ...(over?.ok ? { over: over.value } : {}),
    ...(/^(yes|y|true|1)$/i.test(cell('sure')) ? { sure: true as const } : {}),
    ...(cell('note') ? { note: cell('note') } : {}),
  };
}

/** Whether two sizes are of like things: the same end, side, spar, sheet, layer or axis, at whatever part or station. */
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
  lines.forEach((line, i) => {
    if (line.trim() === '') return;
    const place = places[i]!;
    const value = readValue(place.kind, line.trim(), bare);
    if (value.ok) readings.push({ size: place.key, value: value.value, ...how });
    else faults.push({ path: `line ${i + 1}`, sentence: `${place.name}: ${value.sentence}` });
  });
  return faults.length > 0 ? { ok: false, faults } : { ok: true, readings };
}
