import { expect, test } from 'vitest';
import { layAnew, pilotLayers } from '../../src/model/edits/jointsLaid.ts';
import { doneByHand, madeIt } from '../../src/model/edits/work.ts';
import { parseModel } from '../../src/model/file/parse.ts';
import { writeModel } from '../../src/model/file/write.ts';
import { QUANTITIES } from '../../src/model/quantities.ts';
import type { Model, Reading, Rib, SparName } from '../../src/model/schema.ts';
import type { SizeEntry } from '../../src/model/sizeEntries.ts';
import { instrumentUncertainty, sizeBook, sizeEntries } from '../../src/model/sizes.ts';
import { STARTS, startPanel } from '../../src/model/starts/starts.ts';
import { taken, takingOf } from '../../src/remedies/decision.ts';
import { joggleDeeper } from '../../src/remedies/offers/joggle.ts';
import { packer } from '../../src/remedies/offers/packer.ts';
import { packsTaken } from '../../src/remedies/offers/packing.ts';
import { shim } from '../../src/remedies/offers/shim.ts';
import { shorter } from '../../src/remedies/offers/shorter.ts';
import type { Remedy } from '../../src/remedies/remedy.ts';
import { packing } from '../../src/truing/packing.ts';
import { ribStances } from '../../src/truing/stance.ts';
import { truingList } from '../../src/truing/truing.ts';
import { COUNTS } from '../counts.ts';
import { Draw, randomPanel } from '../random-panel.ts';
import { type Metal, metalOf, readOff } from './metal.ts';

/*
 * Number an act that moves a part: exactly the readings that it moves by more than half their uncertainty are stale, and no
 * other. What moves is found by moving the metal itself and holding a perfect instrument to it before and after.
 */

const PANELS = Math.min(COUNTS.panels, 400);

const WHO = { by: 'AB', date: '2026-06-06' };

/** An act: what it does to the metal, and the panel as the program then has it; undefined where a panel gives no hold for it. */
interface Done {
  readonly what: string;
  readonly model: Model;
  readonly metal: Metal;
  /** The part that is another one since: whatever was read of it is gone. */
  readonly another?: string;
}
type Doing = (model: Model, metal: Metal, d: Draw) => Done | undefined;

/** The last decision of a panel made. */
const lastMade = (model: Model): Model => madeIt(model.decisions?.at(-1)?.id ?? '', WHO).apply(model);

const made = (model: Model, remedy: Remedy): Model =>
  lastMade(taken(takingOf([remedy], []), { why: '', asked: 'yes', date: '' }).apply(model));

/** The metal with the pieces a remedy puts in. */
const withPieces = (metal: Metal, model: Model): Metal => {
  const own = new Map(metal.own);
  for (const s of model.sheets) if (!own.has(`sheet.${s.id}`)) own.set(`sheet.${s.id}`, s.thickness);
  return { ...metal, own, model: { ...metal.model, sheets: model.sheets, doublers: model.doublers } };
};

const ribsOf = <K extends Rib['kind']>(model: Model, kind: K): Extract<Rib, { kind: K }>[] =>
  model.ribs.filter((r): r is Extract<Rib, { kind: K }> => r.kind === kind);

const some = <T>(d: Draw, list: readonly T[]): T | undefined => (list.length === 0 ? undefined : d.one(list));

const packedMain: Doing = (model, metal, d) => {
  const rib = some(d, ribsOf(model, 'main'));
  if (!rib) return undefined;
  const end = model.spars.rear ? d.one(['front', 'rear'] as const) : 'front';
  const after = made(model, packer(model, { rib, end, sheet: d.one(model.sheets).id }));
  return { what: `packer at ${rib.id} ${end}`, model: after, metal: withPieces(metal, after) };
};

const packedNose: Doing = (model, metal, d) => {
  const rib = some(d, ribsOf(model, 'nose'));
  if (!rib) return undefined;
  const after = made(model, packer(model, { rib, end: 'tail', sheet: d.one(model.sheets).id }));
  return { what: `packer behind ${rib.id}`, model: after, metal: withPieces(metal, after) };
};

const shimmed: Doing = (model, metal, d) => {
  const rib = some(d, ribsOf(model, 'main'));
  const end =
    rib &&
    some(
      d,
      (['front', 'rear'] as const).filter((e) => rib[e].ends === 'nests'),
    );
  if (!rib || !end) return undefined;
  const caps = d.one(['top', 'bottom', 'both'] as const);
  const thickness = d.one([0.08, 0.25, 0.4]);
  const after = made(model, shim(model, { rib, end, thickness }, caps));
  return { what: `shim of ${thickness} at ${rib.id} ${end} ${caps}`, model: after, metal: withPieces(metal, after) };
};

/** The metal with some own sizes moved. */
const moved = (metal: Metal, by: Readonly<Record<string, number>>): Metal => ({
  ...metal,
  own: new Map([...metal.own].map(([key, v]) => [key, v + (by[key] ?? 0)])),
});

