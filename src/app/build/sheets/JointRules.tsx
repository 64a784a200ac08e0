import { useState } from 'react';
import { partsIn, stageIndex } from '../../../checks/holes/stages.ts';
import { type JointRule, layAnew, pilotLayers, ruleOf } from '../../../model/edits/jointsLaid.ts';
import { parseLength } from '../../../units/read.ts';
import { exactLength } from '../../../units.ts';
import { useApp } from '../../state/store.ts';

/** The most holes in a row. */
const MOST_HOLES = 60;

/** How many holes a row has. */
function Count({ name, value, onPut }: { name: string; value: number; onPut: (n: number) => void }) {
  return (
    <label>
      {name}{' '}
      <input
        inputMode="numeric"
        size={2}
        value={String(value)}
        onChange={(e) => {
          const n = Number(e.target.value);
          if (Number.isInteger(n) && n >= 0 && n <= MOST_HOLES) onPut(n);
        }}
      />
    </label>
  );
}

/** Lays both rows of a station anew. */
function layStation(rule: JointRule, station: string): void {
  for (const end of ['front', 'rear'] as const) {
    const { model, edit } = useApp.getState();
    edit(layAnew(model, rule, { station, end }));
  }
}

/** Puts pilots through everything that is in at this stage. */
function pilotAll(): void {
  const { model, edit } = useApp.getState();
  edit(pilotLayers(model, partsIn(model, stageIndex(model))));
}

/** How rows are laid: pitch and counts, and what it comes to in rivet diameters. */
export function JointRules() {
  const model = useApp((s) => s.model);
  const edit = useApp((s) => s.edit);
  const station = useApp((s) => s.station);
  const [own, setOwn] = useState<Partial<JointRule>>({});
  const [pitch, setPitch] = useState('');
  const read = pitch.trim() === '' ? null : parseLength(pitch, model.units);
  const rule: JointRule = { ...ruleOf(model), ...own, ...(read?.ok ? { pitch: read.value } : {}) };
  return (
    <form
      className="add-form"
      onSubmit={(e) => {
        e.preventDefault();
        edit(layAnew(model, rule));
      }}
    >
      <span>By rule:</span>
      <Count name="front" value={rule.front} onPut={(front) => setOwn({ ...own, front })} />
      {model.spars.rear && <Count name="rear" value={rule.rear} onPut={(rear) => setOwn({ ...own, rear })} />}
      <label>
        pitch{' '}
        <input
          size={7}
          value={pitch === '' ? exactLength(rule.pitch, model.units) : pitch}
          onChange={(e) => setPitch(e.target.value)}
        />
      </label>
      <span className="small">{(rule.pitch / rule.rivet).toFixed(1)} D apart, 2.5 D kept at the ends</span>
      <button type="submit" className="quiet">
        Lay all rows without holes anew
      </button>
      {station && (
        <button type="button" className="quiet" onClick={() => layStation(rule, station)}>
          Lay {station} anew
        </button>
      )}
      <button type="button" className="quiet" onClick={pilotAll}>
        Pilots are drilled through all that is in
      </button>
    </form>
  );
}
