import { useState } from 'react';
import { addBracket } from '../../../model/edits/partEdits.ts';
import type { SparName } from '../../../model/schema.ts';
import { useApp } from '../../state/store.ts';
import { sentencesOf } from '../sentences.ts';
import { Said } from './Said.tsx';

/** A bracket to be added at a station, on one of the spars. */
export function AddBracket() {
  const model = useApp((s) => s.model);
  const edit = useApp((s) => s.edit);
  const here = useApp((s) => s.station);
  const [station, setStation] = useState('');
  const [sheet, setSheet] = useState('');
  const [spar, setSpar] = useState<SparName>('front');
  const [fault, setFault] = useState('');
  const at = {
    spar,
    station: station || here || (model.stations[0]?.id ?? ''),
    sheet: sheet || (model.sheets.at(-1)?.id ?? ''),
  };
  return (
    <form
      className="add-form"
      onSubmit={(e) => {
        e.preventDefault();
        setFault(sentencesOf(edit(addBracket(model, at))));
      }}
    >
      <span>A new bracket at</span>
      <select aria-label="Station of the bracket" value={at.station} onChange={(e) => setStation(e.target.value)}>
        {model.stations.map((s) => (
          <option key={s.id}>{s.id}</option>
        ))}
      </select>
      {model.spars.rear && (
        <select aria-label="Spar of the bracket" value={spar} onChange={(e) => setSpar(e.target.value as SparName)}>
          <option value="front">front spar</option>
          <option value="rear">rear spar</option>
        </select>
      )}
      <select aria-label="Sheet of the bracket" value={at.sheet} onChange={(e) => setSheet(e.target.value)}>
        {model.sheets.map((s) => (
          <option key={s.id}>{s.id}</option>
        ))}
      </select>
      <button type="submit" className="quiet">
        Add it
      </button>
      <Said fault={fault} />
    </form>
  );
}
