import { fromDrawing, fromInstruments, type InstrumentReadings, type Size } from '../chains/size.ts';
import { alongAt } from './along.ts';
import { type Kind, QUANTITIES } from './quantities.ts';
import type { Joint, Model, Reading, Rib, RibEnd, SparName } from './schema.ts';

/** One dimension the panel has: its key, what it is, and its drawing value where a drawing gives one. */
export interface SizeEntry {
  readonly key: string;
  readonly kind: Kind;
  readonly name: string;
  /** Drawing or stock value in mm (degrees for a level); undefined where only a reading can tell. */
  readonly nominal: number | undefined;
  readonly stock?: true;
  /** ± tolerance of this one size where the file gives it. */
  readonly tolerance?: number;
  /** The one station it belongs to; absent where several stations rest on it (sheets, bend radii of spars, bow, diagonals). */
  readonly station?: string;
  /** Where the drawing value stands in the model, when it is one number there. */
  readonly path?: readonly (string | number)[];
}

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

type Add = (entry: SizeEntry) => void;

/** Adds entries that belong to one station. */
const at = (add: Add, station: string | undefined): Add =>
  station === undefined ? add : (e) => add({ ...e, station });

function endEntries(add: Add, rib: Rib, at: number, word: 'front' | 'rear' | 'tail', end: RibEnd): void {
  const key = `${rib.id}.${word}`;
  const where = `${rib.id}, ${word} end`;
  const path = ['ribs', at, word] as const;
  add({
    key: `${key}.height`,
    kind: 'height',
    name: `height of ${where}`,
    nominal: end.height,
    path: [...path, 'height'],
  });
  add({
    key: `${key}.joggle`,
    kind: 'joggle',
    name: `joggle of ${where}`,
    nominal: end.joggle,
    path: [...path, 'joggle'],
  });
  add({ key: `${key}.tab`, kind: 'width', name: `end flange of ${where}`, nominal: end.tab, path: [...path, 'tab'] });
  add({ key: `${key}.row`, kind: 'row', name: `row on ${where}`, nominal: end.row, path: [...path, 'row'] });
  add({ key: `${key}.open`, kind: 'open', name: `flange opening of ${where}`, nominal: undefined });
  add({ key: `${key}.bias`, kind: 'bias', name: `${where} above the middle`, nominal: undefined });
  if (end.relief)
    add({
      key: `${key}.relief`,
      kind: 'relief',
      name: `relief hole of ${where}`,
      nominal: end.relief.fromEnd,
      path: [...path, 'relief', 'fromEnd'],
    });
}

/** Gaps felt directly at a rib end that nests: the sum of top and bottom, or each. */
function gapEntries(add: Add, rib: Rib, word: 'front' | 'rear' | 'tail', end: RibEnd): void {
  if (end.ends !== 'nests') return;
  const key = `gap.${rib.id}.${word}`;
  const where = `${rib.id}, ${word} end`;
  add({ key, kind: 'gap', name: `felt gap at the caps of ${where}, top and bottom together`, nominal: undefined });
  add({ key: `${key}.top`, kind: 'gap', name: `felt gap at the top of ${where}`, nominal: undefined });
  add({ key: `${key}.bottom`, kind: 'gap', name: `felt gap at the bottom of ${where}`, nominal: undefined });
}

function feltEntries(add: Add, model: Model, rib: Rib): void {
  if (rib.kind === 'nose') gapEntries(add, rib, 'tail', rib.tail);
  if (rib.kind === 'main') gapEntries(add, rib, 'front', rib.front);
  if (rib.kind !== 'nose' && model.spars.rear) gapEntries(add, rib, 'rear', rib.rear);
  if (rib.kind === 'main' && model.spars.rear)
    add({
      key: `chord.${rib.id}`,
      kind: 'gap',
      name: `felt end gap of ${rib.id} between the webs`,
      nominal: undefined,
    });
}

function ribEntries(add: Add, rib: Rib, at: number): void {
  const kind: Kind = rib.kind === 'main' ? 'length' : rib.kind === 'nose' ? 'noseLength' : 'tipLength';
  add({
    key: `${rib.id}.length`,
    kind,
    name: `length of ${rib.id}`,
    nominal: rib.length,
    path: ['ribs', at, 'length'],
  });
  if (rib.kind === 'main') endEntries(add, rib, at, 'front', rib.front);
  if (rib.kind !== 'nose') endEntries(add, rib, at, 'rear', rib.rear);
  else endEntries(add, rib, at, 'tail', rib.tail);
  if (rib.kind === 'tip' && rib.clip) {
    add({
      key: `${rib.id}.clip`,
      kind: 'noseLength',
      name: `nose of ${rib.id} to its clip hole`,
      nominal: rib.clip.noseToHole,
      path: ['ribs', at, 'clip', 'noseToHole'],
    });
  }
}

