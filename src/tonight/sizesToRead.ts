import { INSTRUMENTS, type Kind, QUANTITIES } from '../model/quantities.ts';
import type { Model } from '../model/schema.ts';
import type { SizeEntry } from '../model/sizeEntries.ts';
import { instrumentUncertainty } from '../model/sizes.ts';
import { type Draft, draft, type Phase, type ToRead } from './act.ts';
import { fromRootOut, inSpanOrder, type Scope } from './scope.ts';
import { counted, listed } from './words.ts';

/*
 * Sizes to read, those of one kind and one state of the panel as one act.
 */

/** Sizes that are read on loose parts; all others as the panel stands. */
const LOOSE: ReadonlySet<Kind> = new Set<Kind>([
  'thickness',
  'depth',
  'clear',
  'cap',
  'droop',
  'height',
  'open',
  'joggle',
  'width',
  'row',
  'relief',
  'length',
  'noseLength',
  'tipLength',
  'radius',
  'hole',
]);
/** Sizes that are read row by row, once there are holes. */
const OF_ROWS: ReadonlySet<Kind> = new Set<Kind>(['offset', 'edge']);

/** When a size is read. */
function phaseOf(kind: Kind): Phase {
  if (OF_ROWS.has(kind)) return 'look';
  return LOOSE.has(kind) ? 'loose' : 'survey';
}

/** The instrument a size was read with, else the usual one. */
function instrumentFor({ model, skeleton }: Scope, { key, kind }: SizeEntry): string {
  const had = skeleton.book.readingsOf(key).at(-1)?.instrument;
  const [usual = ''] = Object.keys(QUANTITIES[kind].u);
  return had !== undefined && isKnown(model, kind, had) ? had : usual;
}

const isKnown = (model: Model, kind: Kind, instrument: string): boolean =>
  instrumentUncertainty(model, kind, instrument) !== undefined;

export const instrumentWord = (id: string): string => INSTRUMENTS[id] ?? id;
const withA = (instrument: string): string => {
  const word = instrumentWord(instrument);
  return `with ${/^[aeiou]/.test(word) ? 'an' : 'a'} ${word}`;
};

/** A size that is wanted, and the findings it speaks for. */
export interface Wanted {
  readonly key: string;
  readonly settles: readonly string[];
  readonly instrument?: string;
}

interface Known extends ToRead {
  readonly entry: SizeEntry;
  readonly settles: readonly string[];
}

/** Each size once, with all it speaks for; sizes the panel does not have are left out. */
function known(scope: Scope, wanted: readonly Wanted[]): Known[] {
  const all = new Map<string, Known>();
  for (const { key, settles, instrument } of wanted) {
    const entry = scope.skeleton.book.entryOf(key);
    if (!entry) continue;
    const had = all.get(key);
    all.set(key, {
      size: key,
      entry,
      instrument: had?.instrument ?? instrument ?? instrumentFor(scope, entry),
      settles: [...new Set([...(had?.settles ?? []), ...settles])],
    });
  }
  return inSpanOrder(scope, [...all.values()], ({ entry }) => ({ station: entry.of.station, name: entry.key }));
}

interface Grouping {
  /** When they are read; by their kind unless told. */
  readonly phase?: Phase;
  /** Start of the acts' keys. */
  readonly key: string;
  readonly why: string;
  readonly again?: boolean;
  readonly rests?: readonly string[];
}

/** Where sizes of one kind are: at their parts, else at their stations. */
function placesOf(list: readonly Known[]): string {
  const parts = [...new Set(list.flatMap(({ entry }) => entry.of.part ?? entry.of.joint ?? entry.of.sheet ?? []))];
  if (parts.length > 0) return `of ${listed(parts)}`;
  const stations = [...new Set(list.flatMap(({ entry }) => entry.of.station ?? entry.of.from ?? []))];
  return stations.length > 0 ? `at ${listed(stations)}` : '';
}

function whatOf(list: readonly Known[], again: boolean): string {
  const [first] = list;
  if (!first) return '';
  const how = `${again ? ' again' : ''} ${withA(first.instrument)}`;
  if (list.length === 1) return `Read the ${first.entry.name}${how}`;
  return `Read the ${QUANTITIES[first.entry.kind].name} ${placesOf(list)}${how}: ${counted(list.length, 'size')}`;
}

function readAct(scope: Scope, kind: Kind, list: readonly Known[], { phase, key, why, again, rests }: Grouping): Draft {
  return draft({
    key: `${key}:${kind}`,
    kind: 'read',
    phase: phase ?? phaseOf(kind),
    what: whatOf(list, again ?? false),
    why,
    brief: `read ${counted(list.length, 'size')}`,
    once: `${list[0]?.entry.name ?? kind} is read`,
    tool: instrumentWord(list[0]?.instrument ?? ''),
    minutes: list.length * QUANTITIES[kind].minutes,
    parts: [...new Set(list.flatMap(({ entry }) => entry.of.part ?? []))],
    stations: fromRootOut(
      scope,
      list.map(({ entry }) => entry.of.station),
    ),
    settles: [...new Set(list.flatMap((k) => k.settles))],
    reads: list.map(({ size, instrument }) => ({ size, instrument })),
    rests: rests ?? (phaseOf(kind) === 'survey' ? ['stand'] : []),
  });
}

/** Acts that read some sizes, one a kind. */
export function readActs(scope: Scope, wanted: readonly Wanted[], grouping: Grouping): Draft[] {
  const byKind = new Map<Kind, Known[]>();
  for (const k of known(scope, wanted)) {
    const had = byKind.get(k.entry.kind);
    if (had) had.push(k);
    else byKind.set(k.entry.kind, [k]);
  }
  return [...byKind].map(([kind, list]) => readAct(scope, kind, list, grouping));
}
