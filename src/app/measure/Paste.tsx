import { useState } from 'react';
import { applyEdit, confirmed, takeReadings } from '../../model/edits/edits.ts';
import type { Fault } from '../../model/file/faults/fault.ts';
import { QUANTITIES } from '../../model/quantities.ts';
import type { Model, Reading } from '../../model/schema.ts';
import { sizeBook } from '../../model/sizes.ts';
import { parseReadings } from '../../model/tables/readingRows.ts';
import { columnFrom, parseColumn, readingsTable, type TableResult } from '../../model/tables/readingTable.ts';
import { fileStem, saveAs } from '../files/saveAs.ts';
import { useApp } from '../state/store.ts';
import { today } from '../state/today.ts';
import { printSize } from '../station/typedSize.ts';

/** Faults listed, and readings shown, before they are taken. */
const MOST_FAULTS = 8;
const MOST_READINGS = 4;
/** Sizes a column is said to go to. */
const FIRST_SIZES = 3;

interface Into {
  readonly size: string;
  readonly instrument: string;
}

/** What was pasted: a whole table where it has a header, else a column that goes down the card's sizes. */
function readPasted(model: Model, text: string, { size, instrument }: Into): TableResult | undefined {
  if (text.trim() === '') return undefined;
  if (/^\s*"?size"?\s*[,;\t]/i.test(text)) return parseReadings(model, text, model.units);
  return parseColumn(model, size, text, model.units, { instrument, date: today() });
}

/** What would be wrong with readings, found before they are taken. */
function faultsOf(model: Model, readings: readonly Reading[]): readonly Fault[] {
  const tried = applyEdit(model, takeReadings(readings));
  return tried.ok ? [] : tried.faults;
}

/** The first of a list of sentences, with how many more there are. */
function Faults({ sentences }: { sentences: readonly string[] }) {
  const more = sentences.length - MOST_FAULTS;
  return (
    <ul className="refused" role="alert">
      {sentences.slice(0, MOST_FAULTS).map((s) => (
        <li key={s}>{s}</li>
      ))}
      {more > 0 && <li>and {more} more</li>}
    </ul>
  );
}

/** The readings understood, the first few of them. */
function Understood({ readings }: { readings: readonly Reading[] }) {
  const model = useApp((s) => s.model);
  const book = sizeBook(model);
  const printed = ({ size, value }: Reading): string => {
    const kind = book.entries.get(size)?.kind ?? 'length';
    return `${size} ${printSize(value, QUANTITIES[kind].unit, model.units)}`;
  };
  const more = readings.length - MOST_READINGS;
  return (
    <p className="small">
      {readings.slice(0, MOST_READINGS).map(printed).join(', ')}
      {more > 0 ? ` and ${more} more` : ''}
    </p>
  );
}

/** Readings that were understood: taken as they are, or after a yes where they are doubtful. */
function Take({ readings, onTaken }: { readings: readonly Reading[]; onTaken: () => void }) {
  const model = useApp((s) => s.model);
  const edit = useApp((s) => s.edit);
  const faults = faultsOf(model, readings);
  const doubtful = faults.length > 0 && faults.every((f) => f.question !== undefined);
  const take = (list: readonly Reading[]): void => {
    if (edit(takeReadings(list)).length === 0) onTaken();
  };
  return (
    <>
      <Understood readings={readings} />
      {faults.length > 0 && <Faults sentences={faults.map((f) => f.sentence)} />}
      <button type="button" className="take" disabled={faults.length > 0} onClick={() => take(readings)}>
        Take them
      </button>
      {doubtful && (
        <button type="button" className="take" onClick={() => take(confirmed(readings, faults))}>
          Yes, that is what they read: take them
        </button>
      )}
    </>
  );
}

/** A column from a spreadsheet, or a whole table with a header; shown before it is taken. */
export function Paste({ size, instrument }: Into) {
  const model = useApp((s) => s.model);
  const [text, setText] = useState('');
  const read = readPasted(model, text, { size, instrument });
  const column = columnFrom(model, size).slice(0, FIRST_SIZES);
  const save = (): void =>
    saveAs(readingsTable(model, model.units), `${fileStem(model.name)}-readings.csv`, 'text/csv');
  return (
    <details className="paste">
      <summary>Paste a column, or a table</summary>
      <p className="small">
        A column goes to {column.map((e) => e.key).join(', ')} and on. A table has a header with “size” and “value”.
      </p>
      <textarea
        rows={5}
        value={text}
        aria-label="Values to paste"
        spellCheck={false}
        onChange={(e) => setText(e.target.value)}
      />
      {read && !read.ok && <Faults sentences={read.faults.map((f) => `${f.path}: ${f.sentence}`)} />}
      {read?.ok ? (
        <Take readings={read.readings} onTaken={() => setText('')} />
      ) : (
        <button type="button" className="take" disabled>
          Take them
        </button>
      )}
      <button type="button" className="quiet" onClick={save}>
        Save all readings as a table
      </button>
    </details>
  );
}
