import { useEffect, useMemo, useRef, useState } from 'react';
import { measure, takeReadings, usualInstrument } from '../../model/edits.ts';
import { INSTRUMENTS, QUANTITIES } from '../../model/quantities.ts';
import { sizeBook } from '../../model/sizes.ts';
import { columnFrom, parseColumn, parseReadings, readingsTable, readValue } from '../../model/table.ts';
import { walkingOrder } from '../../model/walk.ts';
import { echo, formatAngle, formatLength } from '../../units.ts';
import { fileStem, saveAs } from '../saveAs.ts';
import { useApp } from '../store.ts';
import { Jaws } from './Jaws.tsx';
import { instrumentsFor, questioned } from './SizeField.tsx';
import { today } from '../today.ts';

const PAD = [['7', '8', '9', '⌫'], ['4', '5', '6', '/'], ['1', '2', '3', '.'], ['-', '0', ' ', '#']] as const;
const UNITS = ['mm', 'in', 'mil'] as const;

/** Prints a value of a size in the panel's unit, or degrees. */
function printed(kind: keyof typeof QUANTITIES, value: number, units: 'mm' | 'in'): string {
  return QUANTITIES[kind].unit === 'deg' ? formatAngle((value * Math.PI) / 180) : formatLength(value, units);
}

/** Mean and half the range, for readings taken more than once. */
function spreadText(kind: keyof typeof QUANTITIES, values: readonly number[], units: 'mm' | 'in'): string {
  const mean = values.reduce((a, b) => a + b, 0) / values.length;
  return `mean ${printed(kind, mean, units)}, spread ${printed(kind, Math.max(...values) - Math.min(...values), units)}`;
}

