import { Fragment, useEffect, useMemo, useRef, useState } from 'react';
import {
  applyEdit,
  confirmed,
  type Edit,
  measure,
  measureMore,
  takeReadings,
  usualInstrument,
} from '../../model/edits/edits.ts';
import type { Fault } from '../../model/file/faults/fault.ts';
import { INSTRUMENTS, type Kind, QUANTITIES } from '../../model/quantities.ts';
import type { Model, Reading } from '../../model/schema.ts';
import { sizeBook } from '../../model/sizes.ts';
import { parseReadings } from '../../model/tables/readingRows.ts';
import { columnFrom, parseColumn, readingsTable, readValue } from '../../model/tables/readingTable.ts';
import { walkingOrder } from '../../model/walk.ts';
import { echo, formatAngle, formatLength } from '../../units.ts';
import { fileStem, saveAs } from '../files/saveAs.ts';
import { useApp } from '../state/store.ts';
import { today } from '../state/today.ts';
import { instrumentsFor } from '../station/SizeField.tsx';
import { Jaws } from '../widgets/Jaws.tsx';
import './measure.css';

const PAD = [
  ['7', '8', '9', '⌫'],
  ['4', '5', '6', '/'],
  ['1', '2', '3', '.'],
  ['-', '0', ' ', '#'],
] as const;
const UNITS = ['mm', 'in', 'mil'] as const;
const KEY_NAMES: Readonly<Record<string, string>> = {
  '⌫': 'Delete',
  ' ': 'Space',
  '.': 'point',
  '-': 'minus',
  '/': 'slash',
  '#': 'number sign',
};

/** Prints a value of a size in the panel's unit, or degrees. */
function printed(kind: Kind, value: number, units: 'mm' | 'in'): string {
  return QUANTITIES[kind].unit === 'deg' ? formatAngle((value * Math.PI) / 180) : formatLength(value, units);
}

/** Mean and half the range, for readings taken more than once. */
function spreadText(kind: Kind, values: readonly number[], units: 'mm' | 'in'): string {
  const mean = values.reduce((a, b) => a + b, 0) / values.length;
  return `mean ${printed(kind, mean, units)}, spread ${printed(kind, Math.max(...values) - Math.min(...values), units)}`;
}

/** Sizes read with a square or plumb line over a length of its own. */
const READ_OVER: ReadonlySet<Kind> = new Set<Kind>(['lean', 'plumb']);

/** What the last reading was taken with, kept for the next while the page is open. */
const kept = { temperature: undefined as string | undefined, over: '' };

/** What a person is asked before a doubtful value is taken; undefined where nothing is wrong, or where it cannot be taken at all. */
function questionOf(faults: readonly Fault[]): string | undefined {
  return faults.length > 0 && faults.every((f) => f.question !== undefined)
    ? [...new Set(faults.map((f) => f.question))].join(' ')
    : undefined;
}

/** The temperature the card starts from: the last one typed here, else that of the last reading that has one. */
function lastTemperature(model: Model): string {
  return kept.temperature ?? String(model.readings.findLast((r) => r.temperature !== undefined)?.temperature ?? '');
}

