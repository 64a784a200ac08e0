import { formatLength, parseAngle, parseLength } from '../../units.ts';
import { grainOf, onGrain } from '../drawn.ts';
import type { Alloy, Model, Profile } from '../schema.ts';
import type { PanelPlan, Taper } from './laid.ts';

/*
 * What a start asks: a few questions in plain words, each with where its answer stands on a drawing and a usual answer to
 * begin from. Answers are kept as they will be used: lengths mm, angles degrees, choices and names as text.
 */

export type AnswerValue = number | string | readonly number[];
export type StartAnswers = Readonly<Record<string, AnswerValue>>;

/** What the drawing beside a question points at. */
export type Pointed =
  | 'span'
  | 'places'
  | 'ribs'
  | 'front-depth'
  | 'rear-depth'
  | 'front-cap'
  | 'rear-cap'
  | 'webs'
  | 'nose'
  | 'chord'
  | 'washout'
  | 'front-opens'
  | 'rear-opens'
  | 'front-sheet'
  | 'rear-sheet'
  | 'strip'
  | 'main'
  | 'nose-rib'
  | 'tip'
  | 'skin'
  | 'doubler'
  | 'ease-height'
  | 'ease-length'
  | 'tab'
  | 'row'
  | 'relief'
  | 'rivets'
  | 'registered'
  | 'panel'
  | 'profile'
  | 'bend';

export interface StartQuestion {
  readonly id: string;
  readonly ask: string;
  /** Where the answer stands on a drawing, or how to come by it. */
  readonly where: string;
  readonly kind: 'length' | 'angle' | 'count' | 'text' | 'choice' | 'places';
  readonly usual: AnswerValue;
  readonly least?: number;
  readonly most?: number;
  /** The most of it that fits; more is laid all the same, and Fit says so. */
  readonly fits?: number;
  readonly choices?: readonly (readonly [value: string, words: string])[];
  readonly points: Pointed;
  /** Folded away: most builders keep the usual answer. */
  readonly more?: true;
  /** Asked only where this holds of the other answers. */
  readonly when?: (a: StartAnswers) => boolean;
}

export interface StartGroup {
  readonly name: string;
  readonly questions: readonly StartQuestion[];
}

export interface Start {
  readonly id: string;
  readonly name: string;
  /** What it makes, in one sentence. */
  readonly says: string;
  readonly groups: readonly StartGroup[];
  readonly plan: (a: StartAnswers) => PanelPlan;
}

/** Something about an answer that keeps the panel from being laid, said at its question. */
export interface Doubt {
  readonly id: string;
  readonly sentence: string;
}

export const num = (a: StartAnswers, id: string): number => (typeof a[id] === 'number' ? a[id] : Number.NaN);
export const word = (a: StartAnswers, id: string): string => (typeof a[id] === 'string' ? a[id] : '');
/** Root and tip of a size; the tip is the root's where the start does not ask for it. */
export const taper = (a: StartAnswers, id: string): Taper => [
  num(a, id),
  typeof a[`${id}Tip`] === 'number' ? num(a, `${id}Tip`) : num(a, id),
];

/** Every question of a start that is asked, given the answers. */
export const askedBy = (start: Start, a: StartAnswers): StartQuestion[] =>
  start.groups.flatMap((g) => g.questions).filter((q) => !q.when || q.when(a));

/** The usual answer on the drawing's grain: where it is in inches, 96 mm is 3.780 in (96.012 mm). */
function usualOf(q: StartQuestion, units: Model['units']): AnswerValue {
  const { usual } = q;
  return units === 'in' && q.kind === 'length' && typeof usual === 'number' ? onGrain(usual, grainOf(units)) : usual;
}

/** A length that is written like an edge of its question is that edge: 0.008 in (0.2032 mm) where 0.20 mm is the most. */
function onEdge(q: StartQuestion, value: AnswerValue, units: Model['units']): AnswerValue {
  if (q.kind !== 'length' || typeof value !== 'number') return value;
  const under = q.least !== undefined && value < q.least ? [q.least] : [];
  const over = [q.fits, q.most].filter((edge) => edge !== undefined && value > edge);
  const written = formatLength(value, units);
  return [...under, ...over].find((edge) => edge !== undefined && formatLength(edge, units) === written) ?? value;
}

/** The answers given, and the usual ones for the rest. */
export function complete(start: Start, given: StartAnswers): StartAnswers {
  const units = unitsOf(given);
  const questions = start.groups.flatMap((g) => g.questions);
  const answers = questions.map((q) => [q.id, onEdge(q, given[q.id] ?? usualOf(q, units), units)] as const);
  return { ...given, ...Object.fromEntries(answers) };
}

/** Where the ribs stand: as listed, else evenly from the first place to the last on the drawing's grain. */
export function placesOf(a: StartAnswers): readonly number[] {
  const listed = a['places'];
  if (Array.isArray(listed) && listed.length > 0) return listed as readonly number[];
  const [first, span, n] = [
    Number.isFinite(num(a, 'first')) ? num(a, 'first') : 0,
    num(a, 'span'),
    Math.round(num(a, 'ribs')),
  ];
  const grain = grainOf(unitsOf(a));
  const start = word(a, 'hand') === 'both' ? -span / 2 : first;
  return Array.from({ length: Math.max(n, 2) }, (_, i) => onGrain(start + (span * i) / (Math.max(n, 2) - 1), grain));
}

export const unitsOf = (a: StartAnswers): Model['units'] => (word(a, 'units') === 'in' ? 'in' : 'mm');

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

