import type { CheckId, Finding } from '../checks/finding.ts';
import { partsIn, stageIndex } from '../checks/holes/stages.ts';
import type { Kind } from '../model/quantities.ts';
import { packRemedy } from '../remedies/offers/packing.ts';
import { type Draft, draft } from './act.ts';
import { minutesOf } from './minutes.ts';
import { fromRootOut, type Scope } from './scope.ts';
import { readActs } from './sizesToRead.ts';
import { listed } from './words.ts';

/*
 * Acts on the panel as it stands on its blocks: stood up again once parts were made, its blocks set straight, its
 * ribs squared, its twist packed out, and what that moved read again. Pins and pilots count as drilled: packs and
 * squaring say "pins out".
 */

const SQUARE: ReadonlySet<CheckId> = new Set<CheckId>(['lean', 'skew', 'diagonals']);
const TWIST: ReadonlySet<CheckId> = new Set<CheckId>(['twist', 'twist-step']);
/** Readings of how the panel stands: any act on it may move them. */
const STANCE: ReadonlySet<Kind> = new Set<Kind>(['heightOver', 'level', 'plumb', 'lean', 'skew']);

const ids = (findings: readonly Finding[]): string[] => findings.map((f) => f.id);

const openOf = ({ open, unread }: Scope, checks: ReadonlySet<CheckId>): Finding[] =>
  open.filter((f) => checks.has(f.check) && !unread.has(f.id));

/** Whether any hole is drilled through two parts: then pins hold them. */
const isPinned = ({ model }: Scope): boolean =>
  model.joints.some((j) => j.holes.some((h) => h.layers.filter((l) => l.state !== 'none').length >= 2));

const pinsOut = (scope: Scope, what: string): string => (isPinned(scope) ? `Pins out; then ${what}` : what);
const opened = (text: string): string => text.slice(0, 1).toUpperCase() + text.slice(1);

/** Whether a part stands in the panel at its present stage. */
function isInNow({ model }: Scope): (part: string) => boolean {
  return partsIn(model, stageIndex(model));
}

/** The panel stood up again, once parts of it were out to be made or bent. */
export function standActs(scope: Scope, metal: readonly Draft[]): Draft[] {
  const isIn = isInNow(scope);
  const out = metal.filter((d) => (d.kind === 'make' || d.kind === 'bend') && d.parts.some(isIn));
  if (out.length === 0) return [];
  const parts = [...new Set(out.flatMap((d) => d.parts))].filter(isIn);
  return [
    draft({
      key: 'stand',
      kind: 'dry-fit',
      phase: 'stand',
      what: `Stand it up again on its blocks, ${listed(parts)} in`,
      why: `${parts.length > 1 ? 'they come' : 'it comes'} out to be made`,
      brief: 'stand it up again',
      once: 'it stands again',
      minutes: minutesOf('stand', parts.length),
      parts,
      stations: fromRootOut(
        scope,
        out.flatMap((d) => d.stations),
      ),
      rests: out.map((d) => d.key),
    }),
  ];
}

/** How it stands, read anew where it was read before: taking it down has moved that. */
export function anewActs(scope: Scope, stand: readonly Draft[]): Draft[] {
  const [first] = stand;
  if (!first) return [];
  return readActs(scope, stanceRead(scope), {
    phase: 'survey',
    key: 'anew',
    why: 'it was taken down since it was read',
    again: true,
    rests: [first.key],
  });
}

const stanceRead = ({ model, skeleton }: Scope) =>
  [...new Set(model.readings.map((r) => r.size))].flatMap((key) => {
    const entry = skeleton.book.entryOf(key);
    return entry && STANCE.has(entry.kind) ? [{ key, settles: [] }] : [];
  });

/** A spar that bows, set straight on its blocks. */
export function straightenActs(scope: Scope): Draft[] {
  const findings = openOf(scope, new Set<CheckId>(['bow']));
  const bySpar = new Map<string, Finding[]>();
  for (const f of findings) bySpar.set(f.at.spar ?? '', [...(bySpar.get(f.at.spar ?? '') ?? []), f]);
  return [...bySpar].map(([spar, list]) => {
    const stations = fromRootOut(
      scope,
      list.map((f) => f.station),
    );
    return draft({
      key: `straighten:${spar}`,
      kind: 'dry-fit',
      phase: 'straighten',
      what: opened(
        pinsOut(scope, `set the ${spar} spar straight on its blocks at ${listed(stations)}, by hand pressure only`),
      ),
      why: list[0]?.said.fact ?? '',
      brief: `set the ${spar} spar straight`,
      once: `the ${spar} spar is straight`,
      tool: 'string',
      minutes: minutesOf('straighten', stations.length),
      parts: [spar],
      stations,
      settles: ids(list),
    });
  });
}

/** The ribs squared: those that do not stand square, and all of them where the panel is stood up again. */
export function squareActs(scope: Scope, stand: readonly Draft[]): Draft[] {
  const findings = openOf(scope, SQUARE);
  if (findings.length === 0 && stand.length === 0) return [];
  const off = findings.flatMap((f) => [f.at.station, f.at.to]);
  const all = scope.skeleton.bays.filter((b) => b.main ?? b.tip ?? b.nose).map((b) => b.station.id);
  const stations = fromRootOut(scope, stand.length > 0 ? all : off);
  return [
    draft({
      key: 'square',
      kind: 'square',
      phase: 'square',
      what: opened(pinsOut(scope, `square the ribs from the bench at ${listed(stations)}`)),
      why: findings[0]?.said.fact ?? 'they were out',
      brief: 'square the ribs',
      once: 'the ribs are square',
      tool: 'rafter square',
      minutes: minutesOf('square', stations.length),
      stations,
      settles: ids(findings),
      rests: stand.map((d) => d.key),
    }),
  ];
}

/** The twist packed out: by the packs on hand, else at the blocks. */
export function packActs(scope: Scope): Draft[] {
  const findings = openOf(scope, TWIST);
  if (findings.length === 0) return [];
  const remedies = packRemedy(scope.model);
  const [remedy] = remedies;
  const [worst] = [...findings].sort(
    (a, b) => Number(a.station !== null) - Number(b.station !== null) || b.chance - a.chance,
  );
  const stations = fromRootOut(scope, [...scope.model.survey.supports, ...findings.map((f) => f.station)]);
  const what = remedy?.name ?? 'take the twist out at the blocks: no pack on hand betters it';
  return [
    draft({
      key: 'pack',
      kind: 'pack',
      phase: 'pack',
      what: opened(pinsOut(scope, what)),
      why: worst?.said.fact ?? '',
      brief: 'pack the jig',
      once: 'the packs are in',
      tool: 'packs and height stand',
      minutes: minutesOf('pack', scope.model.survey.supports.length),
      stations,
      settles: ids(findings),
      remedies,
      rests: ['stand', 'square'],
    }),
  ];
}

/** What straightening, squaring and packing moved, read again. */
export function againActs(scope: Scope, moved: readonly Draft[]): Draft[] {
  if (moved.length === 0) return [];
  return readActs(scope, stanceRead(scope), {
    phase: 'again',
    key: 'again',
    why: `${moved.map((d) => d.once).join(' and ')} since it was read`,
    again: true,
    rests: moved.map((d) => d.key),
  });
}
