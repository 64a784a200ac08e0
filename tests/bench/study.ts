import { nextReadings, type Purpose } from '../../src/chance/nextReading.ts';
import { checkAll } from '../../src/checks/checkAll.ts';
import type { Verdict } from '../../src/checks/finding.ts';
import { QUANTITIES } from '../../src/model/quantities.ts';
import type { Model, Reading } from '../../src/model/schema.ts';
import { sizeBook } from '../../src/model/sizes.ts';
import { feelableAt } from '../../src/parts/layout/feelers.ts';
import { skeletonOf } from '../../src/parts/layout/skeleton.ts';
import type { Row } from './rows.ts';

/*
 * How many readings does it take to know what a full survey would say? Panels like panel A are made up: every size lies
 * somewhere in its drawing tolerance, every reading is off by its instrument. A full survey reads every size that any
 * verdict rests on and feels every gap. Then the same readings come one at a time, in the order the engine asks for, in
 * drawing order, at random, or the largest uncertainty first, until 99 % of the verdicts are those of the full survey.
 *
 * A verdict counts where the full survey settles it. Counted twice: once by what is to be done, act or leave, for neither
 * "fits" nor "watch" must be acted on and between the two the survey's own scatter decides at random; and once with all
 * three apart.
 */

/** Mulberry32: small, seeded, good enough to shuffle with. */
function chanceFrom(seed: number): () => number {
  let s = seed | 0;
  return () => {
    s = (s + 0x6d2b79f5) | 0;
    let t = Math.imul(s ^ (s >>> 15), 1 | s);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

const normal = (next: () => number): number => Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next());

interface Panel {
  readonly bare: Model;
  /** One reading of everything, by size, in drawing order. */
  readonly survey: ReadonlyMap<string, Reading>;
}

function bareOf(model: Model): Model {
  return {
    ...model,
    readings: [],
    joints: model.joints.map((j) => ({
      ...j,
      holes: j.holes.map((h) => ({ ...h, layers: h.layers.map((l) => ({ ...l, state: 'none' as const, size: 0 })) })),
    })),
  };
}

function simulated(model: Model, next: () => number): Panel {
  const bare = bareOf(model);
  const { entries } = sizeBook(bare);
  const used = new Set<string>();
  for (const f of checkAll(bare))
    for (const t of f.restsOn) if (entries.get(t.size.key)?.nominal !== undefined) used.add(t.size.key);
  const truth: Reading[] = [];
  for (const e of entries.values()) {
    if (!used.has(e.key)) continue;
    const tolerance = e.tolerance ?? bare.tolerances[e.kind] ?? QUANTITIES[e.kind].tolerance;
    truth.push({
      size: e.key,
      value: e.nominal! + tolerance * (2 * next() - 1),
      instrument: Object.keys(QUANTITIES[e.kind].u)[0]!,
    });
  }
  const survey = new Map<string, Reading>();
  const off = (r: Reading, u: number): Reading => ({ ...r, value: r.value + u * normal(next) });
  for (const r of truth)
    survey.set(r.size, off(r, (QUANTITIES[entries.get(r.size)!.kind].u as Record<string, number>)[r.instrument]!));
  const real = skeletonOf({ ...bare, readings: truth });
  for (const bay of real.bays) {
    for (const gap of feelableAt(real, bay)) {
      const value = gap.computed.reduce((sum, t) => sum + t.c * t.size.best, 0);
      survey.set(gap.key, off({ size: gap.key, value, instrument: 'feeler' }, 0.03));
    }
  }
  return { bare, survey };
}

/** How verdicts are told apart: by what is to be done, or all of them. */
const COUNTED = {
  'act or leave': (v: Verdict): string => (v === 'fits' || v === 'watch' ? 'leave' : v),
  'fits, watch or act': (v: Verdict): string => v,
} as const;
type Counted = keyof typeof COUNTED;
const WAYS = Object.keys(COUNTED) as Counted[];

type Verdicts = ReadonlyMap<string, Verdict>;

function verdicts(model: Model): Verdicts {
  return new Map(
    checkAll(model)
      .filter((f) => f.check !== 'disagreement')
      .map((f) => [f.id, f.verdict]),
  );
}

function agreement(now: Verdicts, full: Verdicts, way: Counted): number {
  const call = COUNTED[way];
  let same = 0;
  for (const [id, v] of full) {
    const mine = now.get(id);
    if (mine !== undefined && call(mine) === call(v)) same++;
  }
  return same / full.size;
}

const AIM = 0.99;

/** Readings needed in a given order: the first number from which on the aim is met, found by halving. */
function needed(panel: Panel, order: readonly string[], full: Verdicts, way: Counted): number {
  let [low, high] = [0, order.length];
  while (low < high) {
    const k = (low + high) >> 1;
    if (
      agreement(verdicts({ ...panel.bare, readings: order.slice(0, k).map((s) => panel.survey.get(s)!) }), full, way) >=
      AIM
    )
      high = k;
    else low = k + 1;
  }
  return low;
}

/** Where an asker stood when told to stop: readings taken, and how far the verdicts were those of the full survey. */
interface Stop {
  readonly readings: number;
  readonly agreed: Record<Counted, number>;
}

const bothWays = <T>(of: (way: Counted) => T): Record<Counted, T> =>
  Object.fromEntries(WAYS.map((way) => [way, of(way)])) as Record<Counted, T>;

/** Readings needed when the engine is asked after each, counted both ways; and where it said to stop, for each purpose. */
function asked(
  panel: Panel,
  full: Verdicts,
  rest: readonly string[],
): { readings: Record<Counted, number>; stops: Partial<Record<Purpose, Stop>> } {
  const taken = new Set<string>();
  const reached: Partial<Record<Counted, number>> = {};
  let readings: Reading[] = [];
  const stops: Partial<Record<Purpose, Stop>> = {};
  for (;;) {
    const model = { ...panel.bare, readings };
    const now = verdicts(model);
    for (const way of WAYS)
      if (reached[way] === undefined && agreement(now, full, way) >= AIM) reached[way] = taken.size;
    const fresh = (purpose: 'act' | 'watch') =>
      nextReadings(model, checkAll(model), purpose).list.find((r) => panel.survey.has(r.size) && !taken.has(r.size))
        ?.size;
    const stop = (): Stop => ({ readings: taken.size, agreed: bothWays((way) => agreement(now, full, way)) });
    let next = fresh('act');
    if (next === undefined) stops.act ??= stop();
    // Nothing more to do hangs on a reading: then those that tell a watch from a fit.
    next ??= fresh('watch');
    if (next === undefined) stops.watch ??= stop();
    const size = next ?? rest.find((s) => !taken.has(s));
    if ((stops.watch && WAYS.every((way) => reached[way] !== undefined)) || size === undefined)
      return { readings: bothWays((way) => reached[way] ?? taken.size), stops };
    taken.add(size);
    readings = [...readings, panel.survey.get(size)!];
  }
}

function shuffled<T>(list: readonly T[], next: () => number): T[] {
  const out = [...list];
  for (let i = out.length - 1; i > 0; i--) {
    const k = Math.floor(next() * (i + 1));
    [out[i], out[k]] = [out[k]!, out[i]!];
  }
  return out;
}

const median = (values: readonly number[]): number => [...values].sort((a, b) => a - b)[values.length >> 1]!;
const mean = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0) / values.length;

