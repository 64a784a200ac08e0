import { alongAt } from './along.ts';
import type { Kind } from './quantities.ts';
import type { RibEndName } from './ribEnd.ts';
import type { Joint, Model, Rib, RibEnd, SparName } from './schema.ts';

/*
 * Which dimensions a panel has: for each spar, station, rib and hole the sizes a person may read there, with the
 * drawing value where a drawing gives one.
 */

/**
 * What of the panel a size is a size of, by its marks; what does not apply is left out. Code asks this and never
 * takes a key apart.
 */
export interface SizeOf {
  /** Where it is read, also where other stations rest on it. */
  readonly station?: string;
  /** Of a diagonal: the station of its front end and that of its rear end. */
  readonly from?: string;
  readonly to?: string;
  /** The rib or doubler whose own it is, or that is felt in its place. */
  readonly part?: string;
  readonly end?: RibEndName;
  readonly side?: 'top' | 'bottom';
  readonly spar?: SparName;
  readonly sheet?: string;
  readonly joint?: string;
  readonly hole?: string;
  /** The part among a joint's layers. */
  readonly layer?: string;
  /** Of an offset: along the span, or up. */
  readonly axis?: 'along' | 'up';
}

/** One dimension the panel has: its key, what it is, and its drawing value where a drawing gives one. */
export interface SizeEntry {
  readonly key: string;
  readonly kind: Kind;
  readonly name: string;
  readonly of: SizeOf;
  /** Drawing or stock value in mm (degrees for a level); undefined where only a reading can tell. */
  readonly nominal: number | undefined;
  readonly stock?: true;
  /** ± tolerance of this one size where the file gives it. */
  readonly tolerance?: number;
  /**
   * The one station it belongs to; absent where several stations rest on it (sheets, bend radii of spars, bow,
   * diagonals).
   */
  readonly station?: string;
  /** Where the drawing value stands in the model, when it is one number there. */
  readonly path?: readonly (string | number)[];
}

/**
 * Whether a size is a room that a feeler reads in place: a gap at the caps or between the webs, or the steps from cap
 * to rib.
 */
export const isFeeler = (e: SizeEntry | undefined): boolean =>
  e?.kind === 'step' || (e?.kind === 'gap' && e.of.joint === undefined);

export type Add = (entry: SizeEntry) => void;

/** An entry before it is known what it is of. */
type Plain = Omit<SizeEntry, 'of'> & { readonly of?: SizeOf };

/** Adds entries that are all of one thing. */
const ofOne =
  (add: Add, of: SizeOf) =>
  (e: Plain): void =>
    add({ ...e, of: { ...of, ...e.of } });

/** Adds entries that belong to one station alone. */
export const atStation = (add: Add, station: string | undefined): Add =>
  station === undefined ? add : (e) => add({ ...e, station, of: { station, ...e.of } });

