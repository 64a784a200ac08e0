import type { CheckId, Finding } from '../checks/finding.ts';
import { checkName } from '../checks/questions.ts';
import { type Draft, draft } from './act.ts';
import { minutesOf } from './minutes.ts';
import { fromRootOut, type Scope } from './scope.ts';
import { counted, listed } from './words.ts';

/*
 * What only the designer can say: whether a piece may go in, and what to do where the trade knows no remedy.
 */

/** One call to the designer about everything that changes the structure; what needs it rests on it. */
export function permission(scope: Scope, metal: readonly Draft[]): { ask: Draft[]; metal: Draft[] } {
  const needs = metal.filter((d) => d.remedies.some((r) => r.askDesigner));
  if (needs.length === 0) return { ask: [], metal: [...metal] };
  const parts = [...new Set(needs.flatMap((d) => d.parts))];
  const names = needs.flatMap((d) => d.remedies.filter((r) => r.askDesigner).map((r) => r.name));
  const ask = draft({
    key: 'ask:designer',
    kind: 'ask',
    phase: 'ask',
    what: `Ask the designer: ${listed(names)}`,
    why: `${names.length > 1 ? 'they change' : 'it changes'} the structure`,
    brief: 'ask the designer',
    once: 'the designer has answered',
    minutes: minutesOf('ask', names.length),
    parts,
    stations: fromRootOut(
      scope,
      needs.flatMap((d) => d.stations),
    ),
  });
  const then = metal.map((d) => (needs.includes(d) ? { ...d, rests: [...d.rests, ask.key] } : d));
  return { ask: [ask], metal: then };
}

/** Findings that no act answers and that hang on no other, one act a question. */
export function unansweredActs(scope: Scope, answered: ReadonlySet<string>): Draft[] {
  const byCheck = new Map<CheckId, Finding[]>();
  for (const f of scope.open) {
    if (answered.has(f.id)) continue;
    byCheck.set(f.check, [...(byCheck.get(f.check) ?? []), f]);
  }
  return [...byCheck].map(([check, findings]) => {
    const places = fromPlaces(findings);
    return draft({
      key: `ask:${check}`,
      kind: 'ask',
      phase: 'ask',
      what: `Ask the designer about ${checkName(check)} at ${listed(places)}`,
      why: findings[0]?.said.fact ?? '',
      brief: `ask the designer about ${counted(places.length, 'place')}`,
      once: `the designer has answered about ${checkName(check)}`,
      minutes: minutesOf('ask', places.length),
      parts: [...new Set(findings.flatMap((f) => f.at.doubler ?? f.at.part ?? f.at.joint ?? []))],
      stations: fromRootOut(
        scope,
        findings.map((f) => f.station),
      ),
      settles: findings.map((f) => f.id),
    });
  });
}

const fromPlaces = (findings: readonly Finding[]): string[] => [...new Set(findings.map((f) => f.place))];
