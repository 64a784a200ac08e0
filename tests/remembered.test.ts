import { isDeepStrictEqual } from 'node:util';
import { describe, expect, test, vi } from 'vitest';
import { lookedAt } from '../src/checks/basis.ts';
import { checkAll } from '../src/checks/checkAll.ts';
import { askHoles } from '../src/drilling/drill.ts';
import { gatesOf } from '../src/drilling/gates.ts';
import { ledgerOf } from '../src/drilling/ledger.ts';
import { rowGate } from '../src/drilling/rowGate.ts';
import { acted } from '../src/model/acts.ts';
import {
  applyEdit,
  type Edit,
  forgetReadings,
  measure,
  reachStage,
  redraw,
  shownIn,
  standAt,
} from '../src/model/edits/edits.ts';
import { layAnew, pilotLayers } from '../src/model/edits/jointsLaid.ts';
import { dropLimit, setLimit } from '../src/model/edits/limitEdits.ts';
import { mirrorPanel } from '../src/model/edits/mirror.ts';
import { addBracket, addDoubler } from '../src/model/edits/partEdits.ts';
import { drilledThrough } from '../src/model/edits/rows.ts';
import { takeSuggestedStages } from '../src/model/edits/stagesSuggested.ts';
import { addStation, removePart, removeStation } from '../src/model/edits/stationEdits.ts';
import { addStock } from '../src/model/edits/stockEdits.ts';
import { rowTick, stationTick, ticked, unticked } from '../src/model/edits/ticks.ts';
import { parseModel } from '../src/model/file/parse.ts';
import { writeModel } from '../src/model/file/write.ts';
import { STARTING_LIMITS } from '../src/model/limits.ts';
import { QUANTITIES } from '../src/model/quantities.ts';
import type { Model } from '../src/model/schema.ts';
import { sizeBook } from '../src/model/sizes.ts';
import { HOLES } from '../src/model/tables/holeTable.ts';
import { JOINTS } from '../src/model/tables/jointTables.ts';
import { BRACKETS, DOUBLERS } from '../src/model/tables/pieceTables.ts';
import { MAIN_RIBS, NOSE_RIBS, TIP_RIBS } from '../src/model/tables/ribTables.ts';
import { SHEET_TABLE, SPAR_TABLE, STRIPS } from '../src/model/tables/sparTables.ts';
import { BRINGS, OPENS } from '../src/model/tables/stageTables.ts';
import { STATIONS } from '../src/model/tables/stationTable.ts';
import { setCells } from '../src/model/tables/tables.ts';
import { skeletonOf } from '../src/parts/layout/skeleton.ts';
import { solidsOf } from '../src/parts/placed/solids.ts';
import { leave } from '../src/remedies/decision.ts';
import { stepsOf } from '../src/sheets/steps/steps.ts';
import { packing } from '../src/truing/packing.ts';
import { COUNTS } from './counts.ts';
import { panel } from './model/panels.ts';
import { randomPanel } from './random-panel.ts';

/*
 * What is remembered from one panel to the next is what would be said of it afresh. Law: random edits, one after another and
 * now and then taken back; after each, every kept answer is the one that a second copy of the program, which has forgotten
 * all it knew, gives of the file's own text.
 */

/** What is asked of a panel, by the one copy of the program or the other. */
interface Program {
  readonly checkAll: typeof checkAll;
  readonly lookedAt: typeof lookedAt;
  readonly askHoles: typeof askHoles;
  readonly gatesOf: typeof gatesOf;
  readonly rowGate: typeof rowGate;
  readonly ledgerOf: typeof ledgerOf;
  readonly packing: typeof packing;
  readonly skeletonOf: typeof skeletonOf;
  readonly sizeBook: typeof sizeBook;
  readonly solidsOf: typeof solidsOf;
  readonly stepsOf: typeof stepsOf;
}

const REMEMBERING: Program = {
  checkAll,
  lookedAt,
  askHoles,
  gatesOf,
  rowGate,
  ledgerOf,
  packing,
  skeletonOf,
  sizeBook,
  solidsOf,
  stepsOf,
};

