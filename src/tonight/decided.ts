import { tickOf } from '../model/edits/ticks.ts';
import { openDecisions } from '../model/edits/work.ts';
import type { Decision } from '../model/schema.ts';
import { capital } from '../units/capital.ts';
import { type ActKind, type Draft, draft } from './act.ts';
import { minutesOf } from './minutes.ts';
import { inSpanOrder, type Scope } from './scope.ts';
import { listed } from './words.ts';

/*
 * What was decided comes before what could be: it is made, the designer is asked where that was left open, and the
 * inspector is shown it before it is covered.
 */

/** What kind of work a decision is, by what it will do to the panel. */
function kindOf({ does }: Decision): ActKind {
  if (!does) return 'make';
  const puts = Object.values(does.put).some((list) => (list ?? []).length > 0);
  if (does.set.stock && !(does.put.ribs || does.put.doublers)) return 'pack';
  return puts && (does.put.ribs || does.put.doublers) ? 'make' : 'bend';
}

const PHASE_OF = { pack: 'pack', make: 'metal', bend: 'metal' } as const;

/** Minutes of something decided, whose remedies are known by name alone: an hour a place, picked, no source. */
const HOUR = 60;

/** Parts and stations among the places of a decision. */
function placesOf({ model }: Scope, { places }: Decision): { parts: string[]; stations: string[] } {
  const stations = new Set(model.stations.map((s) => s.id));
  return { parts: places.filter((p) => !stations.has(p)), stations: places.filter((p) => stations.has(p)) };
}

/** Whether someone must be asked about a decision and nobody was. */
const isUnasked = (d: Decision): boolean => d.ask.length > 0 && d.asked.trim() === '';

const askKey = (d: Decision): string => `ask:${d.id}`;

/** Whether a decision is about what others ride on: gaps over it are untrue until it is made. */
const isCause = ({ findings, lines }: Decision): boolean =>
  lines.some(({ check, finding }) => check === 'bend-ride' && findings.includes(finding));

/** A decision that is to be made. */
function toMake(scope: Scope, d: Decision): Draft {
  const kind = kindOf(d);
  const { parts, stations } = placesOf(scope, d);
  const phase = isCause(d) ? 'cause' : PHASE_OF[kind === 'pack' || kind === 'bend' ? kind : 'make'];
  return draft({
    key: `decided:${d.id}`,
    kind,
    phase,
    what: capital(d.what),
    why: d.why === '' ? 'it is decided and not made yet' : d.why,
    brief: 'do what was decided',
    once: `what was decided of ${listed(parts)} is made`,
    tool: null,
    minutes: HOUR * Math.max(1, parts.length),
    parts,
    stations,
    settles: d.findings,
    decision: d.id,
    rests: isUnasked(d) ? [askKey(d)] : [],
  });
}

/** Decisions to be made, oldest first. */
export const decidedActs = (scope: Scope): Draft[] => openDecisions(scope.model).map((d) => toMake(scope, d));

/** Decisions whose designer was not asked. */
export function askedActs(scope: Scope): Draft[] {
  return (scope.model.decisions ?? []).filter(isUnasked).map((d) => {
    const { parts, stations } = placesOf(scope, d);
    return draft({
      key: askKey(d),
      kind: 'ask',
      phase: 'ask',
      what: `Ask ${listed(d.ask)}: ${d.what}`,
      why: 'it changes the structure, and nobody was asked',
      brief: 'ask the designer',
      once: 'the designer has answered',
      minutes: minutesOf('ask', 1),
      parts,
      stations,
      settles: d.made === undefined ? [] : d.findings,
      decision: d.id,
    });
  });
}

const shownTick = (d: Decision): string => `show ${d.id}`;

/** What was changed and must be shown before it is covered, as one act; none once it is ticked. */
export function shownActs(scope: Scope): Draft[] {
  const all = (scope.model.decisions ?? []).filter(
    (d) => d.ask.length > 0 && d.made !== undefined && !tickOf(scope.model, shownTick(d)),
  );
  if (all.length === 0) return [];
  const places = all.map((d) => placesOf(scope, d));
  const parts = [...new Set(places.flatMap((p) => p.parts))];
  return [
    draft({
      key: 'show',
      kind: 'show',
      phase: 'close',
      what: `Show the inspector what was changed: ${listed(parts)}`,
      why: 'it is covered next',
      brief: 'show the inspector',
      once: 'the inspector has seen it',
      minutes: minutesOf('show', all.length),
      parts,
      stations: inSpanOrder(scope, [...new Set(places.flatMap((p) => p.stations))], (s) => ({ station: s, name: s })),
      ticks: all.map(shownTick),
    }),
  ];
}