/** One size at a time, with dirty hands: where the jaws go, one big number pad, any unit, echoed before it is stored. */
export function MeasureCard({ size, onSize }: { size: string; onSize: (key: string) => void }) {
  const model = useApp((s) => s.model);
  const edit = useApp((s) => s.edit);
  const [text, setText] = useState('');
  const [refused, setRefused] = useState('');
  const [asking, setAsking] = useState<{ readonly question: string; readonly again: boolean } | null>(null);
  const asked = useApp((s) => s.instrument);
  const [instrument, setInstrument] = useState(() => asked ?? usualInstrument(model, size));
  const [temperature, setTemperature] = useState(() => lastTemperature(model));
  const [over, setOver] = useState(kept.over);
  const box = useRef<HTMLInputElement>(null);
  const walk = useMemo(() => walkingOrder(model), [model]);
  const at = walk.findIndex((e) => e.key === size);
  const entry = walk[at];
  const write = (change: (t: string) => string) => {
    setText(change);
    setRefused('');
    setAsking(null);
  };
  useEffect(() => {
    write(() => '');
    setInstrument(asked ?? usualInstrument(useApp.getState().model, size));
  }, [size, asked]);
  if (!entry) return null;
  const quantity = QUANTITIES[entry.kind];
  const units: readonly string[] = quantity.unit === 'mm' ? UNITS : [];
  const taken = sizeBook(model).readingsOf(size);
  const typed = text.trim() === '' ? undefined : readValue(entry.kind, text, model.units);
  const go = (by: number) => {
    const next = walk[at + by];
    if (next) onSize(next.key);
  };
  /** The step that stores what was typed, or what is wrong with it. */
  const step = (value: number, again: boolean, sure: boolean): Edit | string => {
    const length = READ_OVER.has(entry.kind) && over.trim() !== '' ? readValue('length', over, model.units) : undefined;
    if (length && !length.ok) return `Over what length? ${length.sentence}`;
    const warm = temperature.trim().replace(',', '.');
    if (warm !== '' && !Number.isFinite(Number(warm)))
      return `“${temperature}” is not a temperature; type degrees C such as 18.`;
    const how: Omit<Reading, 'size' | 'value'> = {
      instrument,
      date: today(),
      ...(warm !== '' ? { temperature: Number(warm) } : {}),
      ...(length ? { over: length.value } : {}),
      ...(sure ? { sure: true as const } : {}),
    };
    return again ? measureMore(model, size, { value, ...how }) : measure(model, size, [value], how);
  };
  const take = (again: boolean, sure = false) => {
    if (!typed) return;
    const done = typed.ok ? step(typed.value, again, sure) : typed.sentence;
    if (typeof done === 'string') return setRefused(done);
    const faults = edit(done);
    const question = questionOf(faults);
    if (question) return setAsking({ question: `${text.trim()}? ${question}`, again });
    if (faults.length > 0) return setRefused(faults.map((f) => f.sentence).join(' '));
    Object.assign(kept, { temperature, over });
    write(() => '');
    if (!again) go(1);
    box.current?.focus();
  };
  const press = (key: string) => write((t) => (key === '⌫' ? t.slice(0, -1) : key === ' ' ? `${t} ` : t + key));
  const understood = typed?.ok
    ? quantity.unit === 'deg'
      ? formatAngle((typed.value * Math.PI) / 180)
      : echo(typed.value)
    : typed?.sentence;
  return (
    <form
      className="measure"
      onSubmit={(e) => {
        e.preventDefault();
        if (!asking) take(false);
      }}
    >
      <div className="card-head">
        <button type="button" className="icon big" aria-label="Size before" disabled={at === 0} onClick={() => go(-1)}>
          ◂
        </button>
        <div className="measure-name">
          <h2>{entry.name}</h2>
          <p className="small">
            {quantity.where}
            {entry.nominal === undefined ? '' : ` · drawing ${printed(entry.kind, entry.nominal, model.units)}`}
          </p>
        </div>
        <button
          type="button"
          className="icon big"
          aria-label="Next size"
          disabled={at === walk.length - 1}
          onClick={() => go(1)}
        >
          ▸
        </button>
      </div>
      <Jaws kind={entry.kind} where={quantity.where} />
      <input
        ref={box}
        className="big-number"
        value={text}
        placeholder={taken.length > 0 ? printed(entry.kind, taken.at(-1)!.value, model.units) : 'not read yet'}
        aria-label={`Reading of the ${entry.name}`}
        inputMode="none"
        autoComplete="off"
        onChange={(e) => write(() => e.target.value)}
      />
      <output
        className={refused || asking ? 'refused big-echo' : 'echo big-echo'}
        role={refused || asking ? 'alert' : undefined}
      >
        {refused ||
          asking?.question ||
          (understood ??
            (taken.length > 1
              ? spreadText(
                  entry.kind,
                  taken.map((r) => r.value),
                  model.units,
                )
              : '\u00a0'))}
      </output>
      <div className="pad-group" role="group" aria-label="Number pad">
        <div className={`pad${units.length > 0 ? ' with-units' : ''}`}>
          {PAD.map((row, r) => (
            <Fragment key={row[0]}>
              {row.map((k) => (
                <button key={k} type="button" aria-label={KEY_NAMES[k] ?? k} onClick={() => press(k)}>
                  {k === ' ' ? '␣' : k}
                </button>
              ))}
              {units[r] && (
                <button
                  type="button"
                  className="unit-key"
                  onClick={() => write((t) => `${t.replace(/\s*(mm|in|mil)$/, '')} ${units[r]}`)}
                >
                  {units[r]}
                </button>
              )}
            </Fragment>
          ))}
        </div>
        <div className="pad take-dock">
          {asking ? (
            // "No" stands where "Take, next" was: a second tap by mistake takes nothing. Keys keep them buttons of their own:
            // one that turned into the submit button while it was being clicked would submit.
            <>
              <button key="yes" type="button" className="again" onClick={() => take(asking.again, true)}>
                Yes, that is what it reads
              </button>
              <button
                key="no"
                type="button"
                className="take-next"
                onClick={() => {
                  setAsking(null);
                  box.current?.focus();
                }}
              >
                No, change it
              </button>
            </>
          ) : (
            <>
              <button key="again" type="button" className="again" disabled={!typed} onClick={() => take(true)}>
                Take, once more
              </button>
              <button key="next" type="submit" className="take-next" disabled={!typed}>
                Take, next
              </button>
            </>
          )}
        </div>
      </div>
      <div className="settings">
        <label>
          With
          <select value={instrument} aria-label="With which instrument" onChange={(e) => setInstrument(e.target.value)}>
            {instrumentsFor(model, entry.kind).map((i) => (
              <option key={i} value={i}>
                {INSTRUMENTS[i] ?? i}
              </option>
            ))}
          </select>
        </label>
        <label>
          At{' '}
          <input
            value={temperature}
            inputMode="decimal"
            size={4}
            aria-label="Temperature, degrees C"
            onChange={(e) => setTemperature(e.target.value)}
          />{' '}
          °C
        </label>
        {READ_OVER.has(entry.kind) && (
          <label>
            Over{' '}
            <input
              value={over}
              size={7}
              aria-label="Length it was read over"
              placeholder={entry.kind === 'plumb' ? formatLength(300, model.units) : 'rib height'}
              onChange={(e) => setOver(e.target.value)}
            />
          </label>
        )}
      </div>
      {taken.length > 0 && (
        <p className="small">
          Read{' '}
          {taken
            .map(
              (r) =>
                `${printed(entry.kind, r.value, model.units)} (${[INSTRUMENTS[r.instrument] ?? r.instrument, r.date, r.sure ? 'confirmed' : ''].filter(Boolean).join(', ')})`,
            )
            .join('; ')}
        </p>
      )}
      <Paste size={size} how={{ instrument, date: today() }} />
    </form>
  );
}

