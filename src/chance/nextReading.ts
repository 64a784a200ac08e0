import { type Chain, chain } from '../chains/chain.ts';
import { chanceSettled, lossAfter, lossNow, type Outlook, type Thresholds } from '../chains/risk.ts';
import type { Size } from '../chains/size.ts';
import { loadingsOf } from '../chains/update.ts';
import { checkAll } from '../checks/checkAll.ts';
import type { Finding } from '../checks/finding.ts';
import { checkRow } from '../model/checkTable.ts';
import { INSTRUMENTS, type Kind, QUANTITIES } from '../model/quantities.ts';
import type { Model } from '../model/schema.ts';
import { isFeeler, type SizeEntry } from '../model/sizeEntries.ts';
import { instrumentUncertainty } from '../model/sizes.ts';
import { feelableAt } from '../parts/layout/feelers.ts';
import type { Skeleton } from '../parts/layout/layout.ts';
import { clearHeight } from '../parts/layout/meeting.ts';
import { skeletonOf } from '../parts/layout/skeleton.ts';

/*
 * Asks: what should be measured next? For every size not yet read, every one a better instrument could read again and
 * every gap a feeler can reach: how many verdicts of the whole skeleton would it save from being unsettled or wrong,
 * and for how many minutes of work. Sizes are normal, so one reading is a rank-one change of their covariance, in
 * closed form.
 *
 * One reading alone often cannot settle a verdict that two would. So a finding's fall is never less than the reading's
 * share (of the variance that can be measured away) of what measuring everything in that finding would bring.
 *
 * Asked for what is to be done, fits and watch are one answer: leave it. Asked to tell watch from fits as well, a
 * verdict counts as unsettled while its interval lies across the fits threshold: what is worth reading for its own
 * sake, once nothing that must be done hangs on a reading any more.
 */

/** What the readings are for: to know what must be done, or to tell watch from fits too. */
export type Purpose = 'act' | 'watch';

/** An instrument nobody has used on this panel has to be found first: twice the minutes, picked. */
const FETCH = 2;

/** Fewest verdicts saved for which it is worth picking up an instrument: picked. */
const WORTH = 0.05;

export interface NextReading {
  /** The size to read, as readings name it: `M5.length`, `gap.M2.front`, `chord.M5`. */
  readonly size: string;
  readonly instrument: string;
  readonly station: string | null;
  /** Whether it was read before. */
  readonly again: boolean;
  /** Expected fall in the number of unsettled or wrong verdicts. */
  readonly saves: number;
  readonly minutes: number;
  /** `saves` per minute: what the list is ranked by. */
  readonly rate: number;
  /** Ids of the findings, unsettled now, that it more likely than not settles. */
  readonly settles: readonly string[];
  /** Ids of unsettled findings that it brings nearer. */
  readonly narrows: readonly string[];
  /** What to do, in the imperative, without a full stop: "Stand M5 between the webs and feel the end gap". */
  readonly todo: string;
  /** What it does: "it settles one finding". */
  readonly does: string;
  /** Both in one. */
  readonly sentence: string;
}

export interface NextReadings {
  /** Best first; empty when it is time to stop. */
  readonly list: readonly NextReading[];
  readonly stop: boolean;
  /** The first reading's sentence, or "Stop measuring: no reading would change a verdict." */
  readonly sentence: string;
}

/** A reading that could be taken: what it sees, with what. */
interface Candidate {
  readonly entry: SizeEntry;
  readonly sees: Chain;
  readonly instrument: string;
  readonly u: number;
  readonly minutes: number;
  readonly again: boolean;
  /** Set where the reading takes the place of a drawing value, whose uncertainty this is. */
  readonly replaces: number | undefined;
}

