import { useState } from 'react';
import { addDoubler, type NewDoubler } from '../../../model/edits/partEdits.ts';
import type { Model, Rib } from '../../../model/schema.ts';
import { useApp } from '../../state/store.ts';
import { sentencesOf } from '../sentences.ts';
import { Said } from './Said.tsx';

type End = NewDoubler['end'];

/** What the piece is: its form, and for a flat one where it lies. */
type Form = 'channel' | NewDoubler['on'];
const FORMS: readonly (readonly [Form, string])[] = [
  ['channel', 'channel'],
  ['web', 'flat, on the web'],
  ['top', 'flat, under the top cap'],
  ['bottom', 'flat, on the bottom cap'],
];

/** Ends of a rib that a piece can be put at. */
function endsOf(model: Model, rib: Rib): readonly [End, ...End[]] {
  if (rib.kind === 'nose') return ['tail'];
  if (rib.kind === 'tip') return ['rear'];
  return model.spars.rear ? ['front', 'rear'] : ['front'];
}

/** The piece as it would be added: what was chosen, as far as this rib has it, and the usual for the rest. */
function pieceFor(model: Model, rib: Rib, chosen: Partial<NewDoubler>): NewDoubler {
  const ends = endsOf(model, rib);
  return {
    part: rib.id,
    end: ends.find((e) => e === chosen.end) ?? ends[0],
    form: chosen.form ?? 'channel',
    on: chosen.on ?? 'web',
    sheet: chosen.sheet ?? model.sheets[0]?.id ?? '',
    made: chosen.made ?? true,
  };
}

const shaped = (form: Form): Pick<NewDoubler, 'form' | 'on'> =>
  form === 'channel' ? { form: 'channel', on: 'web' } : { form: 'flat', on: form };

/** A piece to be added at a rib's end: a channel or a flat one, of one of the sheets. */
export function AddDoubler() {
  const model = useApp((s) => s.model);
  const edit = useApp((s) => s.edit);
  const station = useApp((s) => s.station);
  const { ribs } = model;
  const [chosen, setChosen] = useState<Partial<NewDoubler>>({});
  const [fault, setFault] = useState('');
  const rib = ribs.find((r) => r.id === chosen.part) ?? ribs.find((r) => r.station === station) ?? ribs[0];
  if (!rib) return null;
  const piece = pieceFor(model, rib, chosen);
  const ends = endsOf(model, rib);
  const set = (part: Partial<NewDoubler>): void => {
    setChosen({ ...piece, ...part });
    setFault('');
  };
  return (
    <form
      className="add-form"
      onSubmit={(e) => {
        e.preventDefault();
        setFault(sentencesOf(edit(addDoubler(model, piece))));
      }}
    >
      <span>A new piece at</span>
      <select aria-label="Rib it belongs to" value={rib.id} onChange={(e) => set({ part: e.target.value })}>
        {ribs.map((r) => (
          <option key={r.id}>{r.id}</option>
        ))}
      </select>
      {ends.length > 1 && (
        <select aria-label="End it is at" value={piece.end} onChange={(e) => set({ end: e.target.value as End })}>
          {ends.map((x) => (
            <option key={x} value={x}>
              {x} end
            </option>
          ))}
        </select>
      )}
      <select
        aria-label="Form of the piece"
        value={piece.form === 'channel' ? 'channel' : piece.on}
        onChange={(e) => set(shaped(e.target.value as Form))}
      >
        {FORMS.map(([form, words]) => (
          <option key={form} value={form}>
            {words}
          </option>
        ))}
      </select>
      <select aria-label="Sheet of the piece" value={piece.sheet} onChange={(e) => set({ sheet: e.target.value })}>
        {model.sheets.map((s) => (
          <option key={s.id}>{s.id}</option>
        ))}
      </select>
      <label>
        <input type="checkbox" checked={piece.made} onChange={(e) => set({ made: e.target.checked })} /> the rib is made
        for it
      </label>
      <button type="submit" className="quiet">
        Add it
      </button>
      <Said fault={fault} />
    </form>
  );
}
