import { fromDrawing, fromInstruments, type InstrumentReadings, type Size, sameSize } from '../chains/size.ts';
import { once } from '../once.ts';
import { type Move, movesOf, stillHolds } from './acts.ts';
import { type AskedReading, askedReadings } from './asked/askedOf.ts';
import { type Kind, QUANTITIES } from './quantities.ts';
import { doorInto, doorsOf, keptWhole, perPanel, sameItems } from './rested.ts';
import type { Joint, Model, Reading, Sheet } from './schema.ts';
import {
  type Add,
  atStation,
  feelerEntries,
  listJoint,
  ribEntries,
  type SizeEntry,
  sparEntries,
  stationEntries,
} from './sizeEntries.ts';

/** All Sizes of a panel, by key. One physical thing has one entry, whichever chains it enters. */
export interface SizeBook {
  readonly entries: ReadonlyMap<string, SizeEntry>;
  /** What a key is, or undefined. */
  entryOf(key: string): SizeEntry | undefined;
  /** Readings of a key, oldest first; an empty list when there is none. */
  readingsOf(key: string): readonly Reading[];
  /** The Size, from readings when there are any, else from the drawing; undefined when neither exists. */
  find(key: string): Size | undefined;
  /** As `find`, for keys that always have a drawing value; throws RangeError on a key the panel does not have. */
  get(key: string): Size;
  /** Readings that belong to one station alone, or with `null` those that several stations rest on. */
  readingsAt(station: string | null): readonly Reading[];
  /** Drawing value of a key, or undefined. */
  nominal(key: string): number | undefined;
}

const NO_READINGS: readonly Reading[] = [];
const NO_MOVES: readonly Move[] = [];

function sheetEntry(s: Sheet, i: number): SizeEntry {
  return {
    key: `sheet.${s.id}`,
    kind: 'thickness',
    name: `thickness of sheet ${s.id}`,
    of: { sheet: s.id },
    nominal: s.thickness,
    stock: true,
    ...(s.tolerance === undefined ? {} : { tolerance: s.tolerance }),
    path: ['sheets', i, 'thickness'],
  };
}

function doublerEntries(add: Add, model: Model): void {
  const home = new Map(model.ribs.map((r) => [r.id, r.station]));
  for (const [i, d] of model.doublers.entries()) {
    if (d.radius === undefined) continue;
    const here = atStation(add, home.get(d.part));
    here({
      key: `${d.id}.radius`,
      kind: 'radius',
      name: `inside radius of ${d.id}`,
      of: { part: d.id },
      nominal: d.radius,
      path: ['doublers', i, 'radius'],
    });
  }
}

/** Sizes of a joint's holes, listed once for each joint: marking one hole drilled lists no other joint again. */
const jointEntries = once((joint: Joint): readonly SizeEntry[] => {
  const list: SizeEntry[] = [];
  listJoint(
    atStation((e) => void list.push(e), joint.station),
    joint,
  );
  return list;
});

/**
 * Sizes of all but the joints, in walking order: those that come before a joint's holes, and the felt gaps after
 * them.
 */
interface PartEntries {
  readonly before: readonly SizeEntry[];
  readonly gaps: readonly SizeEntry[];
}

const partEntries = keptWhole((model): PartEntries => {
  const before: SizeEntry[] = [];
  const add: Add = (e) => void before.push(e);
  before.push(...model.sheets.map(sheetEntry));
  sparEntries(add, model, 'front');
  sparEntries(add, model, 'rear');
  stationEntries(add, model);
  for (const [i, rib] of model.ribs.entries()) ribEntries(atStation(add, rib.station), rib, i);
  doublerEntries(add, model);
  const gaps: SizeEntry[] = [];
  const addGap: Add = (e) => void gaps.push(e);
  for (const rib of model.ribs) feelerEntries(atStation(addGap, rib.station), model, rib);
  return { before, gaps };
});

/**
 * Every size the panel has, by key, in walking order: sheets, spars, stations, ribs, doublers, holes, felt gaps. A new
 * reading changes none of them.
 */
export const sizeEntries = keptWhole((model): ReadonlyMap<string, SizeEntry> => {
  const { before, gaps } = partEntries(model);
  const entries = new Map<string, SizeEntry>();
  for (const list of [before, ...model.joints.map(jointEntries), gaps]) for (const e of list) entries.set(e.key, e);
  return entries;
});

