import { fromDrawing, fromReadings, type Size } from '../chains/size.ts';
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
  /** Drawing value of a key, or undefined. */
  nominal(key: string): number | undefined;
}

const NO_READINGS: readonly Reading[] = [];

function* endEntries(rib: Rib, at: number, word: 'front' | 'rear' | 'tail', end: RibEnd): Generator<SizeEntry> {
  const key = `${rib.id}.${word}`;
  const where = `${rib.id}, ${word} end`;
  const path = ['ribs', at, word] as const;
  yield { key: `${key}.height`, kind: 'height', name: `height of ${where}`, nominal: end.height, path: [...path, 'height'] };
  yield { key: `${key}.joggle`, kind: 'joggle', name: `joggle of ${where}`, nominal: end.joggle, path: [...path, 'joggle'] };
  yield { key: `${key}.tab`, kind: 'width', name: `end flange of ${where}`, nominal: end.tab, path: [...path, 'tab'] };
  yield { key: `${key}.row`, kind: 'row', name: `row on ${where}`, nominal: end.row, path: [...path, 'row'] };
  yield { key: `${key}.open`, kind: 'open', name: `flange opening of ${where}`, nominal: undefined };
  yield { key: `${key}.bias`, kind: 'bias', name: `${where} above the middle`, nominal: undefined };
  if (end.relief) yield { key: `${key}.relief`, kind: 'relief', name: `relief hole of ${where}`, nominal: end.relief.fromEnd, path: [...path, 'relief', 'fromEnd'] };
}

function* ribEntries(rib: Rib, at: number): Generator<SizeEntry> {
  const kind: Kind = rib.kind === 'main' ? 'length' : rib.kind === 'nose' ? 'noseLength' : 'tipLength';
  yield { key: `${rib.id}.length`, kind, name: `length of ${rib.id}`, nominal: rib.length, path: ['ribs', at, 'length'] };
  if (rib.kind === 'main') yield* endEntries(rib, at, 'front', rib.front);
  if (rib.kind !== 'nose') yield* endEntries(rib, at, 'rear', rib.rear);
  else yield* endEntries(rib, at, 'tail', rib.tail);
  if (rib.kind === 'tip' && rib.clip) {
    yield { key: `${rib.id}.clip`, kind: 'noseLength', name: `nose of ${rib.id} to its clip hole`, nominal: rib.clip.noseToHole, path: ['ribs', at, 'clip', 'noseToHole'] };
  }
}

function* sparEntries(model: Model, spar: SparName): Generator<SizeEntry> {
  const s = model.spars[spar];
  if (!s) return;
  yield { key: `${spar}.radius`, kind: 'radius', name: `inside radius of the ${spar} spar`, nominal: s.radius, path: ['spars', spar, 'radius'] };
  for (const st of model.stations) {
    yield { key: `${spar}.depth@${st.id}`, kind: 'depth', name: `${spar} spar depth at ${st.id}`, nominal: alongAt(s.depth, st.y) };
    yield { key: `${spar}.clear@${st.id}`, kind: 'clear', name: `clear height in the ${spar} spar at ${st.id}`, nominal: undefined };
    yield { key: `${spar}.cap@${st.id}`, kind: 'cap', name: `${spar} cap width at ${st.id}`, nominal: alongAt(s.capWidth, st.y) };
    yield { key: `${spar}.droop@${st.id}`, kind: 'droop', name: `${spar} cap closing at ${st.id}`, nominal: undefined };
    yield { key: `${spar}.bow@${st.id}`, kind: 'bow', name: `${spar} spar bow at ${st.id}`, nominal: undefined };
    yield { key: `${spar}.camber@${st.id}`, kind: 'camber', name: `${spar} spar camber at ${st.id}`, nominal: undefined };
    yield { key: `height.${spar}@${st.id}`, kind: 'heightOver', name: `height of the ${spar} spar over the bench at ${st.id}`, nominal: undefined };
    yield { key: `bench.${spar}@${st.id}`, kind: 'bench', name: `bench under the ${spar} spar at ${st.id}`, nominal: undefined };
  }
}