/** What a finding rests on, in independent standard causes, scaled to its own uncertainty. */
interface Row {
  readonly finding: Finding;
  readonly limits: Thresholds;
  readonly loss: number;
  /** Variance that could be measured away with the finest instruments, and the fall in loss that would bring. */
  readonly removable: number;
  readonly most: number;
  readonly loadings: ReadonlyMap<string, number>;
}

/** A verdict less likely wrong than this is left alone. */
const RARE = 0.005;

/** A cause that carries less than this share of what a reading sees is looked at only where a larger one leads. */
const SMALL = 0.02;

interface Instrument {
  readonly id: string;
  readonly u: number;
  readonly fetch: number;
}

function instrumentsFor(model: Model, kind: Kind, used: ReadonlySet<string>): Instrument[] {
  const ids = new Set([
    ...Object.keys(QUANTITIES[kind].u),
    ...model.instruments.filter((i) => i.u[kind] !== undefined).map((i) => i.id),
  ]);
  return [...ids].map((id) => ({
    id,
    u: instrumentUncertainty(model, kind, id) ?? Number.POSITIVE_INFINITY,
    fetch: used.has(id) || model.instruments.some((i) => i.id === id) ? 1 : FETCH,
  }));
}

/** Sizes of the panel that stand in some finding's chain. */
function sizesIn(findings: readonly Finding[], skeleton: Skeleton): Map<string, Size> {
  const sizes = new Map<string, Size>();
  for (const f of findings)
    for (const t of f.restsOn)
      if (!sizes.has(t.size.key) && skeleton.book.entries.has(t.size.key)) sizes.set(t.size.key, t.size);
  return sizes;
}

function candidatesOf(skeleton: Skeleton, findings: readonly Finding[]): Candidate[] {
  const { model, book } = skeleton;
  const used = new Set(model.readings.map((r) => r.instrument));
  const all: Candidate[] = [];
  const byKind = new Map<Kind, Instrument[]>();
  const offer = (entry: SizeEntry, sees: Chain, before: number, replaces: number | undefined): void => {
    let instruments = byKind.get(entry.kind);
    if (!instruments) {
      instruments = instrumentsFor(model, entry.kind, used);
      byKind.set(entry.kind, instruments);
    }
    const again = book.readingsOf(entry.key).length > 0;
    const had = new Set(again ? book.readingsOf(entry.key).map((r) => r.instrument) : []);
    for (const i of instruments) {
      if (had.has(i.id) || !(i.u < before)) continue;
      all.push({
        entry,
        sees,
        instrument: i.id,
        u: i.u,
        minutes: QUANTITIES[entry.kind].minutes * i.fetch,
        again,
        replaces,
      });
    }
  };
  for (const [key, size] of sizesIn(findings, skeleton)) {
    const entry = book.entryOf(key)!;
    const drawn = size.origin !== 'measured' && !size.shared && size.u > 0;
    offer(entry, chain([1, size]), drawn ? Number.POSITIVE_INFINITY : size.u, drawn ? size.u : undefined);
  }
  for (const bay of skeleton.bays) {
    for (const spar of ['front', 'rear'] as const) {
      const entry = book.entryOf(`${spar}.clear@${bay.station.id}`);
      if (
        entry &&
        !book.find(entry.key) &&
        skeleton.placesAt(bay.station.id).some((p) => p.spar === spar && p.spec.ends === 'nests')
      )
        offer(entry, clearHeight(skeleton, spar, bay.station), Number.POSITIVE_INFINITY, undefined);
    }
    for (const gap of feelableAt(skeleton, bay)) {
      const entry = book.entryOf(gap.key);
      if (entry && book.readingsOf(gap.key).length === 0)
        offer(entry, gap.computed, Number.POSITIVE_INFINITY, undefined);
    }
  }
  return all;
}