type Instruments = Pick<Model, 'instruments'>;

/** Standard uncertainty of one reading of a kind with an instrument: the panel file's own, else the starting value. */
export function instrumentUncertainty(
  { instruments }: Instruments,
  kind: Kind,
  instrument: string,
): number | undefined {
  const own = instruments.find((i) => i.id === instrument)?.u[kind];
  if (own !== undefined) return own;
  return (QUANTITIES[kind].u as Record<string, number>)[instrument];
}

/** Readings of one size gathered by instrument, in the order the instruments were first used. */
function byInstrument(model: Instruments, kind: Kind, taken: readonly Reading[]): InstrumentReadings[] {
  const values = new Map<string, number[]>();
  for (const r of taken) {
    const had = values.get(r.instrument);
    if (had) had.push(r.value);
    else values.set(r.instrument, [r.value]);
  }
  return [...values].map(([instrument, list]) => ({
    instrument,
    values: list,
    u: instrumentUncertainty(model, kind, instrument) ?? 0,
    scale: model.instruments.find((i) => i.id === instrument)?.scale,
  }));
}

/**
 * A size of a part that was made or bent and not read since: as the drawing wants it, with the doubt of the work
 * where that is larger.
 */
function worked(size: Size, moves: readonly Move[]): Size {
  if (moves.length === 0) return size;
  const doubt = Math.hypot(...moves.map((m) => m.u ?? 0));
  const u = Math.max(size.u, doubt);
  return { ...size, u, tolerance: Math.max(size.tolerance, 2 * doubt), aged: 'predicted' };
}

/**
 * Whether a reading of a size still holds after what moved it. An instrument said to be worse than it usually is does
 * not make an older reading hold longer.
 */
export function readingHolds(model: Instruments, kind: Kind, moves: readonly Move[], r: Reading): boolean {
  const usual = (QUANTITIES[kind].u as Record<string, number>)[r.instrument];
  const own = instrumentUncertainty(model, kind, r.instrument) ?? 0;
  return stillHolds(moves, r, usual === undefined ? own : Math.min(own, usual));
}

/**
 * A size from its readings, those that still hold; where none does, from those of before, which are then stale, or from
 * what a remedy was worked out to leave, with the doubt of that work.
 */
function sinceMoved(model: Instruments, e: SizeEntry, taken: readonly Reading[], moves: readonly Move[]): Size {
  const from = (readings: readonly Reading[]): Size =>
    fromInstruments(e.key, e.name, byInstrument(model, e.kind, readings));
  const isWorked = taken.some((r) => r.worked);
  if (moves.length === 0 && !isWorked) return from(taken);
  const holding = taken.filter((r) => !r.worked && readingHolds(model, e.kind, moves, r));
  if (holding.length > 0) return from(holding);
  const size = from(taken);
  if (!isWorked) return { ...size, aged: 'stale' };
  const u = Math.hypot(size.u, ...moves.map((m) => m.u ?? 0));
  return { ...size, u, tolerance: 2 * u, aged: 'predicted' };
}

/** A Size from what it is and its readings. */
type Maker = (entry: SizeEntry, readings: readonly Reading[]) => Size | undefined;

interface Made {
  readonly entry: SizeEntry;
  readonly readings: readonly Reading[];
  readonly size: Size | undefined;
}

/**
 * How a panel makes its Sizes. As long as that is so, a Size of the same entry and readings is the same object as it
 * was last.
 */
const makerOf = keptWhole((model): Maker => {
  const { tolerances, instruments, acts } = model;
  const make: Maker = (entry, readings) => {
    const { key, name, kind, nominal } = entry;
    const moves = acts ? movesOf({ acts }, key) : NO_MOVES;
    if (readings.length > 0) return sinceMoved({ instruments }, entry, readings, moves);
    if (nominal === undefined) return undefined;
    const tolerance = entry.tolerance ?? tolerances[kind] ?? QUANTITIES[kind].tolerance;
    return worked(fromDrawing(key, name, nominal, tolerance, entry.stock ? 'stock' : 'drawing'), moves);
  };
  const last = new Map<string, Made>();
  return (entry, readings) => {
    const had = last.get(entry.key);
    if (had && had.entry === entry && sameItems(had.readings, readings)) return had.size;
    const size = make(entry, readings);
    last.set(entry.key, { entry, readings, size });
    return size;
  };
});

