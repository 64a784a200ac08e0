import { notedOn, noteText, settledByNote } from '../checks/accepting.ts';
import { checkAll, worstFirst } from '../checks/checkAll.ts';
import type { Finding } from '../checks/finding.ts';
import { missingLayers, stageIndex } from '../checks/holes/stages.ts';
import { checkRow } from '../model/checkTable.ts';
import type { Model } from '../model/schema.ts';
import { skeletonOf } from '../parts/layout/skeleton.ts';
import { askHoles, type HoleAnswer } from './drill.ts';

/*
 * Ready gates: may I drill pilots, may I open to final, may I skin. Each is a list of yes, no or unsettled, with the first
 * thing to do. Not a certificate: the drawings, local rules and the inspector come first.
 */

export type GateAnswer = 'yes' | 'no' | 'unsettled';

export interface GateItem {
  readonly name: string;
  /** How it stands, as a fact: the name where it is so, what is the matter where it is not, that it is open where nobody knows. */
  readonly says: string;
  readonly answer: GateAnswer;
  /** First thing to do where the answer is not yes. */
  readonly first: string;
  /** The finding that decides: the worst that was asked. */
  readonly finding?: Finding;
  /** What was decided about it. A note never turns a no or an unsettled into a yes. */
  readonly note?: string;
}

export interface Gate {
  readonly id: 'pilots' | 'final' | 'skin';
  readonly question: string;
  /** yes only when every item is. */
  readonly answer: GateAnswer;
  readonly items: readonly GateItem[];
}

/** What each item looks at, and what to do when nothing was read for it. */
const ITEMS = {
  together: {
    name: 'the parts go together',
    not: 'the parts do not go together yet',
    unread: 'No rib stands between two spars yet: nothing was asked.',
  },
  square: {
    name: 'the ribs stand square',
    not: 'the ribs do not stand square',
    unread: 'Square every rib from the bench, and read lean, skew or the bay diagonals.',
  },
  straight: {
    name: 'the spars are straight',
    not: 'the spars are not straight',
    unread: 'Read the spars against a string line.',
  },
  twist: {
    name: 'the twist is out',
    not: 'the twist is not out',
    unread: 'Read the heights of both spars, or a level on the chord.',
  },
  edges: {
    name: 'the rows have edge and pitch',
    not: 'a row lacks edge or pitch',
    unread: '',
  },
  corners: {
    name: 'no corner sits on a notch, no bend is too tight',
    not: 'a corner sits on a notch, or a bend is too tight',
    unread: '',
  },
  noses: { name: 'no nose kinks', not: 'a nose kinks', unread: '' },
  steps: {
    name: 'the skin will lie without a step',
    not: 'the skin would lie on a step',
    unread: '',
  },
  grip: { name: 'the rivets fit their layers', not: 'a rivet does not fit its layers', unread: '' },
  cleanup: {
    name: 'every hole cleans up',
    not: 'a hole does not clean up',
    unread: 'No hole goes through two layers yet: pilots first.',
  },
  agree: {
    name: 'the readings agree',
    not: 'readings do not agree',
    unread: '',
  },
} as const satisfies Record<string, { name: string; not: string; unread: string }>;

type ItemId = keyof typeof ITEMS;

/** The note left on the finding that decides; it says so, and the answer stays. */
function noted(model: Model, worst: Finding): { note?: string } {
  const note = notedOn(model, worst);
  return note ? { note: `${noteText(note)} It still counts.` } : {};
}

/** How many of the places to watch were accepted with a note. */
function watched(model: Model, asked: readonly Finding[]): { note?: string } {
  const watch = asked.filter((f) => f.verdict === 'watch');
  const accepted = watch.filter((f) => settledByNote(model, f)).length;
  return accepted === 0 ? {} : { note: `${accepted} of ${watch.length} to watch accepted with a note.` };
}

const unsettledOf = (name: string): string => `not settled whether ${name}`;