function sparEntries(add: Add, model: Model, spar: SparName): void {
  const s = model.spars[spar];
  if (!s) return;
  add({
    key: `${spar}.radius`,
    kind: 'radius',
    name: `inside radius of the ${spar} spar`,
    nominal: s.radius,
    path: ['spars', spar, 'radius'],
  });
  for (const { id, y } of model.stations) {
    add({
      station: id,
      key: `${spar}.depth@${id}`,
      kind: 'depth',
      name: `${spar} spar depth at ${id}`,
      nominal: alongAt(s.depth, y),
    });
    add({
      station: id,
      key: `${spar}.clear@${id}`,
      kind: 'clear',
      name: `clear height in the ${spar} spar at ${id}`,
      nominal: undefined,
    });
    add({
      station: id,
      key: `${spar}.cap@${id}`,
      kind: 'cap',
      name: `${spar} cap width at ${id}`,
      nominal: alongAt(s.capWidth, y),
    });
    add({
      station: id,
      key: `${spar}.droop@${id}`,
      kind: 'droop',
      name: `${spar} cap closing at ${id}`,
      nominal: undefined,
    });
    add({ key: `${spar}.bow@${id}`, kind: 'bow', name: `${spar} spar bow at ${id}`, nominal: undefined });
    add({ key: `${spar}.camber@${id}`, kind: 'camber', name: `${spar} spar camber at ${id}`, nominal: undefined });
    add({
      station: id,
      key: `height.${spar}@${id}`,
      kind: 'heightOver',
      name: `height of the ${spar} spar over the bench at ${id}`,
      nominal: undefined,
    });
    add({
      station: id,
      key: `bench.${spar}@${id}`,
      kind: 'bench',
      name: `bench under the ${spar} spar at ${id}`,
      nominal: undefined,
    });
  }
}

function stationEntries(add: Add, model: Model): void {
  const ordered = [...model.stations].sort((a, b) => a.y - b.y);
  for (const [i, { id, y }] of ordered.entries()) {
    add({
      station: id,
      key: `webs@${id}`,
      kind: 'webToWeb',
      name: `web to web at ${id}`,
      nominal: alongAt(model.webToWeb, y),
    });
    add({ station: id, key: `nose@${id}`, kind: 'protrusion', name: `nose protrusion at ${id}`, nominal: undefined });
    add({ station: id, key: `lean@${id}`, kind: 'lean', name: `lean at ${id}`, nominal: undefined });
    add({ station: id, key: `skew@${id}`, kind: 'skew', name: `skew at ${id}`, nominal: undefined });
    add({ station: id, key: `level@${id}`, kind: 'level', name: `level at ${id}`, nominal: undefined });
    add({ station: id, key: `plumb@${id}`, kind: 'plumb', name: `plumb line at ${id}`, nominal: undefined });
    const next = ordered[i + 1]?.id;
    if (next === undefined) continue;
    add({
      key: `diagonal@${id}-${next}`,
      kind: 'diagonal',
      name: `diagonal, front ${id} to rear ${next}`,
      nominal: undefined,
    });
    add({
      key: `diagonal@${next}-${id}`,
      kind: 'diagonal',
      name: `diagonal, front ${next} to rear ${id}`,
      nominal: undefined,
    });
  }
}

const byJoint = new WeakMap<Joint, readonly SizeEntry[]>();

/** Sizes of a joint's holes, listed once for each joint: marking one hole drilled lists no other joint again. */
function jointEntries(add: Add, joint: Joint): void {
  let all = byJoint.get(joint);
  if (!all) {
    const list: SizeEntry[] = [];
    listJoint(
      at((e) => void list.push(e), joint.station),
      joint,
    );
    byJoint.set(joint, (all = list));
  }
  for (const e of all) add(e);
}

function listJoint(add: Add, joint: Joint): void {
  add({
    key: `${joint.id}.gap`,
    kind: 'gap',
    name: `gap left between the layers of ${joint.id}, drawn together`,
    nominal: undefined,
  });
  for (const hole of joint.holes) {
    for (const layer of hole.layers) {
      const key = `${joint.id}/${hole.id}.${layer.part}`;
      const where = `${layer.part} at ${joint.id} hole ${hole.id}`;
      add({ key: `${key}.along`, kind: 'offset', name: `spanwise offset of ${where}`, nominal: undefined });
      add({ key: `${key}.up`, kind: 'offset', name: `vertical offset of ${where}`, nominal: undefined });
      add({ key: `${key}.edge`, kind: 'edge', name: `edge distance of ${where}`, nominal: undefined });
    }
  }
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
      nominal: s.thickness,
      stock: true,
      ...own,
      path: ['sheets', i, 'thickness'],
    });
  }
  sparEntries(add, model, 'front');
  sparEntries(add, model, 'rear');
  stationEntries(add, model);
  for (const [i, rib] of model.ribs.entries()) ribEntries(at(add, rib.station), rib, i);
  const home = new Map(model.ribs.map((r) => [r.id, r.station]));
  for (const [i, d] of model.doublers.entries()) {
    if (d.radius !== undefined)
      at(
        add,
        home.get(d.part),
      )({
        key: `${d.id}.radius`,
        kind: 'radius',
        name: `inside radius of ${d.id}`,
        nominal: d.radius,
        path: ['doublers', i, 'radius'],
      });
  }
  for (const joint of model.joints) jointEntries(add, joint);
  for (const rib of model.ribs) feltEntries(at(add, rib.station), model, rib);
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
    if (taken) {
      return fromInstruments(key, e.name, byInstrument(model, e.kind, taken));
    }
    if (e.nominal === undefined) return undefined;
    const tolerance = e.tolerance ?? model.tolerances[e.kind] ?? QUANTITIES[e.kind].tolerance;
    return fromDrawing(key, e.name, e.nominal, tolerance, e.stock ? 'stock' : 'drawing');
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