/** Every reading that is asked about: far off what its neighbours say, and not confirmed. */
export const askedOf = keptWhole((model): ReadonlyMap<Reading, AskedReading> => {
  const { readings, stations, joints, webToWeb, survey, units, instruments } = model;
  return askedReadings({
    model: { readings, stations, joints, webToWeb, survey, units },
    entries: sizeEntries(model),
    uOf: (kind, instrument) => instrumentUncertainty({ instruments }, kind, instrument) ?? 0,
  });
});

/** All that is known of a panel's sizes: its readings by size and by station, and how a Size is found. */
interface Known {
  readonly entries: ReadonlyMap<string, SizeEntry>;
  readonly make: Maker;
  readonly bySize: ReadonlyMap<string, readonly Reading[]>;
  readonly byStation: ReadonlyMap<string | null, readonly Reading[]>;
  /** What is asked about a reading of a size, by its key. */
  readonly asked: ReadonlyMap<string, string>;
  readonly find: (key: string) => Size | undefined;
}

function put<K>(lists: Map<K, Reading[]>, key: K, r: Reading): void {
  const list = lists.get(key);
  if (list) list.push(r);
  else lists.set(key, [r]);
}

/** What the doors of a book lead into; to be asked by doors alone. */
export const knownOf = perPanel((model): Known => {
  const entries = sizeEntries(model);
  const make = makerOf(model);
  const bySize = new Map<string, Reading[]>();
  const byStation = new Map<string | null, Reading[]>();
  for (const r of model.readings) {
    put(bySize, r.size, r);
    put(byStation, entries.get(r.size)?.station ?? null, r);
  }
  const asked = new Map([...askedOf(model).values()].map((a) => [a.reading.size, a.question]));
  const find = (key: string): Size | undefined => {
    const entry = entries.get(key);
    const size = entry && make(entry, bySize.get(key) ?? NO_READINGS);
    const question = asked.get(key);
    return size && question !== undefined && !size.aged ? { ...size, aged: 'asked', asked: question } : size;
  };
  return { entries, make, bySize, byStation, asked, find };
});

/** The sizes whose readings differ; undefined where their sizes may differ for other reasons. */
export function newlyRead(was: Known, is: Known): ReadonlySet<string> | undefined {
  if (was.entries !== is.entries || was.make !== is.make) return undefined;
  const keys = new Set<string>();
  for (const [key, list] of is.bySize) if (!sameItems(list, was.bySize.get(key) ?? NO_READINGS)) keys.add(key);
  for (const key of was.bySize.keys()) if (!is.bySize.has(key)) keys.add(key);
  for (const [key, question] of is.asked) if (was.asked.get(key) !== question) keys.add(key);
  for (const key of was.asked.keys()) if (!is.asked.has(key)) keys.add(key);
  return keys;
}

const sizeDoor = doorInto({
  of: knownOf,
  look: (known, key: string) => known.find(key),
  same: sameSize,
  moved: newlyRead,
});
const entryDoor = doorInto({ of: sizeEntries, look: (entries, key: string) => entries.get(key) });
const readingsDoor = doorInto({
  of: knownOf,
  look: (known, key: string) => known.bySize.get(key) ?? NO_READINGS,
  same: sameItems,
});
const stationDoor = doorInto({
  of: knownOf,
  look: (known, station: string) => known.byStation.get(station) ?? NO_READINGS,
  same: sameItems,
});
const sharedDoor = doorInto({
  of: knownOf,
  look: (known) => known.byStation.get(null) ?? NO_READINGS,
  same: sameItems,
});

/** A book of a panel with its Sizes found through a door of one's own: everything in it is a door. */
export function bookOf(model: Model, find: (key: string) => Size | undefined): SizeBook {
  return {
    get entries() {
      return sizeEntries(model);
    },
    find,
    entryOf: (key) => entryDoor(model, key),
    readingsOf: (key) => readingsDoor(model, key),
    readingsAt: (station) => (station === null ? sharedDoor(model) : stationDoor(model, station)),
    nominal: (key) => entryDoor(model, key)?.nominal,
    get: (key) => {
      const size = find(key);
      if (!size) throw new RangeError(`the panel has no size "${key}"`);
      return size;
    },
  };
}

/** The Size book of a model. */
export const sizeBook = doorsOf((model): SizeBook => bookOf(model, (key) => sizeDoor(model, key)));