/** A second copy of the program, with its own memory, and how it forgets. */
async function twin(): Promise<Program & { readonly forget: () => void; readonly parse: typeof parseModel }> {
  vi.resetModules();
  const [checks, basis, drill, gates, row, ledger, truing, skeleton, sizes, solids, steps, rested, parse] =
    await Promise.all([
      import('../src/checks/checkAll.ts'),
      import('../src/checks/basis.ts'),
      import('../src/drilling/drill.ts'),
      import('../src/drilling/gates.ts'),
      import('../src/drilling/rowGate.ts'),
      import('../src/drilling/ledger.ts'),
      import('../src/truing/packing.ts'),
      import('../src/parts/layout/skeleton.ts'),
      import('../src/model/sizes.ts'),
      import('../src/parts/placed/solids.ts'),
      import('../src/sheets/steps/steps.ts'),
      import('../src/model/rested/memory.ts'),
      import('../src/model/file/parse.ts'),
    ]);
  expect(checks.checkAll).not.toBe(checkAll);
  return {
    ...checks,
    ...basis,
    ...drill,
    ...gates,
    ...row,
    ...ledger,
    ...truing,
    ...skeleton,
    ...sizes,
    ...solids,
    ...steps,
    forget: rested.forget,
    parse: parse.parseModel,
  };
}

/** All that is remembered of a panel, by name; steps where the file says in what order the work goes. */
function answersOf(program: Program, model: Model): Record<string, unknown> {
  const skeleton = program.skeletonOf(model);
  const { bays, places, book } = skeleton;
  const keys = [...book.entries.keys()];
  const last = model.stages.at(-1)?.id;
  const findings = program.checkAll(model);
  const at = model.stages.length - 1;
  return {
    findings,
    evidence: findings.map((f) => program.lookedAt(skeleton, f)),
    pilots: model.joints.map((joint) => program.rowGate(skeleton, joint, 'pilots', at)),
    final: model.joints.map((joint) => program.rowGate(skeleton, joint, 'final', at)),
    ledger: program.ledgerOf(model),
    packing: program.packing(model),
    holes: program.askHoles(skeleton),
    gates: program.gatesOf(model),
    'holes ahead': program.askHoles(skeleton, { ...(last ? { stage: last } : {}), ahead: true }),
    entries: [...book.entries.values()],
    sizes: keys.map((key) => book.find(key)),
    'sizes without the feeler': keys.map((key) => program.sizeBook(model).find(key)),
    readings: bays.map((bay) => book.readingsAt(bay.station.id)),
    bays,
    places,
    joints: bays.map((bay) => skeleton.jointsAt(bay.station.id)),
    solids: program.solidsOf(skeleton, { magnify: 1, skin: true, rivets: true }),
    enlarged: program.solidsOf(skeleton, { magnify: 20 }),
    steps: program.stepsOf(model),
  };
}

/** Chance from a seed. */
class Dice {
  #state: number;

  constructor(seed: number) {
    this.#state = seed * 2654435761;
  }