/** A column from a spreadsheet, or a whole table with a header; shown before it is taken. */
function Paste({ size, how }: { size: string; how: { instrument: string; date: string } }) {
  const model = useApp((s) => s.model);
  const edit = useApp((s) => s.edit);
  const [text, setText] = useState('');
  const table = /^\s*"?size"?\s*[,;\t]/i.test(text);
  const read =
    text.trim() === ''
      ? undefined
      : table
        ? parseReadings(model, text, model.units)
        : parseColumn(model, size, text, model.units, how);
  const book = sizeBook(model);
  // What was pasted is tried at once, so that what is doubtful is asked about before it is taken.
  const tried = read?.ok ? applyEdit(model, takeReadings(read.readings)) : undefined;
  const faults = tried && !tried.ok ? tried.faults : [];
  const doubts = faults.filter((f) => f.question !== undefined);
  const take = (readings: readonly Reading[]) => {
    if (edit(takeReadings(readings)).length === 0) setText('');
  };
  return (
    <details className="paste">
      <summary>Paste a column, or a table</summary>
      <p className="small">
        A column goes to{' '}
        {columnFrom(model, size)
          .slice(0, 3)
          .map((e) => e.key)
          .join(', ')}{' '}
        and on. A table has a header with “size” and “value”.
      </p>
      <textarea
        rows={5}
        value={text}
        aria-label="Values to paste"
        spellCheck={false}
        onChange={(e) => setText(e.target.value)}
      />
      {read && !read.ok && (
        <ul className="refused">
          {read.faults.slice(0, 8).map((f) => (
            <li key={f.path + f.sentence}>
              {f.path}: {f.sentence}
            </li>
          ))}
        </ul>
      )}
      {read?.ok && (
        <p className="small">
          {read.readings
            .slice(0, 4)
            .map((r) => `${r.size} ${printed(book.entries.get(r.size)!.kind, r.value, model.units)}`)
            .join(', ')}
          {read.readings.length > 4 ? ` and ${read.readings.length - 4} more` : ''}
        </p>
      )}
      {faults.length > 0 && (
        <ul className="refused" role="alert">
          {faults.slice(0, 8).map((f) => (
            <li key={f.path + f.sentence}>{f.sentence}</li>
          ))}
          {faults.length > 8 && <li>and {faults.length - 8} more</li>}
        </ul>
      )}
      <button
        type="button"
        className="take"
        disabled={!read?.ok || faults.length > 0}
        onClick={() => read?.ok && take(read.readings)}
      >
        Take them
      </button>
      {read?.ok && doubts.length > 0 && doubts.length === faults.length && (
        <button type="button" className="take" onClick={() => take(confirmed(read.readings, faults))}>
          Yes, that is what they read: take them
        </button>
      )}
      <button
        type="button"
        className="quiet"
        onClick={() => saveAs(readingsTable(model, model.units), `${fileStem(model.name)}-readings.csv`, 'text/csv')}
      >
        Save all readings as a table
      </button>
    </details>
  );
}
