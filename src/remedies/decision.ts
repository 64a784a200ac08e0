import { conditionsFor } from '../checks/accepting.ts';
import { checkAll } from '../checks/checkAll.ts';
import { show } from '../checks/describe.ts';
import type { Finding } from '../checks/finding.ts';
import type { Edit } from '../model/edits/edits.ts';
import { asDecided, workBetween } from '../model/edits/work.ts';
import type { Decision, DecisionLine, Model, Work } from '../model/schema.ts';
import { roomsMoved } from './carried.ts';
import { changesBetween, type FindingChange } from './effect.ts';
import type { Remedy, RemedyKind } from './remedy.ts';

/*
 * What was decided, and why: a line in the file for every remedy taken and every place left as it is, with what it
 * changed. It is written in the same Edit as the remedy, so that undo takes both back.
 */

/** What the builder says with a decision. */
export interface SaidWith {
  readonly why: string;
  /** Who was asked and what they said; empty while nobody was. */
  readonly asked: string;
  /** YYYY-MM-DD, by the clock of whoever calls. */
  readonly date: string;
}

const MOST_LINES = 300;

const judged = (model: Model, f: Finding): NonNullable<DecisionLine['before']> => ({
  value: f.value,
  verdict: f.verdict,
  text: `${show(model, Math.abs(f.value), f.unit)}, ${f.sense}`,
});

function linesOf(model: Model, { id, before, after }: FindingChange): DecisionLine[] {
  const finding = after ?? before;
  if (!finding) return [];
  const line = {
    finding: id,
    place: finding.place,
    check: finding.check,
    ...(before ? { before: judged(model, before) } : {}),
    ...(after ? { after: judged(model, after) } : {}),
  };
  return [line];
}

/** `d1`, `d2` … : the next name no decision has yet. */
function nextName(model: Model): string {
  const taken = new Set(model.decisions?.map((d) => d.id));
  for (let i = taken.size + 1; ; i++) if (!taken.has(`d${i}`)) return `d${i}`;
}

function written(model: Model, decision: Omit<Decision, 'id'>): Model {
  return { ...model, decisions: [...(model.decisions ?? []), { id: nextName(model), ...decision }] };
}

/** Who must be asked before any of these remedies is done, and shown it. */
export function whoToAsk(remedies: readonly Pick<Remedy, 'askDesigner'>[]): string[] {
  return remedies.some((r) => r.askDesigner) ? ['the designer', 'the inspector, before it is covered'] : [];
}

/** What a remedy is, without what it does. */
export type Named = Pick<Remedy, 'id' | 'kind' | 'name' | 'station' | 'part' | 'askDesigner' | 'cost' | 'note'>;

/** What is taken: one remedy, or a plan of several with a name. */
export interface Taking {
  readonly remedies: readonly Named[];
  /** All of them done, one after the other. */
  readonly apply: (model: Model) => Model;
  /** Of a plan; one remedy goes by its own. */
  readonly name?: string | undefined;
  /** What is done in one breath; absent: the name, if any, and every remedy's. */
  readonly what?: string | undefined;
  /** In the log's words; absent: the plan's or the remedy's name. */
  readonly past?: string | undefined;
  /** Ids of the findings it is taken for. */
  readonly findings: readonly string[];
}

/**
 * Doubt of the work itself, one standard uncertainty, mm: picked starting values. A packer or a shim is as its sheet.
 */
const DOUBT: Partial<Record<RemedyKind, number>> = {
  shorter: 0.3,
  joggle: 0.25,
  flange: 0.25,
  trim: 0.3,
  remake: 0.3,
  fit: 0.3,
  easier: 0.3,
  packs: 0.1,
  packing: 0.1,
};

/** The greatest doubt of several remedies done together. */
const doubtOf = (remedies: readonly Named[]): number => Math.max(0, ...remedies.map((r) => DOUBT[r.kind] ?? 0));

