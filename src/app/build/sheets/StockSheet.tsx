import { type FormEvent, useState } from 'react';
import {
  addStock,
  keepSheet,
  removeRivet,
  removeStock,
  STOCK_WORDS,
  type StockList,
} from '../../../model/edits/stockEdits.ts';
import type { Model } from '../../../model/schema.ts';
import { capital } from '../../../units/capital.ts';
import { drillName, fractionName } from '../../../units/drills.ts';
import { parseLength } from '../../../units/read.ts';
import { echo, formatBoth, formatLength } from '../../../units.ts';
import { useApp } from '../../state/store.ts';
import { sentencesOf } from '../sentences.ts';
import { AddRivet } from './AddRivet.tsx';
import { Said } from './Said.tsx';

type Units = Model['units'];
type Rivet = Model['stock']['rivets'][number];

/** A size on hand as a shop says it: a drill by its number, else both units. */
const named = (list: StockList, mm: number, units: Units): string =>
  list === 'drills' ? (drillName(mm) ?? formatLength(mm, units)) : formatBoth(mm);

/** One thing on hand, and a way to take it out. */
function OnHand({ name, takeOut, onTakeOut }: { name: string; takeOut: string; onTakeOut: () => void }) {
  return (
    <li>
      {name}{' '}
      <button type="button" className="icon" aria-label={takeOut} onClick={onTakeOut}>
        ✕
      </button>
    </li>
  );
}

/** A box to add sizes to a list; several at once, parted by spaces or commas. */
function AddSize({ list }: { list: StockList }) {
  const units = useApp((s) => s.model.units);
  const edit = useApp((s) => s.edit);
  const [text, setText] = useState('');
  const [fault, setFault] = useState('');
  const { name, usual } = STOCK_WORDS[list];
  const read = text.trim() === '' ? null : parseLength(text, units);
  const add = (e: FormEvent): void => {
    e.preventDefault();
    if (!read) return;
    const wrong = read.ok ? sentencesOf(edit(addStock(list, read.value))) : read.sentence;
    setFault(wrong);
    if (wrong === '') setText('');
  };
  return (
    <form className="add-form" onSubmit={add}>
      <label>
        Add{' '}
        <input
          size={9}
          value={text}
          placeholder={usual}
          aria-label={`Add to the ${name}`}
          onChange={(e) => {
            setText(e.target.value);
            setFault('');
          }}
        />
      </label>
      <button type="submit" className="quiet" disabled={!read}>
        Add
      </button>
      <Said fault={fault} otherwise={read?.ok ? echo(read.value) : ''} />
    </form>
  );
}

/** One list of sizes on hand. */
function SizesOnHand({ list }: { list: StockList }) {
  const model = useApp((s) => s.model);
  const edit = useApp((s) => s.edit);
  const words = STOCK_WORDS[list];
  const sizes = model.stock[list];
  return (
    <section className="stock">
      <h2>{capital(words.name)}</h2>
      <p className="small">{words.what}</p>
      <ul>
        {sizes.map((mm) => {
          const name = named(list, mm, model.units);
          return (
            <OnHand
              key={mm}
              name={name}
              takeOut={`Take ${name} out of the ${words.name}`}
              onTakeOut={() => edit(removeStock(list, mm))}
            />
          );
        })}
        {sizes.length === 0 && <li className="small">None yet: add what is in the drawer.</li>}
      </ul>
      <AddSize list={list} />
    </section>
  );
}

/** What the bag of a rivet says: what it grips, or how long it is. */
function bagSays({ grip, length }: Rivet, units: Units): string {
  if (grip) return `grips ${formatLength(grip[0], units)} to ${formatLength(grip[1], units)}`;
  return length === undefined ? 'any length' : `${formatLength(length, units)} long`;
}

function Rivets() {
  const { stock, units } = useApp((s) => s.model);
  const edit = useApp((s) => s.edit);
  return (
    <section className="stock">
      <h2>Rivets</h2>
      <p className="small">By type, diameter and what the bag says it grips; joints are given a rivet from these.</p>
      <ul>
        {stock.rivets.map((r) => {
          const diameter = fractionName(r.diameter) ?? formatLength(r.diameter, units);
          const name = `${r.kind} ${diameter}, ${bagSays(r, units)}`;
          return <OnHand key={name} name={name} takeOut={`Take out ${name}`} onTakeOut={() => edit(removeRivet(r))} />;
        })}
      </ul>
      <AddRivet />
    </section>
  );
}

function SheetsToCut() {
  const model = useApp((s) => s.model);
  const edit = useApp((s) => s.edit);
  return (
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
              {s.id}, {formatBoth(s.thickness)}, {s.alloy}
            </label>
          </li>
        ))}
      </ul>
    </section>
  );
}

/** What is on hand: remedies, packing plans and rivet bags are made of it. */
export function StockSheet() {
  return (
    <div className="stocks">
      <SheetsToCut />
      <SizesOnHand list="shims" />
      <SizesOnHand list="packs" />
      <SizesOnHand list="drills" />
      <Rivets />
    </div>
  );
}