const joggled: Doing = (model, metal, d) => {
  const rib = some(d, ribsOf(model, 'main'));
  const end =
    rib &&
    some(
      d,
      (['front', 'rear'] as const).filter((e) => rib[e].ends === 'nests'),
    );
  if (!rib || !end) return undefined;
  const s = d.one([0.02, 0.1, 0.3]);
  const key = `${rib.id}.${end}`;
  return {
    what: `${key} joggled ${s} deeper`,
    model: made(model, joggleDeeper(model, rib, end, s)),
    metal: moved(metal, { [`${key}.height`]: -2 * s, [`${key}.joggle`]: s }),
  };
};

const again: Doing = (model, metal, d) => {
  const rib = some(d, [...ribsOf(model, 'main'), ...ribsOf(model, 'nose')]);
  if (!rib) return undefined;
  const s = d.one([0.5, 1]);
  return {
    what: `${rib.id} made again ${s} shorter`,
    model: made(model, shorter(model, rib, s)),
    metal: moved(metal, { [`${rib.id}.length`]: -s }),
    another: rib.id,
  };
};

/** Each pack lifts its spar where it lies; between two the spar goes straight, and straight on beyond the last. */
function lifted(
  metal: Metal,
  packs: readonly { readonly station: string; readonly total: number }[],
): Map<string, number> {
  const at = (id: string): number => metal.model.stations.find((s) => s.id === id)!.y;
  const by = packs.map((p) => [at(p.station), p.total] as const).sort((a, b) => a[0] - b[0]);
  const lift = (y: number): number => {
    const [only] = by;
    if (!only) return 0;
    if (by.length === 1) return only[1];
    const k = Math.min(
      Math.max(
        by.findIndex(([p]) => p > y),
        1,
      ),
      by.length - 1,
    );
    const right = y >= by.at(-1)![0] ? by.length - 1 : k;
    const [[a, p], [b, q]] = [by[right - 1]!, by[right]!];
    return p + ((q - p) * (y - a)) / (b - a);
  };
  return new Map(metal.model.stations.map((s) => [s.id, lift(s.y)]));
}

const packed: Doing = (model, metal) => {
  const plan = packing(model);
  if (!plan?.packs.some((p) => p.total > 0)) return undefined;
  const decided = packsTaken(model, plan, '').apply(model);
  const lifts: Record<SparName, ReadonlyMap<string, number>> = {
    ...metal.lifts,
    [plan.side]: lifted(metal, plan.packs),
  };
  return {
    what: `packs under the ${plan.side} spar`,
    model: lastMade(decided),
    metal: { ...metal, lifts },
  };
};

/** One rib squared, by as much as it was read to be off. */
const squared: Doing = (model, metal, d) => {
  const stances = ribStances(model);
  const stance = some(
    d,
    stances.filter((s) => s.lean !== 0 || s.skew !== 0),
  );
  if (!stance) return undefined;
  const { station } = stance;
  const list = truingList(model, stances, [{ station, lean: 0, skew: 0 }]);
  const act = { kind: 'squared', what: `squared ${station}`, ...WHO } as const;
  const book = sizeBook(model);
  const off = (key: string): number => -(book.find(key)?.best ?? 0);
  return {
    what: `squared ${station}`,
    model: doneByHand(list.model, act, 0.15).apply(model),
    metal: moved(metal, { [`lean@${station}`]: off(`lean@${station}`), [`skew@${station}`]: off(`skew@${station}`) }),
  };
};

/** How many of its acts a panel is asked, and how many of those are followed by another. */
const SHARE = 0.4;

/** Acts that may follow any other: pieces put in and metal bent. */
const ADDING: readonly Doing[] = [packedMain, packedNose, shimmed, joggled];

const DOINGS = { packedMain, packedNose, shimmed, joggled, again, packed, squared } as const;

/** Sizes of one part, its holes, and the rooms felt at it: they go with a part that is another one. */
function goesWith(model: Model, part: string): (key: string) => boolean {
  const entries = sizeEntries(model);
  const rib = model.ribs.find((r) => r.id === part);
  return (key) => {
    const e = entries.get(key);
    const itsNose = rib?.kind === 'nose' && e?.kind === 'protrusion' && e.of.station === rib.station;
    return e?.of.part === part || e?.of.layer === part || itsNose;
  };
}

/** Whether there is a hole to read. */
const isThere = (model: Model, { of }: SizeEntry): boolean => {
  const layers = model.joints.find((j) => j.id === of.joint)?.holes.find((h) => h.id === of.hole)?.layers ?? [];
  return of.hole === undefined || layers.some((l) => l.part === of.layer && l.state !== 'none');
};

/** A panel read through: most of its sizes, each with its usual instrument, as they truly are. */
function readThrough(model: Model, metal: Metal, d: Draw): Model {
  const entries = [...sizeEntries(model).values()].filter((e) => isThere(model, e));
  const read = entries.filter(() => d.chance(0.8));
  const readings = read.map(
    (e): Reading => ({
      size: e.key,
      value: readOff(metal, e),
      instrument: Object.keys(QUANTITIES[e.kind].u)[0]!,
      sure: true,
    }),
  );
  return { ...model, readings };
}

