import { useEffect, useId, useRef, useState } from 'react';
import { applyEdit, type Edit, forgetReadings, measure, redraw, usualInstrument } from '../../model/edits/edits.ts';
import type { Fault } from '../../model/file/faults/fault.ts';
import { INSTRUMENTS, QUANTITIES } from '../../model/quantities.ts';
import type { Model } from '../../model/schema.ts';
import { instrumentUncertainty, sizeBook } from '../../model/sizes.ts';
import { parseAngle, parseLength } from '../../units/read.ts';
import { echo, exactLength, formatAngle, formatLength } from '../../units.ts';
import { useApp } from '../state/store.ts';
import { today } from '../state/today.ts';

type Typed = { ok: true; value: number; echo: string } | { ok: false; sentence: string };

/** What a typed size means: a length in mm, or degrees for a level. */
function readTyped(text: string, unit: 'mm' | 'deg', bare: 'mm' | 'in'): Typed {
  if (unit === 'deg') {
    const read = parseAngle(text);
    return read.ok ? { ok: true, value: (read.value * 180) / Math.PI, echo: formatAngle(read.value) } : read;
  }
  const read = parseLength(text, bare);
  return read.ok ? { ok: true, value: read.value, echo: echo(read.value) } : read;
}

/**
 * A size that can be changed where it is shown, in any unit a shop uses. What was understood is echoed in both units
 * before it is stored; what was typed stays in the box until it is taken or given up.
 */
export function SizeField({ size, as }: { size: string; as: 'reading' | 'drawing' }) {
  const model = useApp((s) => s.model);
  const edit = useApp((s) => s.edit);
  const [text, setText] = useState<string | null>(null);
  const [refused, setRefused] = useState('');
  const [instrument, setInstrument] = useState('');
  const input = useRef<HTMLInputElement>(null);
  const shown = useRef<HTMLButtonElement>(null);
  const wasOpen = useRef(false);
  const noteId = useId();
  const open = text !== null;
  useEffect(() => {
    if (open) input.current?.select();
    else if (wasOpen.current) shown.current?.focus();
    wasOpen.current = open;
  }, [open]);
  const book = sizeBook(model);
  const entry = book.entries.get(size);
  if (!entry) return null;
  const { unit } = QUANTITIES[entry.kind];
  const known =
    as === 'drawing'
      ? entry.nominal === undefined
        ? undefined
        : { best: entry.nominal, origin: 'drawing' }
      : book.find(size);
  const print = (v: number): string =>
    unit === 'deg' ? formatAngle((v * Math.PI) / 180) : formatLength(v, model.units);
  const label = as === 'drawing' ? `drawing's ${entry.name}` : entry.name;
  if (!open) {
    const measured = known?.origin === 'measured';
    return (
      <button
        ref={shown}
        type="button"
        className={`size ${measured ? 'measured' : 'drawn'}`}
        aria-label={`Change the ${label}, ${known ? print(known.best) : 'not read'}`}
        disabled={as === 'drawing' && !entry.path}
        onClick={() => {
          setText(
            known
              ? unit === 'deg'
                ? String(known.best)
                : exactLength(Number(known.best.toFixed(4)), model.units)
              : '',
          );
          setInstrument(usualInstrument(model, size));
          setRefused('');
        }}
      >
        {known ? print(known.best) : 'not read'}
      </button>
    );
  }
  const typed = readTyped(text, unit, model.units);
  const step = typed.ok
    ? as === 'drawing'
      ? redraw(model, size, typed.value)
      : measure(model, size, [typed.value], { instrument, date: today() })
    : undefined;
  const doubts = step ? faultsOf(model, step) : [];
  const doubt = doubts.map((f) => f.question ?? f.sentence).join(' ');
  const mayBe = as === 'reading' && typed.ok && doubts.length > 0 && doubts.every((f) => f.question !== undefined);
  const take = (sure = false) => {
    if (!typed.ok) return setRefused(typed.sentence);
    const faults = sure
      ? edit(measure(model, size, [typed.value], { instrument, date: today(), sure: true }))
      : step
        ? edit(step)
        : [];
    if (faults.length > 0) return setRefused(faults.map((f) => f.sentence).join(' '));
    setText(null);
  };
  return (
    <form
      className="size-edit"
      onSubmit={(e) => {
        e.preventDefault();
        take();
      }}
      onKeyDown={(e) => {
        if (e.key === 'Escape') {
          e.stopPropagation();
          setText(null);
        }
      }}
    >
      <input
        ref={input}
        value={text}
        inputMode="text"
        aria-label={`New ${label}`}
        aria-describedby={noteId}
        autoComplete="off"
        spellCheck={false}
        onChange={(e) => {
          setText(e.target.value);
          setRefused('');
        }}
      />
      {as === 'reading' && (
        <select value={instrument} aria-label="Instrument" onChange={(e) => setInstrument(e.target.value)}>
          {instrumentsFor(model, entry.kind).map((i) => (
            <option key={i} value={i}>
              {INSTRUMENTS[i] ?? i}
            </option>
          ))}
        </select>
      )}
      <button type="submit" className="take">
        Take
      </button>
      {mayBe && (
        <button type="button" className="take" onClick={() => take(true)}>
          Yes, that is what it reads
        </button>
      )}
      <button type="button" className="quiet" onClick={() => setText(null)}>
        Leave
      </button>
      {as === 'reading' && book.readingsOf(size).length > 0 && (
        <button
          type="button"
          className="quiet"
          onClick={() => {
            edit(forgetReadings(model, size));
            setText(null);
          }}
        >
          Forget the reading
        </button>
      )}
      <output id={noteId} className={refused || doubt ? 'refused' : 'echo'} role={refused ? 'alert' : undefined}>
        {refused || doubt || (typed.ok ? typed.echo : ' ')}
      </output>
    </form>
  );
}

/** What would be wrong with a step, found before it is taken; nothing when it may be. */
function faultsOf(model: Model, step: Edit): readonly Fault[] {
  const tried = applyEdit(model, step);
  return tried.ok ? [] : tried.faults;
}

/** Instruments that can read a kind of size: the usual ones and the panel's own. */
export function instrumentsFor(model: Model, kind: keyof typeof QUANTITIES): string[] {
  const own = model.instruments.filter((i) => instrumentUncertainty(model, kind, i.id) !== undefined).map((i) => i.id);
  return [...new Set([...Object.keys(QUANTITIES[kind].u), ...own])];
}
