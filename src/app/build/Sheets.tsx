import { type FormEvent, useState } from 'react';
import { partsIn, stageIndex } from '../../checks/holes/stages.ts';
import { reachStage } from '../../model/edits/edits.ts';
import { type JointRule, layAnew, pilotLayers, ruleOf } from '../../model/edits/jointsLaid.ts';
import { addBracket, addDoubler, type NewDoubler } from '../../model/edits/partEdits.ts';
import { takeSuggestedStages } from '../../model/edits/stagesSuggested.ts';
import { addStation, removePart, removeStation } from '../../model/edits/stationEdits.ts';
import { BRINGS, HOLES, JOINTS, OPENS } from '../../model/tables/jointTables.ts';
import { BRACKETS, DOUBLERS, MAIN_RIBS, NOSE_RIBS, TIP_RIBS } from '../../model/tables/partTables.ts';
import { addSheet, addStrip, SHEETS, SPARS, STRIPS } from '../../model/tables/sparTables.ts';
import { STATIONS } from '../../model/tables/stationTable.ts';
import type { Table } from '../../model/tables/tables.ts';
import { echo, exactLength, parseLength } from '../../units.ts';
import { useApp } from '../state/store.ts';
import { Grid } from './Grid.tsx';

const faultsOf = (faults: readonly { sentence: string }[]): string => faults.map((f) => f.sentence).join(' ');

/** A bare number too small to be millimetres of this was said in inches. */
function understood(text: string, units: 'mm' | 'in', least = 0): ReturnType<typeof parseLength> {
  const read = parseLength(text, units);
  return read.ok && read.bareUnit && read.value > 0 && read.value < least ? parseLength(text, 'in') : read;
}

/** A length typed to add something by it. */
function AddByLength({
  ask,
  usual,
  verb,
  least,
  onAdd,
}: {
  ask: string;
  usual: string;
  verb: string;
  least?: number;
  onAdd: (mm: number) => readonly { sentence: string }[];
}) {
  const model = useApp((s) => s.model);
  const [text, setText] = useState('');
  const [fault, setFault] = useState('');
  const read = text.trim() === '' ? null : understood(text, model.units, least);
  const add = (e: FormEvent) => {
    e.preventDefault();
    if (!read) return;
    if (!read.ok) return setFault(read.sentence);
    const wrong = faultsOf(onAdd(read.value));
    setFault(wrong);
    if (wrong === '') setText('');
  };
  return (
    <form className="add-form" onSubmit={add}>
      <label>
        {ask}{' '}
        <input
          value={text}
          placeholder={usual}
          size={9}
          onChange={(e) => {
            setText(e.target.value);
            setFault('');
          }}
        />
      </label>
      <button type="submit" className="quiet" disabled={!read}>
        {verb}
      </button>
      <output className={fault ? 'refused' : 'small'} role={fault ? 'alert' : undefined}>
        {fault || (read?.ok ? echo(read.value) : '')}
      </output>
    </form>
  );
}

/** Stations, a row each. */
export function StationsSheet() {
  const model = useApp((s) => s.model);
  const edit = useApp((s) => s.edit);
  return (
    <Grid
      table={STATIONS}
      keeps
      onRemove={model.stations.length > 2 ? (id) => edit(removeStation(model, id)) : undefined}
      tools={
        <AddByLength
          ask="Another rib at"
          usual={exactLength(0, model.units)}
          verb="Add a station"
          onAdd={(y) => edit(addStation(model, y))}
        />
      }
    />
  );
}

const RIB_TABLES: readonly Table[] = [MAIN_RIBS, NOSE_RIBS, TIP_RIBS, DOUBLERS, BRACKETS];
const WORDS: Record<string, string> = {
  main: 'main ribs',
  nose: 'nose ribs',
  tip: 'tip ribs',
  doublers: 'doublers and packers',
  brackets: 'brackets',
};