function endEntries(to: Add, rib: Rib, at: number, word: RibEndName, end: RibEnd): void {
  const add = ofOne(to, { part: rib.id, end: word });
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

/** The steps from cap to rib, felt together where the skin crosses from one to the other. */
function stepEntry(to: Add, rib: Rib, word: RibEndName): void {
  to({
    key: `step.${rib.id}.${word}`,
    kind: 'step',
    name: `skin steps felt at ${rib.id}, ${word} end, top and bottom together`,
    of: { part: rib.id, end: word },
    nominal: undefined,
  });
}

/** Gaps felt directly at a rib end that nests: the sum of top and bottom, or each; and at any end its steps. */
function gapEntries(to: Add, rib: Rib, word: RibEndName, end: RibEnd): void {
  if (end.ends === 'nests') capEntries(to, rib, word);
  stepEntry(to, rib, word);
}

function capEntries(to: Add, rib: Rib, word: RibEndName): void {
  const add = ofOne(to, { part: rib.id, end: word });
  const key = `gap.${rib.id}.${word}`;
  const where = `${rib.id}, ${word} end`;
  add({ key, kind: 'gap', name: `felt gap at the caps of ${where}, top and bottom together`, nominal: undefined });
  add({
    key: `${key}.top`,
    kind: 'gap',
    name: `felt gap at the top of ${where}`,
    nominal: undefined,
    of: { side: 'top' },
  });
  add({
    key: `${key}.bottom`,
    kind: 'gap',
    name: `felt gap at the bottom of ${where}`,
    nominal: undefined,
    of: { side: 'bottom' },
  });
}

export function feelerEntries(add: Add, model: Model, rib: Rib): void {
  if (rib.kind === 'nose') gapEntries(add, rib, 'tail', rib.tail);
  if (rib.kind === 'main') gapEntries(add, rib, 'front', rib.front);
  if (rib.kind === 'tip') stepEntry(add, rib, 'front');
  if (rib.kind !== 'nose' && model.spars.rear) gapEntries(add, rib, 'rear', rib.rear);
  if (rib.kind === 'main' && model.spars.rear)
    add({
      key: `chord.${rib.id}`,
      kind: 'gap',
      name: `felt end gap of ${rib.id} between the webs`,
      of: { part: rib.id },
      nominal: undefined,
    });
}

const LENGTH_KIND = { main: 'length', nose: 'noseLength', tip: 'tipLength' } as const satisfies Record<
  Rib['kind'],
  Kind
>;

export function ribEntries(add: Add, rib: Rib, at: number): void {
  add({
    key: `${rib.id}.length`,
    kind: LENGTH_KIND[rib.kind],
    name: `length of ${rib.id}`,
    of: { part: rib.id },
    nominal: rib.length,
    path: ['ribs', at, 'length'],
  });
  add({
    key: `${rib.id}.radius`,
    kind: 'radius',
    name: `inside bend radius of ${rib.id}`,
    of: { part: rib.id },
    nominal: rib.radius,
    path: ['ribs', at, 'radius'],
  });
  if (rib.kind === 'main') endEntries(add, rib, at, 'front', rib.front);
  if (rib.kind !== 'nose') endEntries(add, rib, at, 'rear', rib.rear);
  else endEntries(add, rib, at, 'tail', rib.tail);
  if (rib.kind === 'tip') tipEntries(add, rib, at);
}

/** Sizes that only a tip rib has. */
function tipEntries(add: Add, rib: Extract<Rib, { kind: 'tip' }>, at: number): void {
  add({
    key: `${rib.id}.height`,
    kind: 'height',
    name: `height of ${rib.id} at the front spar`,
    of: { part: rib.id, end: 'front' },
    nominal: rib.height,
    path: ['ribs', at, 'height'],
  });
  if (rib.clip) {
    add({
      key: `${rib.id}.clip`,
      kind: 'noseLength',
      name: `nose of ${rib.id} to its clip hole`,
      of: { part: rib.id },
      nominal: rib.clip.noseToHole,
      path: ['ribs', at, 'clip', 'noseToHole'],
    });
  }
}

export function sparEntries(to: Add, model: Model, spar: SparName): void {
  const s = model.spars[spar];
  if (!s) return;
  const add = ofOne(to, { spar });
  add({
    key: `${spar}.radius`,
    kind: 'radius',
    name: `inside radius of the ${spar} spar`,
    nominal: s.radius,
    path: ['spars', spar, 'radius'],
  });
  for (const { id, y } of model.stations) {
    const here = ofOne(atStation(to, id), { spar });
    here({
      key: `${spar}.depth@${id}`,
      kind: 'depth',
      name: `${spar} spar depth at ${id}`,
      nominal: alongAt(s.depth, y),
    });
    here({
      key: `${spar}.clear@${id}`,
      kind: 'clear',
      name: `clear height in the ${spar} spar at ${id}`,
      nominal: undefined,
    });
    here({
      key: `${spar}.cap@${id}`,
      kind: 'cap',
      name: `${spar} cap width at ${id}`,
      nominal: alongAt(s.capWidth, y),
    });
    here({
      key: `${spar}.droop@${id}`,
      kind: 'droop',
      name: `${spar} cap closing at ${id}`,
      nominal: undefined,
    });
    add({
      key: `${spar}.bow@${id}`,
      kind: 'bow',
      name: `${spar} spar bow at ${id}`,
      nominal: undefined,
      of: { station: id },
    });
    add({
      key: `${spar}.camber@${id}`,
      kind: 'camber',
      name: `${spar} spar camber at ${id}`,
      nominal: undefined,
      of: { station: id },
    });
    here({
      key: `height.${spar}@${id}`,
      kind: 'heightOver',
      name: `height of the ${spar} spar over the bench at ${id}`,
      nominal: undefined,
    });
    here({
      key: `bench.${spar}@${id}`,
      kind: 'bench',
      name: `bench under the ${spar} spar at ${id}`,
      nominal: undefined,
    });
  }
}

export function stationEntries(add: Add, model: Model): void {
  const ordered = [...model.stations].sort((a, b) => a.y - b.y);
  for (const [i, { id, y }] of ordered.entries()) {
    const here = ofOne(atStation(add, id), {});
    here({
      key: `webs@${id}`,
      kind: 'webToWeb',
      name: `web to web at ${id}`,
      nominal: alongAt(model.webToWeb, y),
    });
    here({ key: `nose@${id}`, kind: 'protrusion', name: `nose protrusion at ${id}`, nominal: undefined });
    here({ key: `lean@${id}`, kind: 'lean', name: `lean at ${id}`, nominal: undefined });
    here({ key: `skew@${id}`, kind: 'skew', name: `skew at ${id}`, nominal: undefined });
    here({ key: `level@${id}`, kind: 'level', name: `level at ${id}`, nominal: undefined });
    here({ key: `plumb@${id}`, kind: 'plumb', name: `plumb line at ${id}`, nominal: undefined });
    const next = ordered[i + 1]?.id;
    if (next === undefined) continue;
    add({
      key: `diagonal@${id}-${next}`,
      kind: 'diagonal',
      name: `diagonal, front ${id} to rear ${next}`,
      of: { from: id, to: next },
      nominal: undefined,
    });
    add({
      key: `diagonal@${next}-${id}`,
      kind: 'diagonal',
      name: `diagonal, front ${next} to rear ${id}`,
      of: { from: next, to: id },
      nominal: undefined,
    });
  }
}

export function listJoint(to: Add, joint: Joint): void {
  const add = ofOne(to, { joint: joint.id });
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
      const here = ofOne(to, { joint: joint.id, hole: hole.id, layer: layer.part });
      const offset = (axis: 'along' | 'up', way: string): void =>
        here({
          key: `${key}.${axis}`,
          kind: 'offset',
          name: `${way} offset of ${where}`,
          nominal: undefined,
          of: { axis },
        });
      offset('along', 'spanwise');
      offset('up', 'vertical');
      here({ key: `${key}.edge`, kind: 'edge', name: `edge distance of ${where}`, nominal: undefined });
    }
  }
}
