import { fromDrawing, fromInstruments, type InstrumentReadings, type Size } from '../chains/size.ts';
import { type Move, movesOf, stillHolds } from './acts.ts';
import { type Kind, QUANTITIES } from './quantities.ts';
import type { Joint, Model, Reading } from './schema.ts';
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

const byJoint = new WeakMap<Joint, readonly SizeEntry[]>();

/** Sizes of a joint's holes, listed once for each joint: marking one hole drilled lists no other joint again. */
function jointEntries(add: Add, joint: Joint): void {
  let all = byJoint.get(joint);
  if (!all) {
    const list: SizeEntry[] = [];
    listJoint(
      atStation((e) => void list.push(e), joint.station),
      joint,
    );
    byJoint.set(joint, list);
    all = list;
  }
  for (const e of all) add(e);
}

function listed(model: Model): Map<string, SizeEntry> {
  const entries = new Map<string, SizeEntry>();
  const add: Add = (e) => void entries.set(e.key, e);
  for (const [i, s] of model.sheets.entries()) {
    const own = s.tolerance === undefined ? {} : { tolerance: s.tolerance };
    add({
      key: `sheet.${s.id}`,
      kind: 'thickness',
      name: `thickness of sheet ${s.id}`,
      of: { sheet: s.id },
      nominal: s.thickness,
      stock: true,
      ...own,
      path: ['sheets', i, 'thickness'],
    });
  }
  sparEntries(add, model, 'front');
  sparEntries(add, model, 'rear');
  stationEntries(add, model);
  for (const [i, rib] of model.ribs.entries()) ribEntries(atStation(add, rib.station), rib, i);
  const home = new Map(model.ribs.map((r) => [r.id, r.station]));
  for (const [i, d] of model.doublers.entries()) {
    if (d.radius !== undefined)
      atStation(
        add,
        home.get(d.part),
      )({
        key: `${d.id}.radius`,
        kind: 'radius',
        name: `inside radius of ${d.id}`,
        of: { part: d.id },
        nominal: d.radius,
        path: ['doublers', i, 'radius'],
      });
  }
  for (const joint of model.joints) jointEntries(add, joint);
  for (const rib of model.ribs) feelerEntries(atStation(add, rib.station), model, rib);
  return entries;
}

/** The parts of a model that say which sizes there are; a new reading changes none of them. */
const SAYS = ['sheets', 'spars', 'stations', 'webToWeb', 'ribs', 'doublers', 'joints'] as const;
const entriesOf = new WeakMap<
  readonly unknown[],
  { readonly model: Model; readonly entries: ReadonlyMap<string, SizeEntry> }
>();

/** Every size the panel has, by key, in walking order: sheets, spars, stations, ribs, doublers, holes, felt gaps. */
export function sizeEntries(model: Model): ReadonlyMap<string, SizeEntry> {
  const had = entriesOf.get(model.ribs);
  if (had && SAYS.every((k) => had.model[k] === model[k])) return had.entries;
  const entries = listed(model);
  entriesOf.set(model.ribs, { model, entries });
  return entries;
}

/** Standard uncertainty of one reading of a kind with an instrument: the panel file's own, else the starting value. */
export function instrumentUncertainty(model: Model, kind: Kind, instrument: string): number | undefined {
  const own = model.instruments.find((i) => i.id === instrument)?.u[kind];
  if (own !== undefined) return own;
  return (QUANTITIES[kind].u as Record<string, number>)[instrument];
}

/** Readings of one size gathered by instrument, in the order the instruments were first used. */
function byInstrument(model: Model, kind: Kind, taken: readonly Reading[]): InstrumentReadings[] {
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

/** A size of a part that was made or bent and not read since: as the drawing wants it, with the doubt of the work where that is larger. */
function worked(size: Size, moves: readonly Move[]): Size {
  if (moves.length === 0) return size;
  const doubt = Math.hypot(...moves.map((m) => m.u ?? 0));
  const u = Math.max(size.u, doubt);
  return { ...size, u, tolerance: Math.max(size.tolerance, 2 * doubt), aged: 'predicted' };
}

/**
 * A size from its readings, those that still hold; where none does, from those of before, which are then stale, or from
 * what a remedy was worked out to leave, with the doubt of that work.
 */
function sinceMoved(model: Model, e: SizeEntry, taken: readonly Reading[], moves: readonly Move[]): Size {
  const from = (readings: readonly Reading[]): Size =>
    fromInstruments(e.key, e.name, byInstrument(model, e.kind, readings));
  const isWorked = taken.some((r) => r.worked);
  if (moves.length === 0 && !isWorked) return from(taken);
  // An instrument said to be worse than it usually is does not make an older reading hold longer.
  const uOf = (r: Reading): number => {
    const usual = (QUANTITIES[e.kind].u as Record<string, number>)[r.instrument];
    const own = instrumentUncertainty(model, e.kind, r.instrument) ?? 0;
    return usual === undefined ? own : Math.min(own, usual);
  };
  const holding = taken.filter((r) => !r.worked && stillHolds(moves, r, uOf(r)));
  if (holding.length > 0) return from(holding);
  const size = from(taken);
  if (!isWorked) return { ...size, aged: 'stale' };
  const u = Math.hypot(size.u, ...moves.map((m) => m.u ?? 0));
  return { ...size, u, tolerance: 2 * u, aged: 'predicted' };
}

const books = new WeakMap<Model, SizeBook>();

function build(model: Model): SizeBook {
  const entries = sizeEntries(model);
  const readings = new Map<string, Reading[]>();
  const byStation = new Map<string | null, Reading[]>();
  for (const r of model.readings) {
    const list = readings.get(r.size);
    if (list) list.push(r);
    else readings.set(r.size, [r]);
    const station = entries.get(r.size)?.station ?? null;
    const here = byStation.get(station);
    if (here) here.push(r);
    else byStation.set(station, [r]);
  }
  const known = new Map<string, Size | undefined>();
  const make = (key: string): Size | undefined => {
    const e = entries.get(key);
    if (!e) return undefined;
    const taken = readings.get(key);
    const moves = movesOf(model, key);
    if (taken) return sinceMoved(model, e, taken, moves);
    if (e.nominal === undefined) return undefined;
    const tolerance = e.tolerance ?? model.tolerances[e.kind] ?? QUANTITIES[e.kind].tolerance;
    const drawn = fromDrawing(key, e.name, e.nominal, tolerance, e.stock ? 'stock' : 'drawing');
    return worked(drawn, moves);
  };
  const find = (key: string): Size | undefined => {
    if (known.has(key)) return known.get(key);
    const size = make(key);
    known.set(key, size);
    return size;
  };
  return {
    entries,
    find,
    readingsOf: (key) => readings.get(key) ?? NO_READINGS,
    readingsAt: (station) => byStation.get(station) ?? NO_READINGS,
    nominal: (key) => entries.get(key)?.nominal,
    get: (key) => {
      const size = find(key);
      if (!size) throw new RangeError(`the panel has no size "${key}"`);
      return size;
    },
  };
}

/** The Size book of a model; made once for each model and remembered with it. */
export function sizeBook(model: Model): SizeBook {
  let book = books.get(model);
  if (!book) {
    book = build(model);
    books.set(model, book);
  }
  return book;
}