function AddDoubler() {
  const model = useApp((s) => s.model);
  const edit = useApp((s) => s.edit);
  const station = useApp((s) => s.station);
  const ribs = model.ribs;
  const [own, setOwn] = useState<Partial<NewDoubler>>({});
  const part =
    own.part && ribs.some((r) => r.id === own.part)
      ? own.part
      : (ribs.find((r) => r.station === station)?.id ?? ribs[0]?.id ?? '');
  const rib = ribs.find((r) => r.id === part);
  const ends =
    rib?.kind === 'main'
      ? model.spars.rear
        ? (['front', 'rear'] as const)
        : (['front'] as const)
      : rib?.kind === 'nose'
        ? (['tail'] as const)
        : (['rear'] as const);
  const end = ends.find((e) => e === own.end) ?? ends[0];
  const d: NewDoubler = {
    part,
    end,
    form: own.form ?? 'channel',
    on: own.on ?? 'web',
    sheet: own.sheet ?? model.sheets[0]!.id,
    made: own.made ?? true,
  };
  const [fault, setFault] = useState('');
  if (!rib) return null;
  const set = (p: Partial<NewDoubler>) => {
    setOwn({ ...d, ...p });
    setFault('');
  };
  const form = d.form === 'channel' ? 'channel' : d.on === 'web' ? 'web' : d.on;
  return (
    <form
      className="add-form"
      onSubmit={(e) => {
        e.preventDefault();
        setFault(faultsOf(edit(addDoubler(model, d))));
      }}
    >
      <span>A new piece at</span>
      <select aria-label="Rib it belongs to" value={part} onChange={(e) => set({ part: e.target.value })}>
        {ribs.map((r) => (
          <option key={r.id}>{r.id}</option>
        ))}
      </select>
      {ends.length > 1 && (
        <select
          aria-label="End it is at"
          value={end}
          onChange={(e) => set({ end: e.target.value as NewDoubler['end'] })}
        >
          {ends.map((x) => (
            <option key={x} value={x}>
              {x} end
            </option>
          ))}
        </select>
      )}
      <select
        aria-label="Form of the piece"
        value={form}
        onChange={(e) =>
          set(
            e.target.value === 'channel'
              ? { form: 'channel', on: 'web' }
              : { form: 'flat', on: e.target.value as NewDoubler['on'] },
          )
        }
      >
        <option value="channel">channel</option>
        <option value="web">flat, on the web</option>
        <option value="top">flat, under the top cap</option>
        <option value="bottom">flat, on the bottom cap</option>
      </select>
      <select aria-label="Sheet of the piece" value={d.sheet} onChange={(e) => set({ sheet: e.target.value })}>
        {model.sheets.map((s) => (
          <option key={s.id}>{s.id}</option>
        ))}
      </select>
      <label>
        <input type="checkbox" checked={d.made} onChange={(e) => set({ made: e.target.checked })} /> the rib is made for
        it
      </label>
      <button type="submit" className="quiet">
        Add it
      </button>
      {fault && (
        <output className="refused" role="alert">
          {fault}
        </output>
      )}
    </form>
  );
}

function AddBracket() {
  const model = useApp((s) => s.model);
  const edit = useApp((s) => s.edit);
  const here = useApp((s) => s.station);
  const [station, setStation] = useState('');
  const [sheet, setSheet] = useState('');
  const [spar, setSpar] = useState<'front' | 'rear'>('front');
  const [fault, setFault] = useState('');
  const at = {
    spar,
    station: station || here || model.stations[0]!.id,
    sheet: sheet || model.sheets[model.sheets.length - 1]!.id,
  };
  return (
    <form
      className="add-form"
      onSubmit={(e) => {
        e.preventDefault();
        setFault(faultsOf(edit(addBracket(model, at))));
      }}
    >
      <span>A new bracket at</span>
      <select aria-label="Station of the bracket" value={at.station} onChange={(e) => setStation(e.target.value)}>
        {model.stations.map((s) => (
          <option key={s.id}>{s.id}</option>
        ))}
      </select>
      {model.spars.rear && (
        <select
          aria-label="Spar of the bracket"
          value={spar}
          onChange={(e) => setSpar(e.target.value as 'front' | 'rear')}
        >
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
      {fault && (
        <output className="refused" role="alert">
          {fault}
        </output>
      )}
    </form>
  );
}

/** Ribs by kind, doublers, brackets: common values above, exceptions in their rows. */
export function RibsSheet() {
  const model = useApp((s) => s.model);
  const edit = useApp((s) => s.edit);
  const [id, setId] = useState('main');
  const table = RIB_TABLES.find((t) => t.id === id) ?? MAIN_RIBS;
  return (
    <>
      <div className="pair kinds" role="group" aria-label="Kind of part">
        {RIB_TABLES.map((t) => (
          <button key={t.id} type="button" aria-pressed={t.id === id} onClick={() => setId(t.id)}>
            {WORDS[t.id]} {t.rows(model).length}
          </button>
        ))}
      </div>
      {table.rows(model).length === 0 && (
        <p className="small">
          This panel has no {WORDS[id]}
          {id === 'doublers' || id === 'brackets' ? '; add the first below' : ''}.
        </p>
      )}
      <Grid
        key={id}
        table={table}
        common
        onRemove={(part) => edit(removePart(model, part))}
        tools={id === 'doublers' ? <AddDoubler /> : id === 'brackets' ? <AddBracket /> : undefined}
      />
    </>
  );
}

/** Spars, strips and sheets. */
export function SparsSheet() {
  const model = useApp((s) => s.model);
  const edit = useApp((s) => s.edit);
  return (
    <div className="side-by-side">
      <section>
        <h2>Spars</h2>
        <Grid table={SPARS} />
      </section>
      <section>
        <h2>Strips in the caps</h2>
        <Grid
          table={STRIPS}
          tools={
            <button
              type="button"
              className="quiet"
              onClick={() => edit(addStrip('front', model.sheets[model.sheets.length - 1]!.id))}
            >
              Put a strip in the front caps
            </button>
          }
        />
      </section>
      <section>
        <h2>Sheets</h2>
        <Grid
          table={SHEETS}
          tools={
            <AddByLength
              ask="Another sheet, thick"
              usual="0.040 in"
              verb="Add a sheet"
              least={0.3}
              onAdd={(t) => edit(addSheet(model, t))}
            />
          }
        />
      </section>
    </div>
  );
}

/** How rows are laid: pitch and counts, and what it comes to in rivet diameters. */
function Rule() {
  const model = useApp((s) => s.model);
  const edit = useApp((s) => s.edit);
  const station = useApp((s) => s.station);
  const usual = ruleOf(model);
  const [own, setOwn] = useState<Partial<JointRule>>({});
  const [pitch, setPitch] = useState('');
  const read = pitch.trim() === '' ? null : parseLength(pitch, model.units);
  const rule: JointRule = { ...usual, ...own, ...(read?.ok ? { pitch: read.value } : {}) };
  const count = (key: 'front' | 'rear', name: string) => (
    <label>
      {name}{' '}
      <input
        inputMode="numeric"
        size={2}
        value={String(rule[key])}
        onChange={(e) => {
          const n = Number(e.target.value);
          if (Number.isInteger(n) && n >= 0 && n <= 60) setOwn({ ...own, [key]: n });
        }}
      />
    </label>
  );
  return (
    <form
      className="add-form"
      onSubmit={(e) => {
        e.preventDefault();
        edit(layAnew(model, rule));
      }}
    >
      <span>By rule:</span>
      {count('front', 'front')} {model.spars.rear && count('rear', 'rear')}
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
        <button
          type="button"
          className="quiet"
          onClick={() => {
            for (const end of ['front', 'rear'] as const)
              edit(layAnew(useApp.getState().model, rule, { station, end }));
          }}
        >
          Lay {station} anew
        </button>
      )}
      <button
        type="button"
        className="quiet"
        onClick={() => {
          const at = stageIndex(model);
          edit(pilotLayers(model, partsIn(model, at)));
        }}
      >
        Pilots are drilled through all that is in
      </button>
    </form>
  );
}

