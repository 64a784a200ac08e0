import { useState } from 'react';
import { usualInstrument } from '../../model/edits/edits.ts';
import type { Kind } from '../../model/quantities.ts';
import type { Model, Reading } from '../../model/schema.ts';
import { readValue } from '../../model/tables/readingTable.ts';
import { useApp } from '../state/store.ts';
import { today } from '../state/today.ts';

/** What a reading is taken with, as it is filled in. */
export interface How {
  readonly instrument: string;
  /** Degrees C; empty where nobody looked. */
  readonly temperature: string;
  /** The length a square or plumb line was read over. */
  readonly over: string;
}

/** Sizes read with a square or plumb line over a length of its own. */
const READ_OVER: ReadonlySet<Kind> = new Set<Kind>(['lean', 'plumb']);
export const isReadOver = (kind: Kind): boolean => READ_OVER.has(kind);

/** What the last reading was taken with, kept for the next while the page is open. */
let kept: { readonly temperature?: string; readonly over: string } = { over: '' };

/** What the next reading starts from. */
export function keepHow({ temperature, over }: How): void {
  kept = { temperature, over };
}

/** The temperature the card starts from: the last one typed here, else that of the last reading that has one. */
function lastTemperature(model: Model): string {
  const last = model.readings.findLast((r) => r.temperature !== undefined);
  return kept.temperature ?? String(last?.temperature ?? '');
}

/** How the size on the card is read; the instrument asked for, or the usual one. */
export function useHow(size: string): readonly [How, (part: Partial<How>) => void] {
  const [how, setHow] = useState<How>(() => {
    const { model, instrument } = useApp.getState();
    return {
      instrument: instrument ?? usualInstrument(model, size),
      temperature: lastTemperature(model),
      over: kept.over,
    };
  });
  return [how, (part) => setHow((was) => ({ ...was, ...part }))];
}

type Stored = Omit<Reading, 'size' | 'value'>;

/** How it was read, as it is stored with the reading; or what is wrong with what was filled in. */
export function storedHow(kind: Kind, how: How, units: Model['units']): Stored | string {
  const length = isReadOver(kind) && how.over.trim() !== '' ? readValue('length', how.over, units) : undefined;
  if (length && !length.ok) return `Over what length? ${length.sentence}`;
  const warm = how.temperature.trim().replace(',', '.');
  if (!Number.isFinite(Number(warm))) return `“${how.temperature}” is not a temperature; type degrees C such as 18.`;
  return {
    instrument: how.instrument,
    date: today(),
    ...(warm === '' ? {} : { temperature: Number(warm) }),
    ...(length ? { over: length.value } : {}),
  };
}
