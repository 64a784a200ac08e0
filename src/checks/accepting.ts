import { checkRow } from '../model/checkTable.ts';
import type { Decision, Model } from '../model/schema.ts';
import { skeletonOf } from '../parts/layout/skeleton.ts';
import { pieceOf } from './at.ts';
import { checkAll, worstFirst } from './checkAll.ts';
import { type Finding, severity } from './finding.ts';

/*
 * Asks: may this be left as it is? The trade's conditions for accepting a place, all of which must hold; what the
 * sizes can tell is told, what only the builder sees is left to the builder. Otherwise it stays open. To accept or to
 * leave open is a decision with a note: the finding keeps its verdict and its sentence, and nothing is hidden.
 */

export interface Condition {
  readonly what: string;
  /** true or false where the sizes tell; undefined where only the builder can say. */
  readonly holds: boolean | undefined;
  /** What speaks against it. */
  readonly against?: string;
}

const good = (f: Finding): boolean => f.verdict === 'fits' || f.verdict === 'watch';

/** The mark of what a finding is about. */
const markOf = ({ at }: Finding): string => pieceOf(at) ?? at.spar ?? at.station ?? 'the panel';

function ofPart(model: Model, f: Finding): Condition {
  const here = worstFirst(
    checkAll(model).filter((o) => o.id === f.id || (o.station === f.station && markOf(o) === markOf(f))),
  );
  const bad = here.find((o) => !good(o));
  return {
    what: `nothing about ${markOf(f)} is worse than watch`,
    holds: !bad,
    ...(bad ? { against: `${bad.said.fact}.` } : {}),
  };
}

function neighbours(model: Model, f: Finding): Condition {
  const { bays } = skeletonOf(model);
  const at = bays.findIndex((b) => b.station.id === f.station);
  const near = new Set(at < 0 ? [] : bays.slice(Math.max(0, at - 1), at + 2).map((b) => b.station.id));
  const bad = worstFirst(
    checkAll(model).filter((o) => o.check === 'nose-kink' && o.station !== null && near.has(o.station)),
  ).find((o) => !good(o));
  return {
    what: 'the noses here and beside it agree within the kink limit',
    holds: !bad,
    ...(bad ? { against: `${bad.said.fact}.` } : {}),
  };
}

function gripped(model: Model, f: Finding): Condition {
  const bad = checkAll(model).find((o) => o.check === 'grip' && o.station === f.station && !good(o));
  return { what: 'no rivet here goes out of its grip', holds: !bad, ...(bad ? { against: `${bad.said.fact}.` } : {}) };
}

/** The trade's conditions for leaving a finding as it is, in their order. */
export function conditionsFor(model: Model, f: Finding): readonly Condition[] {
  const bracket = model.brackets.find((b) => b.station === f.station);
  const signed = !checkRow(f.check).daylight || f.value >= 0;
  return [
    { what: 'it closes with finger and thumb, or one light clamp', holds: undefined },
    ofPart(model, f),
    {
      what: 'it is off the better way: daylight, not metal in the same place',
      holds: signed,
      ...(signed ? {} : { against: `${f.said.fact}.` }),
    },
    gripped(model, f),
    neighbours(model, f),
    {
      what: 'no fitting, hinge or strut sits here',
      holds: !bracket,
      ...(bracket ? { against: `Bracket ${bracket.id} sits at ${bracket.station}.` } : {}),
    },
    { what: 'the inspector can still see it', holds: undefined },
  ];
}

/** What was decided about a finding last, and whether that still stands. */
export interface Noted {
  readonly decision: Decision;
  /** False once the place has moved by more than its uncertainty, or its verdict is worse than when it was decided. */
  readonly stands: boolean;
}

/** The note on a finding that was accepted or left open, if there is one. */
export function notedOn(model: Model, f: Finding): Noted | undefined {
  const decision = model.decisions?.findLast((d) => d.kind !== 'taken' && d.findings.includes(f.id));
  if (!decision) return undefined;
  const was = decision.lines.find((l) => l.finding === f.id)?.before;
  const stands =
    was !== undefined &&
    Math.abs(was.value - f.value) <= Math.max(f.u, 1e-6) &&
    severity(f.verdict) <= severity(was.verdict);
  return { decision, stands };
}

/** The note in one sentence, beside the finding's own: `Accepted on 2026-06-06: closes by finger.` */
export function noteText({ decision, stands }: Noted): string {
  const said = decision.kind === 'accepted' ? 'Accepted' : 'Left open';
  const note = `${said}${decision.date ? ` on ${decision.date}` : ''}: ${decision.why || 'no reason given'}${/[.!?]$/.test(decision.why) ? '' : '.'}`;
  return stands ? note : `${note} It has moved since: decide again.`;
}

/**
 * Whether a finding counts as decided: at worst watch, accepted, and unchanged since. An act or an unsettled one
 * never does.
 */
export function settledByNote(model: Model, f: Finding): boolean {
  const noted = notedOn(model, f);
  return noted?.stands === true && noted.decision.kind === 'accepted' && good(f);
}
