import { type FormEvent, type RefObject, useMemo, useRef } from 'react';
import { INSTRUMENTS, type Kind, QUANTITIES } from '../../model/quantities.ts';
import type { Model } from '../../model/schema.ts';
import type { SizeEntry } from '../../model/sizeEntries.ts';
import { sizeBook } from '../../model/sizes.ts';
import { walkingOrder } from '../../model/walk.ts';
import { echo, formatAngle } from '../../units.ts';
import { useApp } from '../state/store.ts';
import { printSize } from '../station/typedSize.ts';
import { Jaws } from '../widgets/Jaws.tsx';
import { nextWanted } from '../workers/listing.ts';
import { HowRead } from './HowRead.tsx';
import { Pad } from './Pad.tsx';
import { Paste } from './Paste.tsx';
import { type Entered, useReading } from './useReading.ts';
import './measure.css';

/** Prints a value of a size in the panel's unit, or degrees. */
const printed = (kind: Kind, value: number, units: Model['units']): string =>
  printSize(value, QUANTITIES[kind].unit, units);

/** Mean and range, for readings taken more than once. */
function spreadText(kind: Kind, values: readonly number[], units: Model['units']): string {
  const mean = values.reduce((a, b) => a + b, 0) / values.length;
  const spread = Math.max(...values) - Math.min(...values);
  return `mean ${printed(kind, mean, units)}, spread ${printed(kind, spread, units)}`;
}

interface Way {
  readonly entry: SizeEntry;
  /** The size before it in the walk, and the one after; none at its ends. */
  readonly before: string | undefined;
  readonly after: string | undefined;
  onSize(size: string): void;
}

/** The size's name, where it is read, and the ways to the sizes before and after it. */
function Head({ entry, before, after, onSize }: Way) {
  const { units } = useApp((s) => s.model);
  const drawing = entry.nominal === undefined ? '' : ` · drawing ${printed(entry.kind, entry.nominal, units)}`;
  return (
    <div className="card-head">
      <button
        type="button"
        className="icon big"
        aria-label="Size before"
        disabled={before === undefined}
        onClick={() => before !== undefined && onSize(before)}
      >
        ◂
      </button>
      <div className="measure-name">
        <h2>{entry.name}</h2>
        <p className="small">
          {QUANTITIES[entry.kind].where}
          {drawing}
        </p>
      </div>
      <button
        type="button"
        className="icon big"
        aria-label="Next size"
        disabled={after === undefined}
        onClick={() => after !== undefined && onSize(after)}
      >
        ▸
      </button>
    </div>
  );
}

/** What was understood of what is typed, in both units; before anything is, the spread of what was read. */
function understood(entry: SizeEntry, { typed }: Entered, values: readonly number[], units: Model['units']): string {
  if (typed && !typed.ok) return typed.sentence;
  if (typed)
    return QUANTITIES[entry.kind].unit === 'deg' ? formatAngle((typed.value * Math.PI) / 180) : echo(typed.value);
  return values.length > 1 ? spreadText(entry.kind, values, units) : '\u00a0';
}

interface Typing {
  readonly entry: SizeEntry;
  readonly reading: Entered;
  readonly box: RefObject<HTMLInputElement | null>;
}

/** The number, and under it what was understood, or what speaks against it. */
function Typed({ entry, reading, box }: Typing) {
  const model = useApp((s) => s.model);
  const values = sizeBook(model)
    .readingsOf(entry.key)
    .map((r) => r.value);
  const last = values.at(-1);
  const against = reading.refused || reading.asking?.question;
  return (
    <>
      <input
        ref={box}
        className="big-number"
        value={reading.text}
        placeholder={last === undefined ? 'not read yet' : printed(entry.kind, last, model.units)}
        aria-label={`Reading of the ${entry.name}`}
        inputMode="none"
        autoComplete="off"
        onChange={(e) => reading.write(() => e.target.value)}
      />
      <output className={against ? 'refused big-echo' : 'echo big-echo'} role={against ? 'alert' : undefined}>
        {against || understood(entry, reading, values, model.units)}
      </output>
    </>
  );
}

/**
 * What takes the reading, or answers the question about it. "No" stands where "Take, next" was: a second tap by
 * mistake takes nothing. Keys keep them buttons of their own: one that turned into the submit button while it was
 * being clicked would submit.
 */
function Take({
  reading,
  take,
  no,
}: {
  reading: Entered;
  take: (again: boolean, sure: boolean) => void;
  no: () => void;
}) {
  const { asking, typed } = reading;
  if (asking)
    return (
      <div className="pad take-dock">
        <button key="yes" type="button" className="again" onClick={() => take(asking.again, true)}>
          Yes, that is what it reads
        </button>
        <button key="no" type="button" className="take-next" onClick={no}>
          No, change it
        </button>
      </div>
    );
  return (
    <div className="pad take-dock">
      <button key="again" type="button" className="again" disabled={!typed} onClick={() => take(true, false)}>
        Take, once more
      </button>
      <button key="next" type="submit" className="take-next" disabled={!typed}>
        Take, next
      </button>
    </div>
  );
}

/** What was read of the size, each with what and when. */
function Readings({ entry }: { entry: SizeEntry }) {
  const model = useApp((s) => s.model);
  const taken = sizeBook(model).readingsOf(entry.key);
  if (taken.length === 0) return null;
  const said = taken.map((r) => {
    const how = [INSTRUMENTS[r.instrument] ?? r.instrument, r.date, r.sure ? 'confirmed' : ''].filter(Boolean);
    return `${printed(entry.kind, r.value, model.units)} (${how.join(', ')})`;
  });
  return <p className="small">Read {said.join('; ')}</p>;
}

function CardOf(way: Way) {
  const { entry, after, onSize } = way;
  const reading = useReading(entry);
  const box = useRef<HTMLInputElement>(null);
  const take = (again: boolean, sure: boolean): void => {
    if (!reading.take(again, sure)) return;
    if (!again && after !== undefined) onSize(after);
    box.current?.focus();
  };
  const no = (): void => {
    reading.letGo();
    box.current?.focus();
  };
  const submit = (e: FormEvent): void => {
    e.preventDefault();
    if (!reading.asking) take(false, false);
  };
  return (
    <form className="measure" onSubmit={submit}>
      <Head {...way} />
      <Jaws kind={entry.kind} where={QUANTITIES[entry.kind].where} />
      <Typed entry={entry} reading={reading} box={box} />
      <fieldset className="pad-group" aria-label="Number pad">
        <Pad withUnits={QUANTITIES[entry.kind].unit === 'mm'} write={reading.write} />
        <Take reading={reading} take={take} no={no} />
      </fieldset>
      <HowRead kind={entry.kind} how={reading.how} setHow={reading.setHow} />
      <Readings entry={entry} />
      <Paste size={entry.key} instrument={reading.how.instrument} />
    </form>
  );
}

/**
 * One size at a time, with dirty hands: where the jaws go, one big number pad, any unit, echoed before it is stored.
 */
export function MeasureCard({ size, onSize }: { size: string; onSize: (key: string) => void }) {
  const model = useApp((s) => s.model);
  const walk = useMemo(() => walkingOrder(model), [model]);
  const at = walk.findIndex((e) => e.key === size);
  const entry = walk[at];
  if (!entry) return null;
  const after = nextWanted(size) ?? walk[at + 1]?.key;
  return <CardOf entry={entry} before={walk[at - 1]?.key} after={after} onSize={onSize} />;
}
