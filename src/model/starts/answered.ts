import { parseAngle, parseLength } from '../../units/read.ts';
import type { AnswerValue, StartQuestion } from './asked.ts';

/* A typed answer read as its question means it. */

type Answered = { readonly ok: true; readonly value: AnswerValue } | { readonly ok: false; readonly sentence: string };

/** A unit written once, at the end, holds for the whole list: `0 11.5 23 in` is three places in inches. */
function oneUnit(cells: readonly string[]): readonly string[] {
  const [last, before] = [cells[cells.length - 1] ?? '', cells.slice(0, -1)];
  const unit = /\d\s*([^\d\s.,]\D*)$/.exec(last)?.[1] ?? '';
  const own = (cell: string): boolean => {
    const read = parseLength(cell);
    return !read.ok || !read.bareUnit;
  };
  return unit === '' || !own(last) || before.some(own) ? cells : [...before.map((c) => `${c} ${unit}`), last];
}

function readCount(q: StartQuestion, typed: string): Answered {
  if (/^\d{1,3}$/.test(typed)) return { ok: true, value: Number(typed) };
  return {
    ok: false,
    sentence: `“${typed.slice(0, 24)}” is not a whole number; type one such as ${String(q.usual)}.`,
  };
}

/** Degrees, without the dust of radians. */
function readDegrees(typed: string): Answered {
  const read = parseAngle(typed);
  return read.ok ? { ok: true, value: Math.round(((read.value * 180) / Math.PI) * 1e9) / 1e9 } : read;
}

/** No sheet is .025 mm thick: a bare number too small for millimetres and right in inches was said in inches. */
function meantInches({ least, most }: StartQuestion, value: number): boolean {
  if (least === undefined || most === undefined || value <= 0 || value >= least) return false;
  const inInches = value * 25.4;
  return inInches >= least && inInches <= most;
}

function readOneLength(q: StartQuestion, typed: string, bare: 'mm' | 'in'): Answered {
  const read = parseLength(typed, bare);
  if (!read.ok) return read;
  const inches = read.bareUnit && bare === 'mm' && meantInches(q, read.value);
  return { ok: true, value: inches ? Math.round(read.value * 25.4 * 1e6) / 1e6 : read.value };
}

/** A list of places, parted by spaces, commas, semicolons or lines; a unit at its end holds for all of them. */
function readPlaces(typed: string, bare: 'mm' | 'in'): Answered {
  if (typed === '') return { ok: true, value: [] };
  const parted = /[;\n\t]|,\s/.test(typed) ? typed.split(/[;\n\t]+|,\s+/) : typed.split(/\s+(?=[-+\d.])(?!\d+\/\d)/);
  const cells = parted.map((c) => c.trim()).filter((c) => c !== '');
  const places: number[] = [];
  for (const cell of oneUnit(cells)) {
    const read = parseLength(cell, bare);
    if (!read.ok) return read;
    places.push(read.value);
  }
  return { ok: true, value: places };
}

/** Reads a typed answer: mm, degrees, a count, places, or text as it stands. A bare number takes `bare`. */
export function readAnswer(q: StartQuestion, text: string, bare: 'mm' | 'in'): Answered {
  const typed = text.trim();
  switch (q.kind) {
    case 'text':
    case 'choice':
      return { ok: true, value: typed };
    case 'count':
      return readCount(q, typed);
    case 'angle':
      return readDegrees(typed);
    case 'length':
      return readOneLength(q, typed, bare);
    case 'places':
      return readPlaces(typed, bare);
  }
}
