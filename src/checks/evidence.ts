import type { Chain } from '../chains/chain.ts';
import { movesOf } from '../model/acts.ts';
import { rowTick, stationTick, tickOf } from '../model/edits/ticks.ts';
import type { Kind } from '../model/quantities.ts';
import type { Joint, Model, Tick } from '../model/schema.ts';
import { type Bay, jointOf, type Skeleton } from '../parts/layout/layout.ts';
import { BATCH, batchOf, taken } from './batch.ts';
import { feltInstead } from './felt.ts';
import type { Basis, CheckId, Finding } from './finding.ts';

/*
 * What was looked at before an answer was given? A finding's number may be right by luck; a builder drills on it only
 * where somebody looked. Each answer has a few things that must have been read, felt or ticked; this says which of
 * them were.
 *
 * A gap: felt as it stands, or every formed part that meets there read in that direction, with its sheet, bend radius
 * and cap width once a batch. A spar's seat: its string line at both ends and at least every second station. A rib's
 * square: its lean, and its skew or a bay diagonal. Twist: one way at every station that carries a block, the first
 * and the last. A row: looked through, its edges gauged. From common practice; no source.
 */

/** One thing that must have been looked at: any one of its keys, or its tick. */
export interface Want {
  /** In the builder's words: "height of M5, front end". */
  readonly name: string;
  /** Sizes of which one reading is enough. */
  readonly keys: readonly string[];
  /** A tick that says the same. */
  readonly tick?: string;
  /** No act that moves metal undoes the tick: what is deburred stays so. */
  readonly lasting?: true;
  /**
   * What to do where nobody looked, in the imperative, where it is no plain reading: "look through the holes of F2".
   */
  readonly todo?: string;
}

/** What an answer rests on: how many of the things it wants were looked at, when last, and which were not. */
export interface Rests {
  readonly read: number;
  readonly of: number;
  /** How many of those that were looked at are known by a tick alone, no reading: "the row was looked through". */
  readonly ticked: number;
  /** Day of the newest of them, YYYY-MM-DD; null where none has a day. */
  readonly last: string | null;
  /** Names of those that nobody looked at. */
  readonly missing: readonly string[];
}

export interface Evidence {
  readonly basis: Basis;
  readonly rests: Rests;
  /** The things themselves, for whoever asks what to read next. */
  readonly missing: readonly Want[];
  /** Nothing had to be read: layers are known by their sheet, a bag by its name. */
  readonly named?: true;
}

/** What to do about a thing that nobody looked at: "read the height of M5, front end". */
export const todoOf = (want: Want): string => want.todo ?? `read the ${want.name}`;

/** Sizes of parts formed by hand, and how they stand: each must have been read where an answer rests on it. */
const FORMED: ReadonlySet<Kind> = new Set<Kind>([
  'depth',
  'clear',
  'height',
  'length',
  'noseLength',
  'tipLength',
  'webToWeb',
  'protrusion',
  'relief',
]);

/** What a chain wants looked at, each thing once. */
function wantsOf(skeleton: Skeleton, chain: Chain): Want[] {
  const wants = new Map<string, Want>();
  for (const { size } of chain) {
    const entry = skeleton.book.entryOf(size.key);
    if (!entry) continue;
    const keys = BATCH.has(entry.kind) ? batchOf(skeleton, entry) : [entry.key];
    const first = keys[0];
    if ((FORMED.has(entry.kind) || BATCH.has(entry.kind)) && first !== undefined)
      wants.set(first, { name: entry.name, keys });
  }
  return [...wants.values()];
}

/** One size to be read. */
export const wantKey = (skeleton: Skeleton, key: string): Want => ({
  name: skeleton.book.entryOf(key)?.name ?? key,
  keys: [key],
});

/**
 * That a thing was looked at: by a reading or only by a tick, and on which day; an empty text is a look without a
 * day.
 */
interface Look {
  readonly by: 'reading' | 'tick';
  readonly day: string;
}

/** How a thing was looked at; undefined where nobody did. */
function seen({ model }: Skeleton, { keys, tick, lasting }: Want): Look | undefined {
  const { day } = taken(model, keys);
  if (day !== undefined) return { by: 'reading', day };
  const ticked = tick === undefined ? undefined : tickOf(model, tick);
  if (!ticked || !(lasting || tickHolds(model, ticked))) return undefined;
  return { by: 'tick', day: ticked.date };
}

/** Whether what was ticked as looked at was not moved since: else it is looked at again. */
export const tickHolds = (model: Model, { after = 0 }: Tick): boolean => !movedSince(model, after);

