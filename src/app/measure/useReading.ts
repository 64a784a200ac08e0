import { useEffect, useEffectEvent, useState } from 'react';
import { type Edit, measure, measureMore, usualInstrument } from '../../model/edits/edits.ts';
import type { Fault } from '../../model/file/faults/fault.ts';
import type { SizeEntry } from '../../model/sizeEntries.ts';
import { readValue } from '../../model/tables/readingTable.ts';
import { useApp } from '../state/store.ts';
import { type How, keepHow, storedHow, useHow } from './how.ts';

/** A doubtful value, asked about before it is taken; and whether it was to be taken as once more. */
interface Asking {
  readonly question: string;
  readonly again: boolean;
}

/**
 * What a person is asked before a doubtful value is taken; undefined where nothing is wrong, or where it cannot be
 * taken at all.
 */
function questionOf(faults: readonly Fault[]): string | undefined {
  const questions = faults.map((f) => f.question);
  if (faults.length === 0 || questions.includes(undefined)) return undefined;
  return [...new Set(questions)].join(' ');
}

/** The step that stores a value of a size, or what is wrong with how it was read. */
function stepFor(entry: SizeEntry, value: number, how: How, as: { again: boolean; sure: boolean }): Edit | string {
  const { model } = useApp.getState();
  const stored = storedHow(entry.kind, how, model.units);
  if (typeof stored === 'string') return stored;
  const whole = as.sure ? { ...stored, sure: true as const } : stored;
  return as.again ? measureMore(model, entry.key, { value, ...whole }) : measure(model, entry.key, [value], whole);
}

/** What is typed on the measuring card: what it means, what speaks against it, and taking it. */
export function useReading(entry: SizeEntry) {
  const { units } = useApp((s) => s.model);
  const asked = useApp((s) => s.instrument);
  const [text, setText] = useState('');
  const [refused, setRefused] = useState('');
  const [asking, setAsking] = useState<Asking | null>(null);
  const [how, setHow] = useHow(entry.key);
  const write = (change: (was: string) => string): void => {
    setText(change);
    setRefused('');
    setAsking(null);
  };
  const begin = useEffectEvent((size: string, instrument: string | null): void => {
    write(() => '');
    setHow({ instrument: instrument ?? usualInstrument(useApp.getState().model, size) });
  });
  useEffect(() => begin(entry.key, asked), [entry.key, asked]);
  const typed = text.trim() === '' ? undefined : readValue(entry.kind, text, units);
  /** Takes what was typed; true once it is stored. */
  const take = (again: boolean, sure = false): boolean => {
    if (!typed) return false;
    const step = typed.ok ? stepFor(entry, typed.value, how, { again, sure }) : typed.sentence;
    if (typeof step === 'string') {
      setRefused(step);
      return false;
    }
    const faults = useApp.getState().edit(step);
    const question = questionOf(faults);
    if (question) setAsking({ question: `${text.trim()}? ${question}`, again });
    else setRefused(faults.map((f) => f.sentence).join(' '));
    if (faults.length > 0) return false;
    keepHow(how);
    write(() => '');
    return true;
  };
  return { text, typed, refused, asking, how, setHow, write, take, letGo: () => setAsking(null) };
}

export type Entered = ReturnType<typeof useReading>;
