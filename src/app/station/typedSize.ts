import type { Kind } from '../../model/quantities.ts';
import { QUANTITIES } from '../../model/quantities.ts';
import type { Model } from '../../model/schema.ts';
import { instrumentUncertainty, type SizeBook } from '../../model/sizes.ts';
import { parseAngle, parseLength } from '../../units/read.ts';
import { echo, exactLength, formatAngle, formatLength } from '../../units.ts';

export type Unit = 'mm' | 'deg';
type Shown = Model['units'];

/** What was typed: a value, mm or degrees, with its echo in both units; or why it is none. */
export type Typed =
  | { readonly ok: true; readonly value: number; readonly echo: string }
  | { readonly ok: false; readonly sentence: string };

/** What a typed size means: a length in mm, or degrees for a level. */
export function readTyped(text: string, unit: Unit, bare: Shown): Typed {
  if (unit === 'deg') {
    const read = parseAngle(text);
    return read.ok ? { ok: true, value: (read.value * 180) / Math.PI, echo: formatAngle(read.value) } : read;
  }
  const read = parseLength(text, bare);
  return read.ok ? { ok: true, value: read.value, echo: echo(read.value) } : read;
}

/** A size as it is printed: a length in the unit shown first, or an angle. */
export function printSize(value: number, unit: Unit, shown: Shown): string {
  return unit === 'deg' ? formatAngle((value * Math.PI) / 180) : formatLength(value, shown);
}

/** A size as one would type it, to be changed. */
export function asTyped(value: number, unit: Unit, shown: Shown): string {
  return unit === 'deg' ? String(value) : exactLength(Number(value.toFixed(4)), shown);
}

/** What is read off a size where it stands: its reading, or the drawing. */
export type As = 'reading' | 'drawing';

/** What is known of a size as its reading or in the drawing; undefined where nothing is. */
export function knownSize(book: SizeBook, size: string, as: As) {
  if (as === 'reading') return book.find(size);
  const nominal = book.entries.get(size)?.nominal;
  return nominal === undefined ? undefined : { best: nominal, origin: 'drawing' as const };
}

/** Instruments that can read a kind of size: the usual ones and the panel's own. */
export function instrumentsFor(model: Model, kind: Kind): string[] {
  const own = model.instruments.filter((i) => instrumentUncertainty(model, kind, i.id) !== undefined).map((i) => i.id);
  return [...new Set([...Object.keys(QUANTITIES[kind].u), ...own])];
}