/** One size at a time, with dirty hands: where the jaws go, one big number pad, any unit, echoed before it is stored. */
export function MeasureCard({ size, onSize }: { size: string; onSize: (key: string) => void }) {
  const model = useApp((s) => s.model);
  const edit = useApp((s) => s.edit);
  const [text, setText] = useState('');
  const [refused, setRefused] = useState('');
  const asked = useApp((s) => s.instrument);
  const [instrument, setInstrument] = useState(() => asked ?? usualInstrument(model, size));
  const [temperature, setTemperature] = useState(() => String(model.readings.at(-1)?.temperature ?? ''));
  const box = useRef<HTMLInputElement>(null);
  const walk = useMemo(() => walkingOrder(model), [model]);
  const at = walk.findIndex((e) => e.key === size);
  const entry = walk[at];
  useEffect(() => {
    setText('');
    setRefused('');
    setInstrument(asked ?? usualInstrument(useApp.getState().model, size));
  }, [size, asked]);
  if (!entry) return null;
  const quantity = QUANTITIES[entry.kind];
  const book = sizeBook(model);
  const taken = book.readingsOf(size);
  const typed = text.trim() === '' ? undefined : readValue(entry.kind, text, model.units);
  const doubt = typed?.ok ? questioned(model, measure(model, size, [typed.value], { instrument })) : '';
  const go = (by: number) => {
    const next = walk[at + by];
    if (next) onSize(next.key);
  };
  const take = (again: boolean) => {
    if (!typed) return;
    if (!typed.ok) return setRefused(typed.sentence);
    const how = { instrument, date: today(), ...(temperature.trim() !== '' && Number.isFinite(Number(temperature)) ? { temperature: Number(temperature) } : {}) };
    const earlier = again ? taken.filter((r) => r.instrument === instrument).map((r) => r.value) : [];
    const faults = edit(measure(model, size, [...earlier, typed.value], how));
    if (faults.length > 0) return setRefused(faults.map((f) => f.sentence).join(' '));
    setText('');
    setRefused('');
    if (!again) go(1);
  };
  const press = (key: string) => {
    setRefused('');
    setText((t) => (key === '⌫' ? t.slice(0, -1) : key === ' ' ? `${t} ` : t + key));
  };
  return (
    <form className="measure" onSubmit={(e) => { e.preventDefault(); take(false); }}>
      <div className="card-head">
        <button type="button" className="icon big" aria-label="Size before" disabled={at === 0} onClick={() => go(-1)}>◂</button>
        <div className="measure-name">
          <h2>{entry.name}</h2>
          <p className="small">{quantity.where}{entry.nominal === undefined ? '' : ` · drawing ${printed(entry.kind, entry.nominal, model.units)}`}</p>
        </div>
        <button type="button" className="icon big" aria-label="Next size" disabled={at === walk.length - 1} onClick={() => go(1)}>▸</button>
      </div>
      <Jaws kind={entry.kind} where={quantity.where} />
      <input ref={box} className="big-number" value={text} placeholder={taken.length > 0 ? printed(entry.kind, taken.at(-1)!.value, model.units) : 'not read yet'} aria-label={`Reading of the ${entry.name}`} inputMode="none" autoComplete="off" onChange={(e) => { setText(e.target.value); setRefused(''); }} />
      <output className={refused || doubt ? 'refused' : 'echo big-echo'} role={refused ? 'alert' : undefined}>
        {refused || doubt || (typed ? (typed.ok ? (quantity.unit === 'deg' ? formatAngle((typed.value * Math.PI) / 180) : echo(typed.value)) : typed.sentence) : taken.length > 1 ? spreadText(entry.kind, taken.map((r) => r.value), model.units) : ' ')}
      </output>
      <div className="pad" role="group" aria-label="Number pad">
        {PAD.flat().map((k) => <button key={k} type="button" aria-label={k === '⌫' ? 'Delete' : k === ' ' ? 'Space' : k} onClick={() => press(k)}>{k === ' ' ? '␣' : k}</button>)}
        {quantity.unit === 'mm' && UNITS.map((u) => <button key={u} type="button" className="unit-key" onClick={() => setText((t) => `${t.replace(/\s*(mm|in|mil)$/, '')} ${u}`)}>{u}</button>)}
        <button type="button" className="again" disabled={!typed} onClick={() => take(true)}>Take, once more</button>
        <button type="submit" className="take-next" disabled={!typed}>Take, next</button>
      </div>
      <div className="settings">
        <label>With
          <select value={instrument} onChange={(e) => setInstrument(e.target.value)}>
            {instrumentsFor(model, entry.kind).map((i) => <option key={i} value={i}>{INSTRUMENTS[i] ?? i}</option>)}
          </select>
        </label>
        <label>At <input value={temperature} inputMode="decimal" size={4} aria-label="Temperature, degrees C" onChange={(e) => setTemperature(e.target.value)} /> °C</label>
      </div>
      {taken.length > 0 && <p className="small">Read {taken.map((r) => `${printed(entry.kind, r.value, model.units)} (${INSTRUMENTS[r.instrument] ?? r.instrument}${r.date ? `, ${r.date}` : ''})`).join('; ')}</p>}
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
  const read = text.trim() === '' ? undefined : table ? parseReadings(model, text, model.units) : parseColumn(model, size, text, model.units, how);
  const book = sizeBook(model);
  return (
    <details className="paste">
      <summary>Paste a column, or a table</summary>
      <p className="small">A column goes to {columnFrom(model, size).slice(0, 3).map((e) => e.key).join(', ')} and on. A table has a header with “size” and “value”.</p>
      <textarea rows={5} value={text} aria-label="Values to paste" spellCheck={false} onChange={(e) => setText(e.target.value)} />
      {read && !read.ok && <ul className="refused">{read.faults.slice(0, 8).map((f) => <li key={f.path + f.sentence}>{f.path}: {f.sentence}</li>)}</ul>}
      {read?.ok && <p className="small">{read.readings.slice(0, 4).map((r) => `${r.size} ${printed(book.entries.get(r.size)!.kind, r.value, model.units)}`).join(', ')}{read.readings.length > 4 ? ` and ${read.readings.length - 4} more` : ''}</p>}
      <button type="button" className="take" disabled={!read?.ok} onClick={() => { if (read?.ok && edit(takeReadings(read.readings)).length === 0) setText(''); }}>Take them</button>
      <button type="button" className="quiet" onClick={() => saveAs(readingsTable(model, model.units), `${fileStem(model.name)}-readings.csv`, 'text/csv')}>Save all readings as a table</button>
    </details>
  );
}
