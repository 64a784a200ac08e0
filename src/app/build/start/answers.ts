import { useMemo, useState } from 'react';
import { writeModel } from '../../../model/file/write.ts';
import type { Model } from '../../../model/schema.ts';
import { readAnswer } from '../../../model/starts/answered.ts';
import {
  type AnswerValue,
  askedBy,
  complete,
  type Start,
  type StartAnswers,
  type StartQuestion,
  unitsOf,
} from '../../../model/starts/asked.ts';
import { easesMeant, ribMade } from '../../../model/starts/eased.ts';
import { startPanel } from '../../../model/starts/starts.ts';
import { inches } from '../../../units/convert.ts';
import { formatBoth } from '../../../units.ts';
import { useApp } from '../../state/store.ts';
import { useDesk } from '../desk.ts';

/* What is typed into the questions of a start, read; and the panel it makes. */

type Typed = Readonly<Record<string, string>>;
const NOTHING_TYPED: Typed = {};

/** What is typed for each question of a start. */
export const useTyped = (start: Start): Typed => useDesk((s) => s.typed[start.id] ?? NOTHING_TYPED);

/** Puts a text into the box of a question, which is then the one in hand. */
export function putText(start: Start, question: string, text: string): void {
  const { typed, set } = useDesk.getState();
  set({ typed: { ...typed, [start.id]: { ...typed[start.id], [question]: text } }, question });
}

/** A length as it stands in a box: `96`, or `3.78` for 96.012 mm on a drawing in inches. */
function figures(mm: number, units: Model['units']): string {
  const [figure, digits] = units === 'in' ? [inches(mm), 5] : [mm, 4];
  return String(Number(figure.toFixed(digits)));
}

/** How an answer stands in its box: places with two blanks between, a length with the unit of the drawing. */
export function written(q: StartQuestion, value: AnswerValue, units: Model['units']): string {
  if (typeof value === 'object') return value.map((v) => figures(v, units)).join('  ');
  return q.kind === 'length' && typeof value === 'number' ? `${figures(value, units)} ${units}` : String(value);
}

/** Answers as far as they can be read; what cannot keeps its usual answer until it can. */
interface Read {
  readonly answers: StartAnswers;
  readonly units: Model['units'];
  /** What could not be read, by question. */
  readonly faults: Readonly<Record<string, string>>;
}

function read(start: Start, typed: Typed): Read {
  const units = unitsOf(typed);
  const answers: Record<string, AnswerValue> = {};
  const faults: Record<string, string> = {};
  for (const q of start.groups.flatMap((g) => g.questions)) {
    const text = typed[q.id];
    if (text === undefined) continue;
    const answer = readAnswer(q, text, units);
    if (answer.ok) answers[q.id] = answer.value;
    else faults[q.id] = answer.sentence;
  }
  return { answers: easesMeant(start, complete(start, answers)), units, faults };
}

/** The panel of the usual answers alone. */
export function usualPanel(start: Start): Model {
  const made = startPanel(start, {});
  if (!made.ok) throw new Error(`${start.name}: ${made.doubts.map((d) => d.sentence).join(' ')}`);
  return made.model;
}

/** The questions of a start as they are answered now. */
export interface Answered extends Read {
  readonly start: Start;
  /** Questions asked, given the other answers. */
  readonly asked: ReadonlySet<string>;
  /** What is wrong with an answer, by question. */
  readonly wrong: ReadonlyMap<string, string>;
  /** The panel made of the answers; the last that could be made while something is wrong with one. */
  readonly laid: Model;
}

export function useAnswered(start: Start): Answered {
  const typed = useTyped(start);
  const answered = useMemo(() => read(start, typed), [start, typed]);
  const made = useMemo(() => startPanel(start, answered.answers), [start, answered]);
  const [laid, lay] = useState(() => (made.ok ? made.model : usualPanel(start)));
  if (made.ok && made.model !== laid) lay(made.model);
  return useMemo(() => {
    const asked = new Set(askedBy(start, answered.answers).map((q) => q.id));
    const doubts = made.ok ? [] : made.doubts.map((d) => [d.id, d.sentence] as const);
    const faults = Object.entries(answered.faults).filter(([id]) => asked.has(id));
    return { ...answered, start, asked, wrong: new Map([...doubts, ...faults]), laid: made.ok ? made.model : laid };
  }, [start, answered, made, laid]);
}

/** What an ease comes to, to be held against the drawing: the first rib's own height or length. */
export function comesTo(q: StartQuestion, laid: Model): string | undefined {
  const made = ribMade(laid);
  if (q.id === 'easeHeight' && made.height !== undefined)
    return `${made.end} comes out ${formatBoth(made.height)} high.`;
  if (q.id === 'easeLength' && made.length !== undefined)
    return `${made.rib} comes out ${formatBoth(made.length)} long.`;
  return undefined;
}

/**
 * Lays the panel on the bench, where nothing is wrong with its answers: it is opened, and its stations are laid out.
 */
export function layOnBench({ start, wrong, laid }: Answered): void {
  if (wrong.size > 0) return;
  if (!useApp.getState().open(writeModel(laid), `a new ${start.name.toLowerCase()}`)) return;
  const { typed, set, open } = useDesk.getState();
  set({ start: null, typed: { ...typed, [start.id]: NOTHING_TYPED }, question: null });
  open('stations');
  window.scrollTo({ top: 0 });
}
