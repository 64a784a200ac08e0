import Papa from 'papaparse';
import { parseAngle, parseLength } from '../../units/read.ts';
import type { Fault } from '../file/faults/fault.ts';
import { QUANTITIES } from '../quantities.ts';
import type { Model, Reading } from '../schema.ts';
import type { SizeEntry } from '../sizeEntries.ts';
import { instrumentUncertainty, sizeBook, sizeEntries } from '../sizes.ts';
import { readValue, type TableResult } from './readingTable.ts';

/*
 * A table of readings read back, row by row: every row is taken or every fault is told. A bare number takes the unit
 * of its row's "unit" column where there is one, else the unit of the panel.
 */

/** Most rows taken at once. */
const MOST_ROWS = 100_000;

const refused = (...faults: readonly Fault[]): TableResult => ({ ok: false, faults });

/** A heading as it is compared: small letters, no blanks about it. */
const headOf = (h: string): string => h.trim().toLowerCase();

/** A column named twice: only one of the two can count. */
function twinFault(text: string): Fault | undefined {
  const line = Papa.parse<string[]>(text, { preview: 1, skipEmptyLines: 'greedy' }).data[0] ?? [];
  const head = line.map(headOf).filter((h) => h !== '');
  const twin = head.find((h, i) => head.indexOf(h) < i);
  return twin === undefined
    ? undefined
    : {
        path: 'line 1',
        sentence: `the table has two columns named "${twin.slice(0, 40)}"; expected one, for only one can count; rename or remove the other`,
      };
}

/** A column that is needed and not there. */
function missingFault(fields: readonly string[]): Fault | undefined {
  const missing = ['size', 'value'].filter((c) => !fields.includes(c)).map((c) => `"${c}"`);
  if (missing.length === 0) return undefined;
  const had = fields.slice(0, 8).join(', ') || 'none';
  return {
    path: 'line 1',
    sentence: `the table has the columns ${had}; expected ${missing.join(' and ')} among them; add a header row`,
  };
}

/**
 * A row that does not divide into the header's columns would be half read: a decimal comma in a comma table does
 * that.
 */
function divisionFault({ row = 0, code, type }: Papa.ParseError): Fault | undefined {
  const path = `line ${row + 2}`;
  if (code === 'TooManyFields')
    return {
      path,
      sentence: `the row has more cells than the header has columns; expected as many; put a value with a comma in quotes, or use a point`,
    };
  if (type === 'Quotes')
    return {
      path,
      sentence: `a quote is opened and not closed; expected it closed before the next cell; correct it`,
    };
  return undefined;
}

/** Reads a table with a header row that names at least `size` and `value`. */
export function parseReadings(model: Model, text: string, bare: 'mm' | 'in' = model.units): TableResult {
  const plain = text.replace(/^\uFEFF/, '');
  const twin = twinFault(plain);
  if (twin) return refused(twin);
  const read = Papa.parse<Record<string, string>>(plain, {
    header: true,
    skipEmptyLines: 'greedy',
    transformHeader: headOf,
  });
  const missing = missingFault(read.meta.fields ?? []);
  if (missing) return refused(missing);
  if (read.data.length > MOST_ROWS)
    return refused({
      path: '',
      sentence: `the table has ${read.data.length} rows; expected at most ${MOST_ROWS}; split it`,
    });
  const faults = read.errors.flatMap((error) => divisionFault(error) ?? []);
  const readings: Reading[] = [];
  for (const [i, row] of read.data.entries()) {
    const one = readRow(model, row, bare);
    if (typeof one === 'string') faults.push({ path: `line ${i + 2}`, sentence: one });
    else readings.push(one);
  }
  return faults.length > 0 ? refused(...faults) : { ok: true, readings };
}

