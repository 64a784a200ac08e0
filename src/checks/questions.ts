import { CHECKS, checkRow, checksWhere } from '../model/checkTable.ts';
import { countVerdicts, worstFirst } from './checkAll.ts';
import type { CheckId, Finding, Verdict } from './finding.ts';

/** The plain questions that findings answer. */
export type Question = 'tonight' | 'build' | 'measure' | 'fit' | 'remedy' | 'drill' | 'true' | 'helper';

/**
 * The checks a question asks, in the order their marks stand on the rail; Build and Measure look at all of them,
 * Helper at none.
 */
export function checksOf(question: Question): readonly CheckId[] {
  switch (question) {
    case 'helper':
      return [];
    case 'build':
    case 'measure':
    case 'remedy':
    case 'tonight':
      return checksWhere((row) => row.asks !== 'solids');
    default:
      return checksWhere((row) => row.asks === question);
  }
}

/** What a check is called on the screen; its id, where an older file names one there is no more. */
export const checkName = (check: string): string => (check in CHECKS ? checkRow(check as CheckId).name : check);

/** Findings of one check that need the same thing, worst first. */
export interface Group {
  readonly check: CheckId;
  readonly verdict: Verdict;
  readonly worst: Finding;
  readonly all: readonly Finding[];
}

/** Findings gathered by check and verdict, worst group first; what fits is left out. */
export function groupsOf(findings: readonly Finding[]): Group[] {
  const groups = new Map<string, { worst: Finding; all: Finding[] }>();
  for (const f of worstFirst(findings)) {
    if (f.verdict === 'fits') continue;
    const key = `${f.verdict} ${f.check}`;
    const group = groups.get(key);
    if (group) group.all.push(f);
    else groups.set(key, { worst: f, all: [f] });
  }
  return [...groups.values()].map(({ worst, all }) => ({ check: worst.check, verdict: worst.verdict, worst, all }));
}

const NUMBERS = [
  'No',
  'One',
  'Two',
  'Three',
  'Four',
  'Five',
  'Six',
  'Seven',
  'Eight',
  'Nine',
  'Ten',
  'Eleven',
  'Twelve',
];
const count = (n: number, one: string, many: string): string => `${NUMBERS[n] ?? n} ${n === 1 ? one : many}`;

/** At how many stations, or places of the whole panel, something has a verdict. */
function placesOf(findings: readonly Finding[], verdict: Verdict): number {
  return new Set(findings.filter((f) => f.verdict === verdict).map((f) => f.station ?? f.place)).size;
}

/** The question's answer in one or two short sentences: how many places need work, how many are too close to call. */
export function headline(question: Question, findings: readonly Finding[]): string {
  const counts = countVerdicts(findings);
  if (findings.length === 0)
    return question === 'true' ? 'Nothing was read that could tell.' : 'Nothing to check here yet.';
  if (question === 'measure')
    return counts.unsettled === 0
      ? 'Stop measuring: every verdict is settled.'
      : `${count(counts.unsettled, 'answer hangs', 'answers hang')} on a better measurement.`;
  const act = placesOf(
    findings.filter((f) => !f.echoOf),
    'act',
  );
  const unread = findings.filter((f) => f.verdict === 'unsettled' && f.basis === 'drawing').length;
  const close = counts.unsettled - unread;
  const said = [act === 0 ? 'Nothing must be put right.' : `${count(act, 'place needs', 'places need')} work.`];
  if (close > 0) said.push(`${count(close, 'answer is', 'answers are')} too close to call.`);
  if (unread > 0) said.push(`${count(unread, 'waits', 'wait')} for a measurement.`);
  const first = said.join(' ');
  if (counts.unsettled > 0 || act > 0) return first;
  if (counts.watch > 0) return `${first} ${count(placesOf(findings, 'watch'), 'place', 'places')} to watch.`;
  return findings.every((f) => f.basis === 'drawing')
    ? 'By the drawing everything fits; nothing of it is measured yet.'
    : 'Everything fits.';
}
