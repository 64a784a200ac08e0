import { type Chain, shares } from '../../src/chains/chain.ts';
import { nextReadings } from '../../src/chance/nextReading.ts';
import { checkAll } from '../../src/checks/checkAll.ts';
import { todoOf, type Want } from '../../src/checks/evidence.ts';
import type { Finding } from '../../src/checks/finding.ts';
import { computedNose } from '../../src/checks/fit/noseLine.ts';
import { nominalDiagonals } from '../../src/checks/fit/square.ts';
import type { Gate, GateItem } from '../../src/drilling/gate.ts';
import { gatesOf } from '../../src/drilling/gates.ts';
import { alongAt } from '../../src/model/along.ts';
import { measureMore } from '../../src/model/edits/edits.ts';
import { stationTick, ticked } from '../../src/model/edits/ticks.ts';
import { QUANTITIES, UPRIGHT } from '../../src/model/quantities.ts';
import type { Joint, Model } from '../../src/model/schema.ts';
import { instrumentUncertainty } from '../../src/model/sizes.ts';
import { feelableAt } from '../../src/parts/layout/feelers.ts';
import { clearHeight } from '../../src/parts/layout/meeting.ts';
import { skeletonOf } from '../../src/parts/layout/skeleton.ts';
import { Draw } from '../random-panel.ts';

/*
 * A builder with a hidden truth: a panel made as drawn, its parts within a share of their tolerance, read with the usual
 * instruments in the order in which the gates ask. The readings err as the instruments do; nothing is read that was not asked.
 */

/** How far parts come out, as a share of their drawing tolerance. */
const MADE_WITHIN = 1 / 3;
/** Height of the front spar's lower edge over the bench, mm. */
const OVER_BENCH = 60;

/** Nobody reads one size more often than this. */
const MOST_AGAIN = 5;

const isDispute = (it: GateItem): boolean => it.finding?.check === 'disagreement';

const DAY = '2026-06-06';
const WHO = { by: 'AB', date: DAY };

/** What every size of a panel truly is. Sizes a drawing gives lie within a share of their tolerance; the panel stands square, straight and true. */
function truthOf(model: Model, d: Draw): (key: string) => number {
  const skeleton = skeletonOf({ ...model, readings: [] });
  const { book, bays } = skeleton;
  const truth = new Map<string, number>();
  // Bends of the ribs, and a tip rib's height at the front spar, come from draws of their own.
  const apart = new Draw(1);
  for (const e of book.entries.values()) {
    if (e.nominal === undefined) continue;
    const tolerance = (book.find(e.key)?.tolerance ?? 0) * MADE_WITHIN;
    const isApart = e.path?.[0] === 'ribs' && (e.path[2] === 'radius' || e.path[2] === 'height');
    const from = isApart ? apart : d;
    truth.set(e.key, e.nominal + from.between(-tolerance, tolerance));
  }
  const sum = (f: Chain): number => f.reduce((s, t) => s + t.c * (truth.get(t.size.key) ?? t.size.best), 0);
  for (const [i, bay] of bays.entries()) {
    const { id, y, washout } = bay.station;
    for (const spar of ['front', 'rear'] as const)
      if (model.spars[spar]) truth.set(`${spar}.clear@${id}`, sum(clearHeight(skeleton, spar, bay.station)));
    const web = book.find(`webs@${id}`)?.best ?? 1;
    truth.set(`height.front@${id}`, OVER_BENCH);
    const turned = (washout * Math.PI * web) / 180;
    truth.set(`height.rear@${id}`, OVER_BENCH + alongAt(model.survey.rearHigher, y) - turned);
    truth.set(`level@${id}`, washout);
    truth.set(`plumb@${id}`, Math.tan((washout * Math.PI) / 180) * UPRIGHT);
    const nose = computedNose(skeleton, bay, 'straight');
    if (nose) truth.set(`nose@${id}`, sum(nose));
    for (const f of feelableAt(skeleton, bay)) truth.set(f.key, sum(f.computed));
    const next = bays[i + 1];
    if (!next) continue;
    const webs = (s: string): number => book.nominal(`webs@${s}`) ?? 0;
    const { ab, ba } = nominalDiagonals(next.station.y - y, webs(id), webs(next.station.id));
    truth.set(`diagonal@${id}-${next.station.id}`, ab);
    truth.set(`diagonal@${next.station.id}-${id}`, ba);
  }
  return (key) => truth.get(key) ?? 0;
}