/**
 * Whether metal was moved after an act, but by packs under the blocks: a row that was looked through then is looked
 * through again.
 */
const movedSince = (model: Model, after: number): boolean =>
  (model.acts ?? []).some((act) => act.n > after && act.kind !== 'packed');

/** Whether every one of some things was looked at, and when. */
export function restsOn(skeleton: Skeleton, wants: readonly Want[]): Rests {
  const looks = wants.map((w) => seen(skeleton, w));
  const had = looks.filter((l) => l !== undefined);
  const last = had
    .map((l) => l.day)
    .filter((d) => d !== '')
    .sort()
    .at(-1);
  return {
    read: had.length,
    of: wants.length,
    ticked: had.filter((l) => l.by === 'tick').length,
    last: last ?? null,
    missing: wants.filter((_, i) => looks[i] === undefined).map((w) => w.name),
  };
}

/** Those of some things that nobody looked at. */
export const missingOf = (skeleton: Skeleton, wants: readonly Want[]): Want[] =>
  wants.filter((w) => seen(skeleton, w) === undefined);

/** The same of several answers together. */
export function restsTogether(all: readonly Rests[]): Rests {
  const last = all
    .map((r) => r.last)
    .filter((d) => d !== null)
    .sort()
    .at(-1);
  return {
    read: all.reduce((sum, r) => sum + r.read, 0),
    of: all.reduce((sum, r) => sum + r.of, 0),
    ticked: all.reduce((sum, r) => sum + r.ticked, 0),
    last: last ?? null,
    missing: [...new Set(all.flatMap((r) => r.missing))],
  };
}

/** Stations whose string line says how a spar lies: both ends, and at least every second one between. */
export function stringLine(skeleton: Skeleton, spar: 'front' | 'rear'): Want[] {
  const { bays } = skeleton;
  if (bays.length < 3) return [];
  const last = bays.length - 1;
  const want = (bay: Bay, also?: Bay): Want => ({
    name: `${spar} spar against a string at ${bay.station.id}`,
    keys: [bay, ...(also ? [also] : [])].map((b) => `${spar}.bow@${b.station.id}`),
  });
  const wants: Want[] = [];
  for (const [i, bay] of bays.entries()) {
    if (i === 0 || i === last) wants.push(want(bay));
    // Of two neighbours between the ends one is enough.
    else if (i % 2 === 1) wants.push(want(bay, i + 1 < last ? bays[i + 1] : undefined));
  }
  return wants;
}

/** What says that a rib stands square: its lean, and its skew or a diagonal of a bay beside it. */
export function squareWants(skeleton: Skeleton, bay: Bay): Want[] {
  const { id } = bay.station;
  const rib = bay.main?.id ?? bay.tip?.id ?? bay.nose?.id ?? id;
  const beside = [skeleton.bays[bay.index - 1], skeleton.bays[bay.index + 1]].filter((b) => b !== undefined);
  const diagonals = skeleton.model.spars.rear
    ? beside.flatMap((b) => [`diagonal@${b.station.id}-${id}`, `diagonal@${id}-${b.station.id}`])
    : [];
  return [
    { name: `lean of ${rib}`, keys: [`lean@${id}`] },
    { name: `skew of ${rib}, or a diagonal beside it`, keys: [`skew@${id}`, ...diagonals] },
  ];
}

/** Layers are known by their sheet and the bag by its name: nothing has to be read. */
const KNOWN_BY_NAME: readonly Want[] = [];

/** What a check wants looked at besides its chain; undefined where the chain says it. */
const LOOKED: Partial<Record<CheckId, (skeleton: Skeleton, finding: Finding) => readonly Want[] | undefined>> = {
  seating: (skeleton, f) => [...stringLine(skeleton, 'front'), ...wantsOf(skeleton, f.restsOn)],
  lean: (skeleton, f) => f.restsOn.map((t) => wantKey(skeleton, t.size.key)),
  skew: (skeleton, f) => f.restsOn.map((t) => wantKey(skeleton, t.size.key)),
  diagonals: (skeleton, f) => f.restsOn.map((t) => wantKey(skeleton, t.size.key)),
  bow: (skeleton, f) => f.restsOn.map((t) => wantKey(skeleton, t.size.key)),
  'skin-step': (skeleton, f) =>
    f.station !== null && tickOf(skeleton.model, stationTick('steps', f.station))
      ? [{ name: `steps felt at ${f.station}`, keys: [], tick: stationTick('steps', f.station) }]
      : undefined,
  'hole-cleanup': (skeleton, f) => {
    const joint = f.at.joint === undefined ? undefined : jointOf(skeleton.model, f.at.joint);
    return joint && lookedThrough(joint, f.at.hole);
  },
  'edge-distance': (_, f) => edgesGauged(f.at.joint),
  'bend-room': (_, f) => edgesGauged(f.at.joint),
  pitch: (_, f) => edgesGauged(f.at.joint),
  rows: (_, f) => edgesGauged(f.at.joint),
  grip: () => KNOWN_BY_NAME,
};