  next(): number {
    this.#state = (this.#state + 0x6d2b79f5) | 0;
    let t = Math.imul(this.#state ^ (this.#state >>> 15), 1 | this.#state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  }

  between(low: number, high: number): number {
    return low + (high - low) * this.next();
  }

  one<T>(list: readonly T[]): T | undefined {
    return list[Math.floor(this.next() * list.length)];
  }
}

const TABLES = [
  STATIONS,
  MAIN_RIBS,
  NOSE_RIBS,
  TIP_RIBS,
  DOUBLERS,
  BRACKETS,
  SPAR_TABLE,
  STRIPS,
  SHEET_TABLE,
  JOINTS,
  HOLES,
  BRINGS,
  OPENS,
];

/** One kind of edit at random; undefined where the panel gives no hold for it. */
type Draw = (m: Model, d: Dice) => Edit | undefined;

function reading(m: Model, d: Dice, wanted: (key: string) => boolean): Edit | undefined {
  const book = sizeBook(m);
  const key = d.one([...book.entries.keys()].filter(wanted));
  const entry = key === undefined ? undefined : book.entries.get(key);
  if (key === undefined || !entry) return undefined;
  const { u, tolerance } = QUANTITIES[entry.kind];
  const near = skeletonOf(m).book.find(key)?.best ?? d.between(0, 0.4);
  const values = Array.from({ length: d.next() < 0.2 ? 2 : 1 }, () => near + d.between(-1, 1) * (tolerance + 0.05));
  return measure(m, key, values, { instrument: d.one(Object.keys(u)) ?? 'caliper', sure: true });
}

const cell: Draw = (m, d) => {
  const table = d.one(TABLES.filter((t) => t.rows(m).length > 0));
  const row = table && d.one(table.rows(m));
  const column = table && d.one(table.columns(m).filter((c) => c.write));
  if (!table || !row || !column) return undefined;
  const now = column.read(m, row.id);
  const choice = d.one(column.choices?.(m) ?? [])?.[0];
  if (now === undefined) return undefined;
  const moved = typeof now === 'number' ? now + d.between(-0.5, 0.5) : now;
  return setCells(table, m, [
    { row: row.id, column: column.id, value: choice ?? (column.kind === 'count' ? now : moved) },
  ]);
};

const hole: Draw = (m, d) => {
  const joint = d.one(m.joints.filter((j) => j.holes.length > 0));
  const at = joint && d.one(joint.holes);
  const part = joint && d.one(joint.layers);
  if (!joint || !at || !part) return undefined;
  const how = { state: d.one(['pilot', 'final'] as const) ?? 'pilot', apart: d.next() < 0.2 };
  return drilledThrough(joint, at.id, { parts: [part], ...how });
};

const limit: Draw = (_, d) => {
  const start = d.one(STARTING_LIMITS);
  if (!start) return undefined;
  const by = d.between(1, 1.4);
  const wider = ([low, high]: readonly [number | null, number | null]): [number | null, number | null] => [
    low === null ? null : low * by,
    high === null ? null : high * by,
  ];
  return setLimit({
    check: start.check,
    fits: wider(start.fits),
    act: wider(start.act),
    origin: 'builder',
    reason: 'tried',
  });
};

const DONE = { by: 'AB', date: '2026-05-01' };

const tick: Draw = (m, d) => {
  const [joint, station] = [d.one(m.joints)?.id ?? '', d.one(m.stations)?.id ?? ''];
  const steps = [
    rowTick('through', joint),
    rowTick('edges', joint),
    stationTick('deburred', station),
    stationTick('steps', station),
  ];
  const step = d.one(steps);
  return step === undefined ? undefined : ticked(step, 'looked', DONE);
};

/** Something done that moves a few sizes, by so much or by nobody knows how much. */
const act: Draw = (m, d) => {
  const keys = [...sizeBook(m).entries.keys()];
  const moves = [1, 2, 3].flatMap(() => {
    const size = d.one(keys);
    return size === undefined ? [] : [{ size, ...(d.next() < 0.7 ? { by: d.between(-0.5, 0.5), u: 0.1 } : {}) }];
  });
  const how = { what: 'bent a flange', date: DONE.date, by: DONE.by };
  return { name: 'did something', apply: (now) => acted(now, { kind: 'bent', ...how, moves }) };
};

/** Other stations carry a block. */
const blocks: Draw = (m, d) => {
  const supports = m.stations.filter(() => d.next() < 0.5).map((s) => s.id);
  return { name: 'moved the blocks', apply: (now) => ({ ...now, survey: { ...now.survey, supports } }) };
};

/** One finding is left as it is, with a note. */
const note: Draw = (m, d) => {
  const finding = d.one(checkAll(m));
  const said = { why: 'closes by finger', asked: '', date: DONE.date };
  return finding && leave(m, finding, said, d.next() < 0.5);
};

const doubler: Draw = (m, d) => {
  const rib = d.one(m.ribs);
  const sheet = d.one(m.sheets)?.id;
  if (!rib || !sheet) return undefined;
  const end = rib.kind === 'nose' ? 'tail' : 'rear';
  return addDoubler(m, { part: rib.id, end, form: 'flat', on: 'web', sheet, made: d.next() < 0.5 });
};

const DRAWS: readonly Draw[] = [
  (m, d) => reading(m, d, () => true),
  (m, d) => reading(m, d, () => true),
  (m, d) => reading(m, d, (key) => sizeBook(m).readingsOf(key).length > 0),
  (m, d) => reading(m, d, (key) => sizeBook(m).entries.get(key)?.kind === 'gap'),
  (m, d) => reading(m, d, (key) => key.startsWith('sheet.')),
  (m, d) => {
    const r = d.one(m.readings);
    return r && forgetReadings(m, r.size);
  },
  (m, d) => {
    const entry = d.one([...sizeBook(m).entries.values()].filter((e) => e.path && e.nominal !== undefined));
    return entry && redraw(m, entry.key, (entry.nominal ?? 0) + d.between(-0.3, 0.3));
  },
  cell,
  cell,
  cell,
  hole,
  hole,
  (m) => layAnew(m),
  (m, d) => pilotLayers(m, () => d.next() < 0.7),
  limit,
  (_, d) => dropLimit(d.one(STARTING_LIMITS)?.check ?? ''),
  (m) => mirrorPanel(m),
  (m) => ({ name: 'shown otherwise', apply: (n) => shownIn(n, m.units === 'mm' ? 'in' : 'mm') }),
  (_, d) => standAt(d.one(['rear', 'front', 'clamped'] as const) ?? 'rear'),
  (m) => takeSuggestedStages(m),
  (m, d) => {
    const stage = d.one(m.stages);
    return stage && reachStage(stage.id);
  },
  (m, d) => {
    const [a, b] = [m.stations[0]?.y ?? 0, m.stations.at(-1)?.y ?? 0];
    return addStation(m, Math.round(d.between(a, b)));
  },
  (m, d) => (m.stations.length > 2 ? removeStation(m, d.one(m.stations)?.id ?? '') : undefined),
  doubler,
  (m, d) => {
    const [sheet, station] = [d.one(m.sheets), d.one(m.stations)];
    const spar = d.one(['front', 'rear'] as const) ?? 'front';
    return sheet && station && addBracket(m, { spar, station: station.id, sheet: sheet.id });
  },
  (m, d) => {
    const part = d.one([...m.ribs, ...m.doublers, ...m.brackets, ...m.joints]);
    return part && removePart(m, part.id);
  },
  (_, d) => addStock('packs', Math.round(d.between(1, 30)) / 10),
  (_, d) => ticked(`step ${Math.floor(d.between(0, 9))}`, 'a step', DONE),
  tick,
  tick,
  (m, d) => {
    const done = d.one(m.ticks ?? []);
    return done && unticked(done.step, 'a step');
  },
  act,
  blocks,
  note,
  note,
];

/** The next panel: an edit that the panel takes, or one of the panels before come back to. */
function nextPanel(d: Dice, past: Model[]): Model {
  const now = past.at(-1)!;
  for (let tries = 0; tries < 40; tries++) {
    if (past.length > 3 && d.next() < 0.08) return past[Math.floor(d.next() * past.length)]!;
    const edit = d.one(DRAWS)?.(now, d);
    if (!edit) continue;
    const done = applyEdit(now, edit);
    if (done.ok && done.model !== now) return done.model;
  }
  return now;
}

const STEPS = 12;
const STARTS = ['random', 'narrow-tail', 'random', 'washed-out-wing', 'random', 'plain'] as const;

describe('what is remembered is what is said afresh', async () => {
  const other = await twin();
  const runs = Math.ceil(COUNTS.panels / STEPS);
  test.each(Array.from({ length: runs }, (_, i) => i))('run %i of edits', (run) => {
    const d = new Dice(run + 1);
    const start = STARTS[run % STARTS.length] ?? 'random';
    const first = parseModel(writeModel(start === 'random' ? randomPanel(run + 1) : panel(start)));
    if (!first.ok) throw new Error(first.faults[0]?.sentence);
    const past: Model[] = [first.model];
    for (let step = 0; step <= STEPS; step++) {
      const model = past.at(-1)!;
      const read = other.parse(writeModel(model));
      if (!read.ok) throw new Error(read.faults[0]?.sentence);
      other.forget();
      const [kept, fresh] = [answersOf(REMEMBERING, model), answersOf(other, read.model)];
      for (const name of Object.keys(fresh))
        if (!isDeepStrictEqual(kept[name], fresh[name]))
          expect(kept[name], `${name}, step ${step}`).toEqual(fresh[name]);
      past.push(nextPanel(d, past));
    }
  });
});
