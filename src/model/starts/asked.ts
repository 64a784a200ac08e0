import { formatLength } from '../../units.ts';
import { grainOf, onGrain } from '../drawn.ts';
import type { Model } from '../schema.ts';
import type { PanelPlan } from './plan.ts';

/*
 * What a start asks: a few questions in plain words, each with where its answer stands on a drawing and a usual
 * answer to begin from. Answers are kept as they will be used: lengths mm, angles degrees, choices and names as text.
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

export const num = (a: StartAnswers, id: string): number => (typeof a[id] === 'number' ? a[id] : Number.NaN);
export const word = (a: StartAnswers, id: string): string => (typeof a[id] === 'string' ? a[id] : '');
/** Every question of a start that is asked, given the answers. */
export const askedBy = (start: Start, a: StartAnswers): StartQuestion[] =>
  start.groups.flatMap((g) => g.questions).filter((q) => !q.when || q.when(a));

/** The usual answer on the drawing's grain: where it is in inches, 96 mm is 3.780 in (96.012 mm). */
function usualOf(q: StartQuestion, units: Model['units']): AnswerValue {
  const { usual } = q;
  return units === 'in' && q.kind === 'length' && typeof usual === 'number' ? onGrain(usual, grainOf(units)) : usual;
}

/**
 * A length that is written like an edge of its question is that edge: 0.008 in (0.2032 mm) where 0.20 mm is the most.
 */
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
  const { places: listed } = a;
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