/** A draw from the normal distribution (Box and Muller). */
const normal = (d: Draw): number =>
  Math.sqrt(-2 * Math.log(Math.max(d.next(), 1e-12))) * Math.cos(2 * Math.PI * d.next());

/** The builder at work: the panel as the file has it, and how much was done. */
export class Reader {
  model: Model;
  readings = 0;
  ticks = 0;
  readonly #truth: (key: string) => number;
  readonly #draw: Draw;

  constructor(model: Model, seed: number) {
    this.#draw = new Draw(seed);
    this.model = model;
    this.#truth = truthOf(model, this.#draw);
  }

  /** Reads one size with an instrument, the usual one unless told. */
  read(size: string, instrument?: string): void {
    const entry = skeletonOf(this.model).book.entries.get(size);
    if (!entry) throw new RangeError(`there is no size "${size}" to read`);
    const usual = Object.keys(QUANTITIES[entry.kind].u)[0]!;
    const used = instrument ?? usual;
    const u = instrumentUncertainty(this.model, entry.kind, used) ?? 0;
    const value = this.#truth(size) + u * normal(this.#draw);
    this.readings++;
    this.model = measureMore(this.model, size, { value, instrument: used, date: DAY, sure: true }).apply(this.model);
  }

  tick(step: string): void {
    this.ticks++;
    this.model = ticked(step, step, WHO).apply(this.model);
  }

  #look(want: Want): void {
    const [key] = want.keys;
    if (want.tick !== undefined) this.tick(want.tick);
    else if (key !== undefined) this.read(key);
    else throw new Error(`nothing can be done about it: ${todoOf(want)}`);
  }

  /** Does what a gate asks until it says yes or nothing more can be done; the gate as it then is. */
  settle(id: Gate['id'], most = 400): Gate {
    for (let i = 0; i < most; i++) {
      const gate = gatesOf(this.model).find((g) => g.id === id)!;
      const open = gate.items.filter((it) => it.answer !== 'yes');
      const asked = open.find((it) => it.asks.length > 0);
      if (asked) for (const want of asked.asks) this.#look(want);
      else if (!this.#again(open)) return gate;
    }
    return gatesOf(this.model).find((g) => g.id === id)!;
  }

  /** Reads what would settle an item that is too close to call, or a reading said to be worth repeating; false where the program knows of nothing. */
  #again(open: readonly GateItem[]): boolean {
    const findings = open.flatMap((it) =>
      it.finding && (it.answer === 'unsettled' || isDispute(it)) ? [it.finding] : [],
    );
    if (findings.length === 0) return false;
    const [next] = nextReadings(this.model).list;
    if (next) {
      this.read(next.size, next.instrument);
      return true;
    }
    // Its sentence says what to measure again, and the mean of more readings lies nearer the truth.
    for (const finding of findings) {
      const size = this.#worthRepeating(finding);
      if (size === undefined) continue;
      this.read(size);
      return true;
    }
    return false;
  }

  /** Of the sizes that carry a finding's doubt, the one read least often. */
  #worthRepeating(finding: Finding): string | undefined {
    const { entries } = skeletonOf(this.model).book;
    const chain = finding.restsOn.filter((t) => entries.has(t.size.key));
    const taken = (key: string): number => this.model.readings.filter((r) => r.size === key).length;
    const heavy = shares(chain).flatMap((share, i) => (share > 0.15 ? [chain[i]!.size.key] : []));
    const [least] = heavy.sort((a, b) => taken(a) - taken(b));
    return least === undefined || taken(least) > MOST_AGAIN ? undefined : least;
  }

  #drill(joints: readonly Joint[], state: 'pilot' | 'final'): void {
    const which = new Set(joints);
    const layer = (j: Joint, part: string, had: Joint['holes'][number]['layers'][number] | undefined) => {
      if (had && (had.state !== 'none' || state === 'final'))
        return { ...had, state, size: state === 'final' ? j.final : had.size };
      return { part, state, size: state === 'final' ? j.final : j.pilot };
    };
    const drilled = (j: Joint): Joint => ({
      ...j,
      holes: j.holes.map((h) => ({
        ...h,
        layers: j.layers.map((part) =>
          layer(
            j,
            part,
            h.layers.find((l) => l.part === part),
          ),
        ),
      })),
    });
    this.model = { ...this.model, joints: this.model.joints.map((j) => (which.has(j) ? drilled(j) : j)) };
  }

  /** Through the stages to the skin: pilots where the gate lets them be drilled, final where it lets them be opened, deburred. */
  build(): Record<Gate['id'], Gate['answer']> {
    const said: Record<Gate['id'], Gate['answer']> = { pilots: 'not asked', final: 'not asked', skin: 'not asked' };
    const last = this.model.stages.at(-1)?.id;
    if (last !== undefined) this.model = { ...this.model, now: last };
    const rows = this.model.joints.filter((j) => !j.layers.includes('skin'));
    said.pilots = this.settle('pilots').answer;
    if (said.pilots !== 'yes') return said;
    this.#drill(rows, 'pilot');
    said.final = this.settle('final').answer;
    if (said.final !== 'yes') return said;
    this.#drill(
      this.model.joints.filter((j) => !j.layers.includes('skin')),
      'final',
    );
    for (const station of new Set(rows.map((j) => j.station))) this.tick(stationTick('deburred', station));
    said.skin = this.settle('skin').answer;
    return said;
  }
}

