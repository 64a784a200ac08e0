import { type FormEvent, type KeyboardEvent, useEffect, useId, useRef, useState } from 'react';
import { applyEdit, type Edit, forgetReadings, measure, redraw, usualInstrument } from '../../model/edits/edits.ts';
import type { Fault } from '../../model/file/faults/fault.ts';
import { INSTRUMENTS, type Kind, QUANTITIES } from '../../model/quantities.ts';
import type { Model } from '../../model/schema.ts';
import type { SizeEntry } from '../../model/sizeEntries.ts';
import { sizeBook } from '../../model/sizes.ts';
import { useApp } from '../state/store.ts';
import { today } from '../state/today.ts';
import { type As, instrumentsFor, readTyped, type Typed } from './typedSize.ts';
import './sizes.css';

interface Props {
  readonly entry: SizeEntry;
  readonly as: As;
  /** What stands in the box at first. */
  readonly start: string;
  readonly label: string;
  onDone(): void;
}

/** What would be wrong with a step, found before it is taken; nothing when it may be. */
function faultsOf(model: Model, step: Edit | undefined): readonly Fault[] {
  const tried = step && applyEdit(model, step);
  return tried && !tried.ok ? tried.faults : [];
}

const sentences = (faults: readonly Fault[]): string => faults.map((f) => f.sentence).join(' ');

/** What is typed into the box of a size: what it means, what is doubtful about it, and the steps that take it. */
function useEntry({ entry, as, start, onDone }: Props) {
  const model = useApp((s) => s.model);
  const edit = useApp((s) => s.edit);
  const [text, setText] = useState(start);
  const [refused, setRefused] = useState('');
  const [instrument, setInstrument] = useState(() => usualInstrument(model, entry.key));
  const typed = readTyped(text, QUANTITIES[entry.kind].unit, model.units);
  const stepFor = (value: number, sure: boolean): Edit | undefined => {
    if (as === 'drawing') return redraw(model, entry.key, value);
    const how = { instrument, date: today() };
    return measure(model, entry.key, [value], sure ? { ...how, sure } : how);
  };
  const doubts = typed.ok ? faultsOf(model, stepFor(typed.value, false)) : [];
  const take = (sure: boolean): void => {
    if (!typed.ok) {
      setRefused(typed.sentence);
      return;
    }
    const step = stepFor(typed.value, sure);
    const faults = step ? edit(step) : [];
    if (faults.length > 0) setRefused(sentences(faults));
    else onDone();
  };
  const type = (next: string): void => {
    setText(next);
    setRefused('');
  };
  return { text, type, typed, doubts, refused, instrument, setInstrument, take };
}

function Instrument({ kind, value, onChoose }: { kind: Kind; value: string; onChoose: (id: string) => void }) {
  const model = useApp((s) => s.model);
  return (
    <select value={value} aria-label="Instrument" onChange={(e) => onChoose(e.target.value)}>
      {instrumentsFor(model, kind).map((i) => (
        <option key={i} value={i}>
          {INSTRUMENTS[i] ?? i}
        </option>
      ))}
    </select>
  );
}

/** The echo of what was typed, or what speaks against it. */
function Note({ id, typed, refused, doubts }: { id: string; typed: Typed; refused: string; doubts: readonly Fault[] }) {
  const against = refused || doubts.map((f) => f.question ?? f.sentence).join(' ');
  const echo = typed.ok ? typed.echo : ' ';
  return (
    <output id={id} className={against ? 'refused' : 'echo'} role={refused ? 'alert' : undefined}>
      {against || echo}
    </output>
  );
}

/** Takes back what was read of a size, where anything was. */
function Forget({ size, onDone }: { size: string; onDone: () => void }) {
  const model = useApp((s) => s.model);
  const edit = useApp((s) => s.edit);
  if (sizeBook(model).readingsOf(size).length === 0) return null;
  const forget = (): void => {
    edit(forgetReadings(model, size));
    onDone();
  };
  return (
    <button type="button" className="quiet" onClick={forget}>
      Forget the reading
    </button>
  );
}

/** The box of a size being changed: what was typed stays in it until it is taken or given up. */
export function SizeEdit(props: Props) {
  const { entry, as, label, onDone } = props;
  const { text, type, typed, doubts, refused, instrument, setInstrument, take } = useEntry(props);
  const input = useRef<HTMLInputElement>(null);
  const noteId = useId();
  useEffect(() => input.current?.select(), []);
  const reading = as === 'reading';
  const mayBe = reading && doubts.length > 0 && doubts.every((f) => f.question !== undefined);
  const submit = (e: FormEvent): void => {
    e.preventDefault();
    take(false);
  };
  const leaveByKey = (e: KeyboardEvent): void => {
    if (e.key !== 'Escape') return;
    e.stopPropagation();
    onDone();
  };
  return (
    <form className="size-edit" onSubmit={submit} onKeyDown={leaveByKey}>
      <input
        ref={input}
        value={text}
        inputMode="text"
        aria-label={`New ${label}`}
        aria-describedby={noteId}
        autoComplete="off"
        spellCheck={false}
        onChange={(e) => type(e.target.value)}
      />
      {reading && <Instrument kind={entry.kind} value={instrument} onChoose={setInstrument} />}
      <button type="submit" className="take">
        Take
      </button>
      {mayBe && (
        <button type="button" className="take" onClick={() => take(true)}>
          Yes, that is what it reads
        </button>
      )}
      <button type="button" className="quiet" onClick={onDone}>
        Leave
      </button>
      {reading && <Forget size={entry.key} onDone={onDone} />}
      <Note id={noteId} typed={typed} refused={refused} doubts={doubts} />
    </form>
  );
}
