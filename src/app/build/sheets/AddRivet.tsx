import { type FormEvent, useState } from 'react';
import { addRivet } from '../../../model/edits/stockEdits.ts';
import { RIVET_SIZES } from '../../../model/rivetSizes.ts';
import type { Model } from '../../../model/schema.ts';
import { fractionName } from '../../../units/drills.ts';
import { parseLength } from '../../../units/read.ts';
import { useApp } from '../../state/store.ts';
import { Said } from './Said.tsx';

type Rivet = Model['stock']['rivets'][number];
type Read = { readonly ok: true; readonly rivet: Rivet } | { readonly ok: false; readonly sentence: string };

/** The usual diameter: the second of the sizes, 1/8 in. */
const USUAL = RIVET_SIZES[1] ?? RIVET_SIZES[0];

interface Typed {
  readonly kind: Rivet['kind'];
  readonly diameter: number;
  /** How long a solid one is; the least and the most that a blind one grips. */
  readonly low: string;
  readonly high: string;
}

/** The rivet that was typed, or what is wrong with it. */
function readRivet({ kind, diameter, low, high }: Typed, units: Model['units']): Read {
  const [least, most] = [parseLength(low, units), parseLength(high, units)];
  if (!least.ok) return least;
  if (kind === 'solid') return { ok: true, rivet: { kind, diameter, length: least.value } };
  if (!most.ok) return most;
  if (most.value <= least.value) return { ok: false, sentence: 'The most it grips must be over the least.' };
  return { ok: true, rivet: { kind, diameter, grip: [least.value, most.value] } };
}

function Size({ name, value, onType }: { name: string; value: string; onType: (text: string) => void }) {
  return (
    <label>
      {name} <input size={8} value={value} onChange={(e) => onType(e.target.value)} />
    </label>
  );
}

/** A rivet to be added to those on hand. */
export function AddRivet() {
  const units = useApp((s) => s.model.units);
  const edit = useApp((s) => s.edit);
  const [typed, setTyped] = useState<Typed>({ kind: 'blind', diameter: USUAL?.diameter ?? 0, low: '', high: '' });
  const [fault, setFault] = useState('');
  const { kind, diameter, low, high } = typed;
  const blind = kind === 'blind';
  const put = (part: Partial<Typed>): void => {
    setTyped({ ...typed, ...part });
    setFault('');
  };
  const add = (e: FormEvent): void => {
    e.preventDefault();
    const read = readRivet(typed, units);
    if (!read.ok) setFault(read.sentence);
    else {
      edit(addRivet(read.rivet));
      put({ low: '', high: '' });
    }
  };
  return (
    <form className="add-form" onSubmit={add}>
      <select value={kind} aria-label="Type of rivet" onChange={(e) => put({ kind: e.target.value as Rivet['kind'] })}>
        <option value="blind">blind</option>
        <option value="solid">solid</option>
      </select>
      <select
        value={String(diameter)}
        aria-label="Diameter of rivet"
        onChange={(e) => put({ diameter: Number(e.target.value) })}
      >
        {RIVET_SIZES.map((s) => (
          <option key={s.diameter} value={String(s.diameter)}>
            {fractionName(s.diameter)}
          </option>
        ))}
      </select>
      <Size name={blind ? 'least grip' : 'long'} value={low} onType={(text) => put({ low: text })} />
      {blind && <Size name="most grip" value={high} onType={(text) => put({ high: text })} />}
      <button type="submit" className="quiet" disabled={low.trim() === '' || (blind && high.trim() === '')}>
        Add
      </button>
      <Said fault={fault} />
    </form>
  );
}