/** How many readings one full survey takes: every size that a gate could ask for, once, with the usual instrument. */
export function fullSurvey(model: Model): number {
  const { book, bays } = skeletonOf(model);
  const once = new Set([
    'thickness',
    'depth',
    'clear',
    'height',
    'length',
    'noseLength',
    'tipLength',
    'webToWeb',
    'radius',
  ]);
  const parts = [...book.entries.values()].filter((e) => once.has(e.kind)).length;
  // At each station lean, skew, both heights and the string at each spar.
  return parts + bays.length * 6;
}

/** The same panel with everything its gates ask for looked at, and found as it is known now: a size no drawing gives is found square, straight and true. */
export function lookedAt(model: Model, ids: readonly Gate['id'][] = ['pilots', 'final', 'skin']): Model {
  const truth = truthOf({ ...model, tolerances: {} }, new Draw(1));
  let now = model;
  for (let round = 0; round < 12; round++) {
    const wants = gatesOf(now)
      .filter((g) => ids.includes(g.id))
      .flatMap((g) => g.items.flatMap((i) => i.asks));
    const todo = new Map(wants.map((w) => [w.tick ?? w.keys[0] ?? w.name, w]));
    if (todo.size === 0) return felt(now);
    for (const want of todo.values()) {
      const [size] = want.keys;
      if (want.tick !== undefined) now = ticked(want.tick, want.name, WHO).apply(now);
      else if (size !== undefined) now = found(now, size, truth(size));
    }
  }
  return now;
}

/** Every rib that is too close to call between the webs, or under the spar that rests on all of them, felt there, as its parts say. */
function felt(model: Model): Model {
  const close = checkAll(model).filter(
    (f) => (f.check === 'chord-gap' || f.check === 'seating') && f.verdict === 'unsettled',
  );
  // A spar's seat hangs on every rib it may rest on.
  const isSeat = close.some((f) => f.check === 'seating');
  const all = model.ribs.flatMap((r) => (r.kind === 'main' ? [r.id] : []));
  const parts = isSeat ? all : [...new Set(close.map((f) => f.at.part))];
  return parts.reduce((m, part) => {
    const value = checkAll(model).find((f) => f.check === 'chord-gap' && f.at.part === part)?.value ?? 0;
    const reading = { value, instrument: 'feeler', date: DAY, sure: true as const };
    return measureMore(m, `chord.${part}`, reading).apply(m);
  }, model);
}

function found(model: Model, size: string, otherwise: number): Model {
  const { book } = skeletonOf(model);
  const entry = book.entries.get(size)!;
  const value = book.find(size)?.best ?? otherwise;
  const instrument = Object.keys(QUANTITIES[entry.kind].u)[0]!;
  return measureMore(model, size, { value, instrument, date: DAY, sure: true }).apply(model);
}