/** What is to be done, with the rooms it moves that can be read directly: they are worked out until they are. */
function workOf(before: Model, after: Model, doubt: number): Work {
  const work = workBetween(before, after, doubt);
  const known = new Set(work.moves.map((m) => m.size));
  const rooms = roomsMoved(before, after).filter((m) => !known.has(m.size));
  return { ...work, moves: [...work.moves, ...rooms.map((m) => ({ ...m, u: doubt }))] };
}

/** Remedies as something to take. */
export function takingOf(remedies: readonly Remedy[], findings: readonly string[], name?: string): Taking {
  const [only, ...more] = remedies;
  const past = more.length === 0 && name === undefined ? only?.edit.name : undefined;
  return { remedies, findings, name, past, apply: (m) => remedies.reduce((now, r) => r.edit.apply(now), m) };
}

/**
 * Decides on remedies: writes down what was chosen, why, who was asked, every chain that will move and what is to be
 * done. The panel itself does not change until it is ticked as made. Decided after another, it is worked out on top
 * of that one.
 */
export function taken({ remedies, apply, name, past, findings, ...taking }: Taking, said: SaidWith): Edit {
  const all = [name, remedies.map((r) => r.name).join('; ')].filter(Boolean).join(': ');
  const { what = all } = taking;
  return {
    name: past ?? `took ${name === undefined ? what : `the plan “${name}”`}`,
    quiet: true, // the decision keeps its own day
    apply: (m) => {
      const standing = asDecided(m);
      const after = apply(standing);
      const changes = changesBetween(standing, after);
      const asked = new Set(findings);
      const ordered = [...changes.filter((c) => asked.has(c.id)), ...changes.filter((c) => !asked.has(c.id))];
      return written(m, {
        kind: 'taken',
        what: clipped(what),
        why: said.why,
        ask: whoToAsk(remedies),
        asked: said.asked,
        date: said.date,
        remedies: remedies.map((r) => r.id),
        findings: [...findings],
        places: [...new Set(remedies.flatMap((r) => [r.station, r.part]))],
        lines: ordered.slice(0, MOST_LINES).flatMap((c) => linesOf(m, c)),
        does: workOf(standing, after, doubtOf(remedies)),
      });
    },
  };
}

const clipped = (text: string): string => (text.length > 480 ? `${text.slice(0, 480)}…` : text);

/**
 * Leaves a finding as it is, with a note. It counts as accepted only when every condition of the trade holds: those
 * the sizes tell, and those the builder has `seen`; else it is written down as left open. The finding itself does not
 * change.
 */
export function leave(model: Model, f: Finding, said: SaidWith, seen: boolean): Edit {
  const holds = conditionsFor(model, f).every((c) => c.holds ?? seen);
  return {
    name: `${holds ? 'accepted' : 'left open'}: ${f.place}, ${f.check.replaceAll('-', ' ')}`,
    quiet: true,
    apply: (m) => {
      const now = checkAll(m).find((x) => x.id === f.id) ?? f;
      return written(m, {
        kind: holds ? 'accepted' : 'left-open',
        what: `${holds ? 'accept' : 'leave open'} ${f.place}, ${f.check.replaceAll('-', ' ')}`,
        why: said.why,
        ask: holds ? [] : ['the designer'],
        asked: said.asked,
        date: said.date,
        remedies: [],
        findings: [f.id],
        places: [...(f.station === null ? [] : [f.station]), f.place],
        lines: [{ finding: f.id, place: f.place, check: f.check, before: judged(m, now) }],
      });
    },
  };
}

/** Writes who was asked into a decision already made. */
export function askedLater(id: string, asked: string): Edit {
  return {
    name: `wrote down who was asked about ${id}`,
    apply: (m) => (m.decisions ? { ...m, decisions: m.decisions.map((d) => (d.id === id ? { ...d, asked } : d)) } : m),
  };
}