/** Joints and their holes. */
export function JointsSheet() {
  const model = useApp((s) => s.model);
  const edit = useApp((s) => s.edit);
  const [holes, showHoles] = useState(false);
  return (
    <>
      <div className="pair kinds" role="group" aria-label="Joints or holes">
        <button type="button" aria-pressed={!holes} onClick={() => showHoles(false)}>
          joints {model.joints.length}
        </button>
        <button type="button" aria-pressed={holes} onClick={() => showHoles(true)}>
          holes {model.joints.reduce((n, j) => n + j.holes.length, 0)}
        </button>
      </div>
      {model.joints.length === 0 && (
        <p className="small">No rows are laid yet: lay them by rule, then change what the drawing has otherwise.</p>
      )}
      {holes ? (
        <Grid key="holes" table={HOLES} common />
      ) : (
        <Grid key="joints" table={JOINTS} common onRemove={(id) => edit(removePart(model, id))} tools={<Rule />} />
      )}
    </>
  );
}

/** The order of assembly. */
export function StagesSheet() {
  const model = useApp((s) => s.model);
  const edit = useApp((s) => s.edit);
  return (
    <>
      <div className="add-form">
        {model.stages.length > 0 && (
          <label>
            The job stands at{' '}
            <select
              value={model.now ?? ''}
              aria-label="Present stage"
              onChange={(e) => edit(reachStage(e.target.value))}
            >
              {model.stages.map((s) => (
                <option key={s.id} value={s.id}>
                  {s.name}
                </option>
              ))}
            </select>
          </label>
        )}
        <button type="button" className="quiet" onClick={() => edit(takeSuggestedStages(model))}>
          {model.stages.length > 0 ? 'Put the usual order in place of this one' : 'Take the usual order of assembly'}
        </button>
      </div>
      <p className="small">
        A hole is opened to final only when its last layer is in: change when a part comes, and the joints through it
        follow below.
      </p>
      {model.stages.length > 0 && (
        <div className="side-by-side">
          <section>
            <h2>When each part comes</h2>
            <Grid table={BRINGS} common />
          </section>
          <section>
            <h2>When each joint is opened</h2>
            <Grid table={OPENS} common />
          </section>
        </div>
      )}
    </>
  );
}
