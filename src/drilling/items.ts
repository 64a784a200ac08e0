import { notedOn, noteText, settledByNote } from '../checks/accepting.ts';
import { type BasisWord, basisOfEvidence, basisOfFinding, basisOfRests, lookedAt, weakest } from '../checks/basis.ts';
import { worstFirst } from '../checks/checkAll.ts';
import { missingOf, type Rests, restsOn, restsTogether, todoOf, type Want, wantKey } from '../checks/evidence.ts';
import { feltToSettle } from '../checks/felt.ts';
import type { Basis, Finding } from '../checks/finding.ts';
import type { Model } from '../model/schema.ts';
import type { Skeleton } from '../parts/layout/layout.ts';
import { type GateAnswer, type GateItem, type ItemWords, item, NOTHING } from './gate.ts';

/*
 * One item of a gate from findings: what they say, and whether anybody looked. A finding at act says no, one in doubt
 * says unsettled; one that fits says yes only where what it rests on was looked at and nothing has moved it since.
 */

/** What an item is asked with, beside its words. */
export interface AskedItem {
  readonly skeleton: Skeleton;
  readonly findings: readonly Finding[];
  /** Things that must have been looked at besides what the findings rest on. */
  readonly wants?: readonly Want[];
  /** What to do where there is no finding at all. */
  readonly unread: string;
}

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

/** What to do first where a finding fits but nobody looked, or looked too early. */
function lookFirst(basis: Basis, missing: readonly Want[]): { answer: GateAnswer; first: string } {
  const todo = missing[0] ? todoOf(missing[0]) : 'read it';
  const others = missing.length > 1 ? `, and ${missing.length - 1} more` : '';
  const what = `${todo.slice(0, 1).toUpperCase()}${todo.slice(1)}`;
  if (basis === 'stale') return { answer: 'unsettled', first: `${what} again${others}: something has moved since.` };
  if (basis === 'asked')
    return { answer: 'unsettled', first: `${what} again${others}: it reads far off its neighbours.` };
  if (basis === 'predicted')
    return { answer: 'unsettled', first: `${what}${others}: it is worked out, not read since it was made.` };
  return { answer: 'not asked', first: `${what}${others}: nobody looked yet.` };
}

interface Looked {
  readonly rests: Rests;
  readonly basis: Basis;
  readonly missing: readonly Want[];
  /** The weakest of what they rest on, as it is said. */
  readonly said: BasisWord;
}

/** What several findings rest on together; each thing is counted once. */
function lookedTogether({ skeleton, findings, wants = [] }: AskedItem): Looked {
  const all = findings.map((f) => lookedAt(skeleton, f));
  const own = restsOn(skeleton, wants);
  const rests = restsTogether([own, ...all.map((e) => e.rests)]);
  const missing = [...missingOf(skeleton, wants), ...all.flatMap((e) => e.missing)];
  const bases = all.map((e) => e.basis);
  const basis: Basis =
    (['asked', 'stale', 'predicted', 'drawing'] as const).find((b) => bases.includes(b)) ??
    (missing.length > 0 ? 'mixed' : 'measured');
  const wanted = wants.length > 0 ? [basisOfRests(own)] : [];
  const said = weakest([...all.map(basisOfEvidence), ...wanted]);
  return { rests, basis, missing, said };
}

/** What may settle what its parts leave too close to call, once they are all read: the room felt as it stands. */
function settling(skeleton: Skeleton, worst: Finding): Want[] {
  if (worst.verdict !== 'unsettled') return [];
  const wants = feltToSettle(skeleton, worst).map((key) => wantKey(skeleton, key));
  return missingOf(skeleton, wants);
}

/** One item of a gate. */
export function askItem(words: ItemWords, asked: AskedItem): GateItem {
  const { skeleton, findings, unread } = asked;
  const { model } = skeleton;
  const [worst] = worstFirst(findings.filter((f) => !f.echoOf));
  const { rests, basis, missing, said } = lookedTogether(asked);
  if (!worst) return item(words, 'not asked', unread, rests, { asks: missing, basis: 'not asked' });
  if (worst.verdict === 'act' || worst.verdict === 'unsettled') {
    const answer = worst.verdict === 'act' ? 'no' : 'unsettled';
    const basis = basisOfFinding(skeleton, worst);
    const asks = missing.length > 0 ? missing : settling(skeleton, worst);
    return item(words, answer, worst.sentence, rests, { finding: worst, asks, basis, ...noted(model, worst) });
  }
  if (missing.length > 0 || basis !== 'measured') {
    const { answer, first } = lookFirst(basis, missing);
    return item(words, answer, first, rests, { finding: worst, asks: missing, basis: said });
  }
  return item(words, 'yes', '', rests, { finding: worst, basis: said, ...watched(model, findings) });
}

/** An item that rests on no finding. */
export const plainItem = (words: ItemWords, answer: GateAnswer, first: string, rests: Rests = NOTHING): GateItem =>
  item(words, answer, answer === 'yes' ? '' : first, rests);
