import { type FormEvent, useState } from 'react';
import {
  addRivet,
  addStock,
  keepSheet,
  removeRivet,
  removeStock,
  STOCK_WORDS,
  type StockList,
} from '../../model/edits/stockEdits.ts';
import { RIVET_SIZES } from '../../model/rivetSizes.ts';
import { drillName, echo, formatLength, fractionName, parseLength } from '../../units.ts';
import { useApp } from '../state/store.ts';

/** A length as a shop says it: a drill by its number, else both units. */
const said = (list: StockList | 'rivet', mm: number, units: 'mm' | 'in'): string =>
  list === 'drills'
    ? (drillName(mm) ?? formatLength(mm, units))
    : `${formatLength(mm, 'mm')} (${formatLength(mm, 'in')})`;

/** One list of sizes on hand, with a box to add to it; several at once, parted by spaces or commas. */
function SizesOnHand({ list }: { list: StockList }) {
  const model = useApp((s) => s.model);
  const edit = useApp((s) => s.edit);
  const [text, setText] = useState('');
  const [fault, setFault] = useState('');
  const words = STOCK_WORDS[list];
  const read = text.trim() === '' ? null : parseLength(text, model.units);
  const add = (e: FormEvent) => {
    e.preventDefault();
    if (!read) return;
    if (!read.ok) return setFault(read.sentence);
    const faults = edit(addStock(list, read.value));
    if (faults.length > 0) return setFault(faults.map((f) => f.sentence).join(' '));
    setText('');
  };
  return (
    <section className="stock">
      <h2>
        {words.name[0]!.toUpperCase()}
        {words.name.slice(1)}
      </h2>
      <p className="small">{words.what}</p>
      <ul>
        {model.stock[list].map((mm) => (
          <li key={mm}>
            {said(list, mm, model.units)}{' '}
            <button
              type="button"
              className="icon"
              aria-label={`Take ${said(list, mm, model.units)} out of the ${words.name}`}
              onClick={() => edit(removeStock(list, mm))}
            >
              ✕
            </button>
          </li>
        ))}
        {model.stock[list].length === 0 && <li className="small">None yet: add what is in the drawer.</li>}
      </ul>
      <form className="add-form" onSubmit={add}>
        <label>
          Add{' '}
          <input
            size={9}
            value={text}
            placeholder={words.usual}
            aria-label={`Add to the ${words.name}`}
            onChange={(e) => {
              setText(e.target.value);
              setFault('');
            }}
          />
        </label>
        <button type="submit" className="quiet" disabled={!read}>
          Add
        </button>
        <output className={fault ? 'refused' : 'small'} role={fault ? 'alert' : undefined}>
          {fault || (read?.ok ? echo(read.value) : '')}
        </output>
      </form>
    </section>
  );
}

function Rivets() {
  const model = useApp((s) => s.model);
  const edit = useApp((s) => s.edit);
  const [kind, setKind] = useState<'blind' | 'solid'>('blind');
  const [diameter, setDiameter] = useState(String(RIVET_SIZES[1]!.diameter));
  const [a, setA] = useState('');
  const [b, setB] = useState('');
  const [fault, setFault] = useState('');
  const add = (e: FormEvent) => {
    e.preventDefault();
    const [low, high] = [a, b].map((t) => parseLength(t, model.units));
    if (!low?.ok) return setFault(low?.ok === false ? low.sentence : '');
    if (kind === 'solid') edit(addRivet({ kind, diameter: Number(diameter), length: low.value }));
    else if (!high?.ok) return setFault(high?.ok === false ? high.sentence : '');
    else if (high.value <= low.value) return setFault('The most it grips must be over the least.');
    else edit(addRivet({ kind, diameter: Number(diameter), grip: [low.value, high.value] }));
    setA('');
    setB('');
  };
  return (
    <section className="stock">
      <h2>Rivets</h2>
      <p className="small">By type, diameter and what the bag says it grips; joints are given a rivet from these.</p>
      <ul>
        {model.stock.rivets.map((r) => {
          const words = `${r.kind} ${fractionName(r.diameter) ?? formatLength(r.diameter, model.units)}, ${r.grip ? `grips ${formatLength(r.grip[0], model.units)} to ${formatLength(r.grip[1], model.units)}` : r.length === undefined ? 'any length' : `${formatLength(r.length, model.units)} long`}`;
          return (
            <li key={words}>
              {words}{' '}
              <button
                type="button"
                className="icon"
                aria-label={`Take out ${words}`}
                onClick={() => edit(removeRivet(r))}
              >
                ✕
              </button>
            </li>
          );
        })}
      </ul>
      <form className="add-form" onSubmit={add}>
        <select value={kind} aria-label="Type of rivet" onChange={(e) => setKind(e.target.value as 'blind' | 'solid')}>
          <option value="blind">blind</option>
          <option value="solid">solid</option>
        </select>
        <select value={diameter} aria-label="Diameter of rivet" onChange={(e) => setDiameter(e.target.value)}>
          {RIVET_SIZES.map((s) => (
            <option key={s.diameter} value={s.diameter}>
              {fractionName(s.diameter)}
            </option>
          ))}
        </select>
        <label>
          {kind === 'solid' ? 'long' : 'least grip'}{' '}
          <input
            size={8}
            value={a}
            onChange={(e) => {
              setA(e.target.value);
              setFault('');
            }}
          />
        </label>
        {kind === 'blind' && (
          <label>
            most grip{' '}
            <input
              size={8}
              value={b}
              onChange={(e) => {
                setB(e.target.value);
                setFault('');
              }}
            />
          </label>
        )}
        <button type="submit" className="quiet" disabled={a.trim() === '' || (kind === 'blind' && b.trim() === '')}>
          Add
        </button>
        {fault && (
          <output className="refused" role="alert">
            {fault}
          </output>
        )}
      </form>
    </section>
  );
}

/** What is on hand: remedies, packing plans and rivet bags are made of it. */
export function StockSheet() {
  const model = useApp((s) => s.model);
  const edit = useApp((s) => s.edit);
  return (
    <div className="side-by-side">
      <section className="stock">
        <h2>Sheets to cut doublers from</h2>
        <p className="small">Only those ticked are offered as doublers and packers.</p>
        <ul>
          {model.sheets.map((s) => (
            <li key={s.id}>
              <label>
                <input
                  type="checkbox"
                  checked={model.stock.sheets.includes(s.id)}
                  onChange={(e) => edit(keepSheet(s.id, e.target.checked))}
                />{' '}
                {s.id}, {said('shims', s.thickness, model.units)}, {s.alloy}
              </label>
            </li>
          ))}
        </ul>
      </section>
      <SizesOnHand list="shims" />
      <SizesOnHand list="packs" />
      <SizesOnHand list="drills" />
      <Rivets />
    </div>
  );
}