/** A row looked through once it is piloted, or each of a hole's offsets read. */
export function lookedThrough(joint: Joint, hole?: string): Want[] {
  const tick = rowTick('through', joint.id);
  const holes = joint.holes.filter((h) => hole === undefined || h.id === hole);
  return holes.flatMap((h) => {
    const drilled = h.layers.filter((l) => l.state !== 'none' && l.part !== joint.guide);
    return drilled.flatMap((l) =>
      (['along', 'up'] as const).map((axis) => ({
        name: `holes of ${joint.id}`,
        keys: [`${joint.id}/${h.id}.${l.part}.${axis}`],
        tick,
        todo: `look through the holes of ${joint.id}, and tick that they line up`,
      })),
    );
  });
}

const edgesGauged = (joint: string | undefined): readonly Want[] | undefined =>
  joint === undefined ? undefined : [edgesWant(joint)];

/** The edges of a row gauged with a rule or a gauge: one tick a row. */
export const edgesWant = (joint: string): Want => ({
  name: `edges of ${joint}`,
  keys: [],
  tick: rowTick('edges', joint),
  todo: `gauge the edges of ${joint} in every layer, and tick it`,
});

const basisFrom = (skeleton: Skeleton, wants: readonly Want[], rests: Rests, finding: Finding): Basis => {
  if (finding.basis === 'stale' || finding.basis === 'predicted' || finding.basis === 'asked') return finding.basis;
  if (wants === KNOWN_BY_NAME) return 'measured';
  if (wants.length === 0) return finding.basis;
  if (rests.read === wants.length) return 'measured';
  const stale = wants.some((w) => taken(skeleton.model, w.keys).stale);
  if (stale) return 'stale';
  return rests.read > 0 ? 'mixed' : 'drawing';
};

/**
 * The room of a finding as it could be read directly: the keys of its readings. A skin step is as well known by its
 * parts.
 */
function directKeys(skeleton: Skeleton, finding: Finding): readonly string[] {
  const { check, at } = finding;
  if (check === 'nose-line' || check === 'nose-kink') {
    const i = skeleton.bays.findIndex((b) => b.station.id === at.station);
    const beside =
      check === 'nose-kink' ? skeleton.bays.slice(Math.max(0, i - 1), i + 2) : skeleton.bays.slice(i, i + 1);
    return beside.map((b) => `nose@${b.station.id}`);
  }
  if (check === 'seating' && at.part !== undefined) return [`chord.${at.part}`];
  return check === 'skin-step' ? [] : feltInstead(skeleton, finding).flat();
}

/** Rooms that something done since has moved, and that nobody has read after it: they are worked out. */
function workedOut(skeleton: Skeleton, finding: Finding): Want[] {
  const { model, book } = skeleton;
  if (!model.acts) return [];
  const isMoved = (key: string): boolean => {
    const last = movesOf(model, key).at(-1)?.n ?? 0;
    const read = Math.max(0, ...book.readingsOf(key).map((r) => (r.worked ? 0 : (r.after ?? 0))));
    return last > read;
  };
  const keys = directKeys(skeleton, finding).filter((k) => book.entryOf(k) !== undefined);
  return keys
    .filter(isMoved)
    .slice(0, 1)
    .map((key) => wantKey(skeleton, key));
}

/** What was looked at before a finding was said. A gap felt as it stands needs nothing else. */
export function evidenceOf(skeleton: Skeleton, finding: Finding): Evidence {
  const worked = workedOut(skeleton, finding);
  if (worked.length > 0) return { basis: 'predicted', rests: restsOn(skeleton, worked), missing: worked };
  for (const keys of feltInstead(skeleton, finding)) {
    const felt = keys.map((k) => wantKey(skeleton, k));
    const rests = restsOn(skeleton, felt);
    if (rests.read === felt.length) return { basis: 'measured', rests, missing: [] };
  }
  const wants = LOOKED[finding.check]?.(skeleton, finding) ?? wantsOf(skeleton, finding.restsOn);
  const rests = restsOn(skeleton, wants);
  const missing = missingOf(skeleton, wants);
  const named = wants === KNOWN_BY_NAME ? { named: true as const } : {};
  return { basis: basisFrom(skeleton, wants, rests, finding), rests, missing, ...named };
}