/** What reading a candidate would do to a finding with this covariance to what is seen, and variance of that. */
function outlook(c: Candidate, u2: number, covariance: number, seen: number): Outlook {
  if (c.replaces !== undefined) {
    const k2 = seen > 0 ? (covariance / seen) ** 2 : 0;
    return { u: Math.sqrt(Math.max(0, u2 - k2 * (seen - c.u ** 2))), spread: k2 * (seen + c.u ** 2), tied: k2 * seen };
  }
  const spread = Math.min(u2, covariance ** 2 / (seen + c.u ** 2));
  return { u: Math.sqrt(u2 - spread), spread, tied: spread };
}

/** What findings rest on, by cause. Findings that are surely right as they stand are left out. */
function rowsOf(skeleton: Skeleton, findings: readonly Finding[], purpose: Purpose): Map<string, Row[]> {
  const { model, book } = skeleton;
  const used = new Set(model.readings.map((r) => r.instrument));
  const finest = new Map<string, number>();
  const least = (size: Size): number => {
    const entry = book.entryOf(size.key);
    if (!entry) return size.u;
    let u = finest.get(entry.kind);
    if (u === undefined) {
      u = Math.min(...instrumentsFor(model, entry.kind, used).map((i) => i.u));
      finest.set(entry.kind, u);
    }
    return Math.min(size.u, u);
  };
  const byCause = new Map<string, Row[]>();
  for (const f of findings) {
    if (checkRow(f.check).unasked || !(f.u > 0)) continue;
    const limits = purpose === 'act' ? f.limits : { fits: f.limits.fits, act: f.limits.fits };
    const loss = lossNow(f.value, f.u, limits);
    if (loss < RARE) continue;
    const loadings = loadingsOf(f.restsOn);
    let plain = 0;
    for (const u of loadings.values()) plain += u * u;
    if (!(plain > 0)) continue;
    const scale = f.u / Math.sqrt(plain);
    let left = 0;
    for (const t of f.restsOn) left += (scale * t.c * least(t.size)) ** 2;
    const removable = Math.max(0, f.u ** 2 - left);
    const most =
      loss === 1
        ? Math.max(
            0,
            loss -
              lossAfter(f.value, f.u, limits, {
                u: Math.sqrt(Math.max(0, f.u ** 2 - removable)),
                spread: removable,
                tied: removable,
              }),
          )
        : 0;
    for (const [cause, u] of loadings) loadings.set(cause, scale * u);
    const row: Row = { finding: f, limits, loss, removable, most, loadings };
    for (const [cause, c] of loadings) {
      if (c * c < SMALL * SMALL * f.u * f.u) continue;
      const here = byCause.get(cause);
      if (here) here.push(row);
      else byCause.set(cause, [row]);
    }
  }
  return byCause;
}

interface Effect {
  readonly saves: number;
  readonly settles: Finding[];
  readonly narrows: Finding[];
}

function effectOf(c: Candidate, byCause: ReadonlyMap<string, readonly Row[]>): Effect {
  const sees = loadingsOf(c.sees);
  let seen = 0;
  for (const u of sees.values()) seen += u * u;
  const covariances = new Map<Row, number>();
  for (const [cause, u] of sees) {
    if (u * u < SMALL * seen) continue;
    for (const row of byCause.get(cause) ?? []) {
      if (covariances.has(row)) continue;
      let sum = 0;
      for (const [k, v] of sees) sum += v * (row.loadings.get(k) ?? 0);
      covariances.set(row, sum);
    }
  }
  let saves = 0;
  const settles: Finding[] = [];
  const narrows: Finding[] = [];
  for (const [row, covariance] of covariances) {
    const { finding: f, limits, loss } = row;
    const after = outlook(c, f.u ** 2, covariance, seen);
    if (after.spread < 1e-6 * f.u ** 2) continue;
    let fall = loss - lossAfter(f.value, f.u, limits, after);
    if (loss === 1) {
      const share = row.removable > 0 ? Math.min(1, (f.u ** 2 - after.u ** 2) / row.removable) : 0;
      fall = Math.max(fall, share * row.most);
      if (chanceSettled(f.value, limits, after) >= 0.5) settles.push(f);
      else if (share > 0.05) narrows.push(f);
    }
    saves += fall;
  }
  return { saves, settles, narrows };
}