const holds = (model: Model, key: string): boolean => {
  const size = sizeBook(model).find(key);
  return size?.origin === 'measured' && size.aged !== 'stale' && size.aged !== 'predicted';
};

/** Nearer to half its uncertainty than this, mm or degrees, a move may be told either way: what the program knows of it is itself read. */
const EITHER = 0.06;

/** What is stale and did not move, moved and is not stale, or is taken along otherwise than it moved, after some acts one after the other. */
const wrong = (before: Model, metal: Metal, acts: readonly Done[]): string[] => {
  const goes = acts.flatMap((a) => (a.another === undefined ? [] : [goesWith(before, a.another)]));
  const entries = sizeEntries(before);
  const what = acts.map((a) => a.what).join(', then ');
  const last = acts.at(-1)!;
  return before.readings.flatMap((r) => {
    const e = entries.get(r.size)!;
    const u = instrumentUncertainty(before, e.kind, r.instrument) ?? 0;
    const isGone = goes.some((g) => g(r.size));
    const way = acts.map((a) => Math.abs(readOff(a.metal, e) - readOff(metal, e)));
    const by = way.at(-1)!;
    const either = (m: number): boolean => m > 1e-9 && Math.abs(m - u / 2) < EITHER * Math.min(1, m / u);
    // What came and went again may be said either way.
    const goesTo = last.model.readings.find((x) => x.size === r.size)?.value ?? r.value;
    const off = goesTo - r.value - (readOff(last.metal, e) - readOff(metal, e));
    if (!isGone && goesTo !== r.value && Math.abs(off) > 2 * EITHER)
      return [`${what}: ${r.size} is taken along to ${goesTo}, ${off.toFixed(3)} off`];
    const isOpen = way.some(either) || way.some((m) => m > u / 2 && by <= u / 2);
    if (!isGone && isOpen) return [];
    const isMoved = isGone || by > u / 2;
    const isStale = !holds(last.model, r.size);
    if (isMoved === isStale) return [];
    return [`${what}: ${r.size} moves ${by.toFixed(3)}, u ${u}, ${isStale ? 'stale' : 'kept'}`];
  });
};

const laid = (model: Model, d: Draw): Model => {
  const rows = layAnew(model);
  const withRows = rows ? rows.apply(model) : model;
  const piloted = pilotLayers(withRows, () => d.chance(0.8));
  return piloted ? piloted.apply(withRows) : withRows;
};

/** A sound panel: what parses. */
const sound = (model: Model): Model | undefined => {
  const read = parseModel(writeModel({ ...model, readings: [] }));
  return read.ok ? read.model : undefined;
};

function asked(start: Model, seed: number): { counted: Map<string, number>; faults: string[] } {
  const d = new Draw(seed + 77);
  const supports = start.stations.map((s) => s.id);
  const model = sound(
    laid(
      {
        ...start,
        survey: { ...start.survey, supports },
        stock: { ...start.stock, packs: [0.1, 0.15, 0.3, 0.5, 1, 2] },
      },
      d,
    ),
  );
  const counted = new Map<string, number>();
  if (!model) return { counted, faults: [] };
  const metal = metalOf(model, d);
  const before = readThrough(model, metal, d);
  const faults = Object.entries(DOINGS).flatMap(([name, doing]) => {
    const done = d.chance(SHARE) ? doing(before, metal, d) : undefined;
    if (!done) return [];
    counted.set(name, 1);
    return [...wrong(before, metal, [done]), ...afterAnother(before, metal, done, d)];
  });
  return { counted, faults };
}

/** What is wrong after a second act that moves the same metal further, or other metal. */
function afterAnother(before: Model, metal: Metal, first: Done, d: Draw): string[] {
  const second = d.chance(SHARE) ? d.one(ADDING)(first.model, first.metal, d) : undefined;
  return second ? wrong(before, metal, [first, second]) : [];
}

test('exactly what an act moves by more than half its uncertainty is stale: panels of every layout', () => {
  const often = new Map<string, number>();
  for (let seed = 1; seed <= PANELS; seed++) {
    const { counted, faults } = asked(randomPanel(seed), seed);
    expect([seed, ...faults]).toEqual([seed]);
    for (const name of counted.keys()) often.set(name, (often.get(name) ?? 0) + 1);
  }
  for (const name of Object.keys(DOINGS)) expect(often.get(name) ?? 0, name).toBeGreaterThan(PANELS / 20);
});

test.each(STARTS.map((s) => [s.name, s] as const))('and of %s', (_, start) => {
  const panel = startPanel(start, {});
  if (!panel.ok) throw new Error(`${start.name} has doubts about its own usual answers`);
  for (let seed = 1; seed <= Math.ceil(PANELS / 20); seed++)
    expect([seed, ...asked(panel.model, seed).faults]).toEqual([seed]);
});
