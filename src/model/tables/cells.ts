import { parseAngle, parseLength } from '../../units/read.ts';
import { exactLength, formatLength } from '../../units.ts';
import type { Model } from '../schema.ts';
import type { CellValue, Column } from './tables.ts';

/* A cell of Build's tables as it is typed and as it is shown. */

/** What a typed cell means, or why it means nothing. */
type CellRead = { readonly ok: true; readonly value: CellValue } | { readonly ok: false; readonly sentence: string };

const refused = (sentence: string): CellRead => ({ ok: false, sentence });
const quoted = (typed: string): string => `“${typed.slice(0, 24)}”`;

/** Degrees, without the dust of radians. */
function readDegrees(typed: string): CellRead {
  const read = parseAngle(typed);
  return read.ok ? { ok: true, value: Math.round(((read.value * 180) / Math.PI) * 1e9) / 1e9 } : read;
}

function readNumber(typed: string): CellRead {
  const v = Number(typed.replace(',', '.'));
  return typed !== '' && Number.isFinite(v) ? { ok: true, value: v } : refused(`${quoted(typed)} is not a number.`);
}

/** A choice by its value or its words, small or large letters alike. */
function readChoice(column: Column, model: Model, typed: string): CellRead {
  const all = column.choices?.(model) ?? [];
  const small = typed.toLowerCase();
  const found =
    all.find(([v, words]) => v === typed || words.toLowerCase() === small) ??
    all.find(([v]) => v.toLowerCase() === small);
  if (found) return { ok: true, value: found[0] };
  const some = all.slice(0, 8).map(([, words]) => words);
  return refused(`${quoted(typed)} is not one of ${some.join(', ')}.`);
}

/** What a typed cell means, in mm, degrees, or as it stands. */
export function readCell(column: Column, model: Model, text: string): CellRead {
  const typed = text.trim();
  switch (column.kind) {
    case 'length': {
      const read = parseLength(typed, model.units);
      return read.ok ? { ok: true, value: read.value } : read;
    }
    case 'angle':
      return readDegrees(typed);
    case 'count':
      return /^\d{1,4}$/.test(typed)
        ? { ok: true, value: Number(typed) }
        : refused(`${quoted(typed)} is not a whole number.`);
    case 'number':
      return readNumber(typed);
    case 'choice':
      return readChoice(column, model, typed);
    case 'text':
      return { ok: true, value: typed };
  }
}

/** A cell as it stands in the table: two decimals of a millimetre, three of an inch. */
export function cellText(column: Column, model: Model, value: CellValue | undefined): string {
  if (value === undefined) return '';
  if (typeof value === 'string')
    return column.kind === 'choice' ? (column.choices?.(model).find(([v]) => v === value)?.[1] ?? value) : value;
  if (column.kind === 'length') return formatLength(value, model.units, { unitMark: false });
  return column.kind === 'angle' ? value.toFixed(2) : String(Math.round(value * 1e6) / 1e6);
}

/** A cell as it stands in its box while it is changed: every figure. */
export function cellEntry(column: Column, model: Model, value: CellValue | undefined): string {
  if (value === undefined) return '';
  if (typeof value === 'number' && column.kind === 'length')
    return exactLength(Math.round(value * 1e6) / 1e6, model.units).replace(/ (mm|in)$/, '');
  return String(value);
}