const COUNT = ['no', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine', 'ten', 'eleven', 'twelve'];
const findingsOf = (n: number): string => `${COUNT[n] ?? n} ${n === 1 ? 'finding' : 'findings'}`;
const withA = (instrument: string): string => `with ${/^[aeiou]/.test(instrument) ? 'an' : 'a'} ${instrument}`;

function whatToDo(c: Candidate): string {
  const { name } = c.entry;
  const { part, end, side } = c.entry.of;
  if (isFeeler(c.entry)) {
    if (c.entry.kind === 'step')
      return `Put a straightedge over the cap and ${part}, ${end} end, and feel the steps with leaves, top and bottom`;
    if (end === undefined) return `Stand ${part} between the webs and feel the end gap`;
    return side
      ? `Put ${part} in place and feel the gap at the ${side} of its ${end} end`
      : `Put ${part} between the caps and feel the gap at its ${end} end, top and bottom`;
  }
  return `Measure the ${name}${c.again ? ' again' : ''} ${withA(INSTRUMENTS[c.instrument] ?? c.instrument)}`;
}

function saying(c: Candidate, e: Effect, purpose: Purpose): Pick<NextReading, 'todo' | 'does' | 'sentence'> {
  const [todo, does] = [whatToDo(c), whatItDoes(e, purpose)];
  return { todo, does, sentence: `${todo}: ${does}.` };
}

function whatItDoes({ settles, narrows }: Effect, purpose: Purpose): string {
  const settled = findingsOf(settles.length);
  if (settles.length > 0 && purpose === 'watch')
    return `it tells whether ${settled} ${settles.length === 1 ? 'fits' : 'fit'} or must be watched`;
  if (settles.length > 0) return `it settles ${settled}`;
  if (narrows.length > 0) return `it brings ${findingsOf(narrows.length)} nearer`;
  return 'it makes sure of what looks settled';
}

const STOP: Record<Purpose, string> = {
  act: 'Stop measuring: no reading would change a verdict.',
  watch: 'Stop measuring: no reading would turn a watch into a fit.',
};

/**
 * What to measure next, best first: most verdicts saved per minute. One entry a size, with the instrument that does
 * best.
 * `findings` are those of the model; give them where they are at hand. `purpose` is what the readings are for.
 *
 * @example panel A with a 0.032 in channel at M5: "Stand M5 between the webs and feel the end gap: it settles one finding."
 */
export function nextReadings(
  model: Model,
  findings: readonly Finding[] = checkAll(model),
  purpose: Purpose = 'act',
): NextReadings {
  const skeleton = skeletonOf(model);
  const byCause = rowsOf(skeleton, findings, purpose);
  const best = new Map<string, NextReading>();
  const open = new Set([...byCause.values()].flatMap((rows) => rows.map((r) => r.finding)));
  for (const c of candidatesOf(skeleton, [...open])) {
    const effect = effectOf(c, byCause);
    if (effect.saves < WORTH) continue;
    const rate = effect.saves / c.minutes;
    const had = best.get(c.entry.key);
    if (had && had.rate >= rate) continue;
    best.set(c.entry.key, {
      size: c.entry.key,
      instrument: c.instrument,
      station: c.entry.station ?? null,
      again: c.again,
      saves: effect.saves,
      minutes: c.minutes,
      rate,
      settles: effect.settles.map((f) => f.id),
      narrows: effect.narrows.map((f) => f.id),
      ...saying(c, effect, purpose),
    });
  }
  const list = [...best.values()].sort((a, b) => b.rate - a.rate || (a.size < b.size ? -1 : 1));
  return { list, stop: list.length === 0, sentence: list[0]?.sentence ?? STOP[purpose] };
}