function* jointEntries(joint: Joint): Generator<SizeEntry> {
  for (const hole of joint.holes) {
    for (const layer of hole.layers) {
      const key = `${joint.id}/${hole.id}.${layer.part}`;
      const where = `${layer.part} at ${joint.id} hole ${hole.id}`;
      yield { key: `${key}.along`, kind: 'offset', name: `spanwise offset of ${where}`, nominal: undefined };
      yield { key: `${key}.up`, kind: 'offset', name: `vertical offset of ${where}`, nominal: undefined };
      yield { key: `${key}.edge`, kind: 'edge', name: `edge distance of ${where}`, nominal: undefined };
    }
  }
}

/** Every size the panel has, in walking order: sheets, spars, stations, ribs, doublers, holes. */
export function* sizeEntries(model: Model): Generator<SizeEntry> {
  for (const [i, s] of model.sheets.entries()) {
    const own = s.tolerance === undefined ? {} : { tolerance: s.tolerance };
    yield { key: `sheet.${s.id}`, kind: 'thickness', name: `thickness of sheet ${s.id}`, nominal: s.thickness, stock: true, ...own, path: ['sheets', i, 'thickness'] };
  }
  yield* sparEntries(model, 'front');
  yield* sparEntries(model, 'rear');
  const ordered = [...model.stations].sort((a, b) => a.y - b.y);
  for (const [i, st] of ordered.entries()) {
    yield { key: `webs@${st.id}`, kind: 'webToWeb', name: `web to web at ${st.id}`, nominal: alongAt(model.webToWeb, st.y) };
    yield { key: `nose@${st.id}`, kind: 'protrusion', name: `nose protrusion at ${st.id}`, nominal: undefined };
    yield { key: `lean@${st.id}`, kind: 'lean', name: `lean at ${st.id}`, nominal: undefined };
    yield { key: `skew@${st.id}`, kind: 'skew', name: `skew at ${st.id}`, nominal: undefined };
    yield { key: `level@${st.id}`, kind: 'level', name: `level at ${st.id}`, nominal: undefined };
    const next = ordered[i + 1];
    if (!next) continue;
    yield { key: `diagonal@${st.id}-${next.id}`, kind: 'diagonal', name: `diagonal, front ${st.id} to rear ${next.id}`, nominal: undefined };
    yield { key: `diagonal@${next.id}-${st.id}`, kind: 'diagonal', name: `diagonal, front ${next.id} to rear ${st.id}`, nominal: undefined };
  }
  for (const [i, rib] of model.ribs.entries()) yield* ribEntries(rib, i);
  for (const [i, d] of model.doublers.entries()) {
    if (d.radius !== undefined) yield { key: `${d.id}.radius`, kind: 'radius', name: `inside radius of ${d.id}`, nominal: d.radius, path: ['doublers', i, 'radius'] };
  }
  for (const joint of model.joints) yield* jointEntries(joint);
}

/** Standard uncertainty of one reading of a kind with an instrument: the panel file's own, else the starting value. */
export function instrumentUncertainty(model: Model, kind: Kind, instrument: string): number | undefined {
  const own = model.instruments.find((i) => i.id === instrument)?.u[kind];
  if (own !== undefined) return own;
  return (QUANTITIES[kind].u as Record<string, number>)[instrument];
}

const books = new WeakMap<Model, SizeBook>();

function build(model: Model): SizeBook {
  const entries = new Map<string, SizeEntry>();
  for (const e of sizeEntries(model)) entries.set(e.key, e);
  const readings = new Map<string, Reading[]>();
  for (const r of model.readings) {
    const list = readings.get(r.size);
    if (list) list.push(r);
    else readings.set(r.size, [r]);
  }
  const known = new Map<string, Size | undefined>();
  const make = (key: string): Size | undefined => {
    const e = entries.get(key);
    if (!e) return undefined;
    const taken = readings.get(key);
    if (taken) {
      const last = taken[taken.length - 1]!;
      const u = instrumentUncertainty(model, e.kind, last.instrument) ?? 0;
      const scale = model.instruments.find((i) => i.id === last.instrument)?.scale;
      const size = fromReadings(key, e.name, taken.map((r) => r.value), u);
      if (!scale) return size;
      const shared = scale * size.best;
      return { ...size, u: Math.hypot(size.u, shared), shared: [{ source: last.instrument, u: shared }] };
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