function judgeItem(model: Model, id: ItemId, findings: readonly Finding[]): GateItem {
  const { name, not, unread } = ITEMS[id];
  const asked = findings.filter((f) => checkRow(f.check).gate === id && !f.echoOf);
  if (asked.length === 0)
    return unread
      ? { name, says: unsettledOf(name), answer: 'unsettled', first: unread }
      : { name, says: name, answer: 'yes', first: '' };
  const worst = worstFirst(asked)[0]!;
  if (worst.verdict === 'act')
    return { name, says: not, answer: 'no', first: worst.sentence, finding: worst, ...noted(model, worst) };
  if (worst.verdict === 'unsettled')
    return {
      name,
      says: unsettledOf(name),
      answer: 'unsettled',
      first: worst.sentence,
      finding: worst,
      ...noted(model, worst),
    };
  return { name, says: name, answer: 'yes', first: '', finding: worst, ...watched(model, asked) };
}

/** Holes opened in some layers before the last one is in: the thing that cannot be undone. */
function early(holes: readonly HoleAnswer[]): GateItem {
  const name = 'no hole was opened too soon';
  const opened = holes.filter((h) => h.layers.some((l) => l.state === 'opened early'));
  if (opened.length === 0) return { name, says: name, answer: 'yes', first: '' };
  const h = opened[0]!;
  return {
    name,
    says: 'a hole was opened too soon',
    answer: 'no',
    first: `${h.joint.id} hole ${h.hole.id} is final in some layers and not in others: ${h.why}.`,
  };
}

function layersIn(model: Model, holes: readonly HoleAnswer[], at: number): GateItem {
  const name = 'every layer is in';
  const waiting = holes.find((h) => missingLayers(model, h.joint, at).length > 0);
  if (!waiting) return { name, says: name, answer: 'yes', first: '' };
  return {
    name,
    says: 'a layer is not in yet',
    answer: 'no',
    first: `${waiting.joint.id} still wants ${missingLayers(model, waiting.joint, at).join(', ')}${waiting.earliest ? `, in at “${waiting.earliest}”` : ''}.${model.stages[at] ? ` The stage is “${model.stages[at]!.name}”.` : ''}`,
  };
}

function allFinal(holes: readonly HoleAnswer[]): GateItem {
  const name = 'every hole is final and deburred';
  const open = holes.filter((h) => h.state !== 'done');
  return open.length === 0
    ? { name, says: name, answer: 'yes', first: '' }
    : {
        name,
        says: 'not every hole is final and deburred',
        answer: 'no',
        first: `${open.length} of ${holes.length} holes are not final yet, ${open[0]!.joint.id} hole ${open[0]!.hole.id} first.`,
      };
}

function gate(id: Gate['id'], question: string, items: readonly GateItem[]): Gate {
  const answer = items.some((i) => i.answer === 'no')
    ? 'no'
    : items.some((i) => i.answer === 'unsettled')
      ? 'unsettled'
      : 'yes';
  return { id, question, answer, items };
}

/** The three gates of a panel at a stage, the present one unless told. */
export function gatesOf(model: Model, stage?: string): readonly [Gate, Gate, Gate] {
  const findings = checkAll(model);
  const holes = askHoles(skeletonOf(model), { stage });
  const ask = (...ids: ItemId[]): GateItem[] => ids.map((id) => judgeItem(model, id, findings));
  return [
    gate('pilots', 'May I drill pilots?', [
      ...ask('agree', 'together', 'square', 'straight', 'twist', 'edges'),
      early(holes),
    ]),
    gate('final', 'May I open to final?', [
      ...ask('agree', 'together', 'square', 'twist', 'cleanup', 'edges'),
      layersIn(model, holes, stageIndex(model, stage)),
      early(holes),
    ]),
    gate('skin', 'May I skin?', [...ask('together', 'twist', 'noses', 'steps', 'corners', 'grip'), allFinal(holes)]),
  ];
}