/** `panels` made-up panels like panel A; a full survey of each is about 150 readings. */
export function studyRows(panelA: Model, panels: number): Row[] {
  const orders = ['as asked for', 'drawing order', 'random', 'largest uncertainty'] as const;
  const shares = bothWays(
    () => Object.fromEntries(orders.map((o) => [o, [] as number[]])) as Record<(typeof orders)[number], number[]>,
  );
  const stops: Record<Purpose, Stop[]> = { act: [], watch: [] };
  const sizes: number[] = [];
  for (let seed = 1; seed <= panels; seed++) {
    const next = chanceFrom(seed);
    const panel = simulated(panelA, next);
    const all = [...panel.survey.keys()];
    const full = new Map(
      [...verdicts({ ...panel.bare, readings: [...panel.survey.values()] })].filter(([, v]) => v !== 'unsettled'),
    );
    const mixed = shuffled(all, next);
    const s = skeletonOf(panel.bare);
    const doubt = new Map(all.map((k) => [k, s.book.find(k)?.u ?? 0]));
    for (const bay of s.bays)
      for (const g of feelableAt(s, bay))
        doubt.set(g.key, Math.sqrt(g.computed.reduce((sum, t) => sum + (t.c * t.size.u) ** 2, 0)));
    const doubtful = [...all].sort((a, b) => doubt.get(b)! - doubt.get(a)!);
    const ours = asked(panel, full, mixed);
    sizes.push(all.length);
    for (const purpose of ['act', 'watch'] as const) if (ours.stops[purpose]) stops[purpose].push(ours.stops[purpose]);
    for (const way of WAYS) {
      shares[way]['as asked for'].push(ours.readings[way] / all.length);
      shares[way]['drawing order'].push(needed(panel, all, full, way) / all.length);
      shares[way].random.push(needed(panel, mixed, full, way) / all.length);
      shares[way]['largest uncertainty'].push(needed(panel, doubtful, full, way) / all.length);
    }
  }
  const rows: Row[] = [];
  for (const way of WAYS) {
    const yard = mean(shares[way]['drawing order']);
    for (const [name, list] of Object.entries(shares[way])) {
      rows.push({
        what: `readings to 99 % of ${way}, ${name}`,
        figure: 100 * mean(list),
        unit: '%',
        sense: 'amount',
        note: `median ${(100 * median(list)).toFixed(1)} %, worst ${(100 * Math.max(...list)).toFixed(0)} %`,
        ...(name === 'drawing order'
          ? { ratio: mean(list), against: 'a full survey' }
          : { ratio: mean(list) / yard, against: 'drawing order' }),
      });
    }
  }
  for (const [purpose, list] of Object.entries(stops)) {
    const share = mean(list.map((s) => s.readings / median(sizes)));
    rows.push({
      what: `said to stop: ${purpose === 'act' ? 'nothing to do hangs on a reading' : 'nor telling watch from fits'}`,
      figure: 100 * share,
      unit: '%',
      ratio: share,
      against: 'a full survey',
      sense: 'amount',
      note: `with ${WAYS.map((way) => `${(100 * mean(list.map((s) => s.agreed[way]))).toFixed(1)} % of ${way}`).join(', ')}`,
    });
  }
  return rows;
}