/** Cells of a row by their heading; '' for one that is not there. A mark against formulas is taken off again. */
type Cells = (heading: string) => string;
const cellsOf =
  (row: Readonly<Record<string, string>>): Cells =>
  (heading) =>
    (row[heading] ?? '')
      .trim()
      .replace(/^'(?=[=+\-@\t\r])/, '')
      .trim();

/**
 * A value in its own unit, else in that of its row: `3.937` with `in` is read as `3.937 in`. A sentence where the two
 * are not one.
 */
function withUnit(entry: SizeEntry, text: string, unit: string): { text: string } | { sentence: string } {
  if (unit === '') return { text };
  const parse = QUANTITIES[entry.kind].unit === 'mm' ? parseLength : parseAngle;
  const [own, named] = [parse(text), parse(`1 ${unit}`)];
  if (!own.ok || own.bareUnit) return { text: `${text} ${unit}` };
  const alike = named.ok && (own.unit === named.unit || own.unit === 'drill');
  return alike
    ? { text }
    : {
        sentence: `the value says "${text.slice(0, 20)}" and its unit "${unit.slice(0, 20)}"; expected one unit; correct one of them`,
      };
}

/** The value of a row in mm or degrees, or why it is none. */
function valueOfRow(entry: SizeEntry, cell: Cells, bare: 'mm' | 'in'): number | string {
  const said = withUnit(entry, cell('value'), cell('unit') || cell('units'));
  if ('sentence' in said) return `${entry.name}: ${said.sentence}`;
  const value = readValue(entry.kind, said.text, bare);
  return value.ok ? value.value : `${entry.name}: ${value.sentence}`;
}

/**
 * What a row says it was read with, else what the size was read with last, else the usual one; a sentence where it is
 * none for it.
 */
function instrumentOfRow(model: Model, entry: SizeEntry, cell: Cells): { id: string } | string {
  const usual = Object.keys(QUANTITIES[entry.kind].u);
  const last = sizeBook(model).readingsOf(entry.key).at(-1)?.instrument;
  const id = cell('instrument') || (last ?? usual[0] ?? '');
  return instrumentUncertainty(model, entry.kind, id) === undefined
    ? `${entry.name}: "${id.slice(0, 40)}" is not an instrument for it; expected ${usual.join(' or ')}; correct it`
    : { id };
}

/**
 * What else a row says of its reading: the day, the temperature, the length it was read over, whether it is sure, a
 * note.
 */
function restOfRow(entry: SizeEntry, cell: Cells, bare: 'mm' | 'in'): Partial<Reading> | string {
  const [date, temperature, note] = [cell('date'), cell('temperature'), cell('note')];
  if (temperature !== '' && !Number.isFinite(Number(temperature)))
    return `${entry.name}: the temperature "${temperature.slice(0, 20)}" is not a number of degrees C; correct it`;
  const over = cell('over') === '' ? undefined : parseLength(cell('over'), bare);
  if (over && !over.ok) return `${entry.name}, over: ${over.sentence}`;
  return {
    ...(date ? { date } : {}),
    ...(temperature === '' ? {} : { temperature: Number(temperature) }),
    ...(over ? { over: over.value } : {}),
    ...(/^(yes|y|true|1)$/i.test(cell('sure')) ? { sure: true as const } : {}),
    ...(note ? { note } : {}),
  };
}

/** The reading of one row, or one sentence. */
function readRow(model: Model, row: Readonly<Record<string, string>>, bare: 'mm' | 'in'): Reading | string {
  const cell = cellsOf(row);
  const size = cell('size');
  const entry = sizeEntries(model).get(size);
  if (!entry)
    return `"${size.slice(0, 40)}" is not a size of this panel; expected a name such as M2.length; correct it`;
  const value = valueOfRow(entry, cell, bare);
  if (typeof value === 'string') return value;
  const instrument = instrumentOfRow(model, entry, cell);
  if (typeof instrument === 'string') return instrument;
  const rest = restOfRow(entry, cell, bare);
  return typeof rest === 'string' ? rest : { size, value, instrument: instrument.id, ...rest };
}