/** Reads a typed answer; a list of places may be parted by spaces, commas, semicolons or lines. */
export function readAnswer(
  q: StartQuestion,
  text: string,
  bare: 'mm' | 'in',
): { ok: true; value: AnswerValue } | { ok: false; sentence: string } {
  const typed = text.trim();
  if (q.kind === 'text' || q.kind === 'choice') return { ok: true, value: typed };
  if (q.kind === 'count')
    return /^\d{1,3}$/.test(typed)
      ? { ok: true, value: Number(typed) }
      : { ok: false, sentence: `“${typed.slice(0, 24)}” is not a whole number; type one such as ${String(q.usual)}.` };
  if (q.kind === 'angle') {
    const read = parseAngle(typed);
    return read.ok ? { ok: true, value: Math.round(((read.value * 180) / Math.PI) * 1e9) / 1e9 } : read;
  }
  if (q.kind === 'length') {
    const read = parseLength(typed, bare);
    if (!read.ok) return read;
    // No sheet is .025 mm thick: a bare number too small for millimetres and right in inches was said in inches.
    const inInches = read.value * 25.4;
    const meant =
      read.bareUnit &&
      bare === 'mm' &&
      q.least !== undefined &&
      q.most !== undefined &&
      read.value > 0 &&
      read.value < q.least &&
      inInches >= q.least &&
      inInches <= q.most;
    return { ok: true, value: meant ? Math.round(inInches * 1e6) / 1e6 : read.value };
  }
  if (typed === '') return { ok: true, value: [] };
  const split = /[;\n\t]|,\s/.test(typed) ? typed.split(/[;\n\t]+|,\s+/) : typed.split(/\s+(?=[-+\d.])(?!\d+\/\d)/);
  const places: number[] = [];
  for (const cell of oneUnit(split.map((c) => c.trim()).filter((c) => c !== ''))) {
    const read = parseLength(cell, bare);
    if (!read.ok) return read;
    places.push(read.value);
  }
  return { ok: true, value: places };
}

/** What keeps these answers from being laid, each at its question; none when they can be. */
export function doubtsOf(start: Start, a: StartAnswers): Doubt[] {
  const units = unitsOf(a);
  const show = (v: number, q: StartQuestion): string => (q.kind === 'length' ? formatLength(v, units) : String(v));
  const out: Doubt[] = [];
  for (const q of askedBy(start, a)) {
    const v = a[q.id];
    if (q.kind === 'text' && word(a, q.id) === '')
      out.push({ id: q.id, sentence: 'Nothing is written here; type a short name.' });
    if (q.kind === 'choice' && !q.choices?.some(([value]) => value === v))
      out.push({ id: q.id, sentence: 'Choose one of them.' });
    if (typeof v === 'number' && ((q.least !== undefined && v < q.least) || (q.most !== undefined && v > q.most))) {
      out.push({
        id: q.id,
        sentence: `${show(v, q)} is outside what is likely, ${show(q.least ?? 0, q)} to ${show(q.most ?? 0, q)}; check the unit.`,
      });
    }
  }
  if (!/^[A-Za-z]$/.test(word(a, 'letter')))
    out.push({ id: 'letter', sentence: 'A station mark starts with one letter, such as S.' });
  const places = placesOf(a);
  const tab = num(a, 'tab');
  const crossed = places.findIndex((y, i) => i > 0 && y - places[i - 1]! < 2 * tab);
  if (places.length < 2) out.push({ id: 'places', sentence: 'At least two places are needed.' });
  else if (crossed > 0)
    out.push({
      id: Array.isArray(a['places']) && a['places'].length > 0 ? 'places' : 'ribs',
      sentence: `The ribs at ${formatLength(places[crossed - 1]!, units)} and ${formatLength(places[crossed]!, units)} stand closer than their flanges are wide; list the places in order, or ask for fewer ribs.`,
    });
  const rivet = Number(word(a, 'rivet'));
  if (num(a, 'row') > tab - 2 * rivet)
    out.push({
      id: 'row',
      sentence: `A row ${formatLength(num(a, 'row'), units)} from the web leaves less than 2 rivet diameters to the edge of a ${formatLength(tab, units)} flange; move the row in or widen the flange.`,
    });
  if (num(a, 'pitch') < 3 * rivet)
    out.push({
      id: 'pitch',
      sentence: `Holes ${formatLength(num(a, 'pitch'), units)} apart are closer than 3 rivet diameters, ${formatLength(3 * rivet, units)}; widen the pitch.`,
    });
  if (word(a, 'strip') === 'yes' && (num(a, 'stripTo') <= places[0]! || num(a, 'stripTo') > places[places.length - 1]!))
    out.push({
      id: 'stripTo',
      sentence: 'The strip ends outside the spar; give its place along the span from the same datum as the ribs.',
    });
  if (/\d/.test(word(a, 'profile')) && !/^\d{4}$/.test(word(a, 'profile')))
    out.push({ id: 'profile', sentence: 'A four-digit section has four digits, such as 0012; or write ellipse.' });
  return out;
}

/** The nose's shape, from a name: four digits, else an ellipse. The chord given holds at the root and tapers with the ribs. */
export function profileFrom(a: StartAnswers, root: number): (chord: number) => Profile {
  const name = word(a, 'profile');
  if (!/^\d{4}$/.test(name)) return () => ({ kind: 'ellipse' });
  const share = num(a, 'chord') / root;
  return (here) => ({ kind: 'naca4', name, chord: Math.round(here * share * 100) / 100 });
}

export const alloyOf = (a: StartAnswers): Alloy => (word(a, 'alloy') || '6061-T6') as Alloy;
