import { checkAll } from '../checks/checkAll.ts';
import { against, fromNominal, nosesOf } from '../checks/noseLine.ts';
import { limitFor } from '../model/limits.ts';
import type { Model, Rib } from '../model/schema.ts';
import { applyEdit } from '../model/edits.ts';
import { skeletonOf } from '../parts/skeleton.ts';
import { aloneAt } from './alone.ts';
import { bentTogether } from './bentTogether.ts';
import { drilledHoles } from './holesAt.ts';
import { type Choice, choicesAt, type NoseWish } from './choices.ts';
import { type Conflict, conflictsOf } from './conflicts.ts';
import { type Core, type CoreChoice, solveCore } from './core.ts';
import { farQuestion, type FarQuestion } from './leftover.ts';
import { nearBest } from './nearBest.ts';
import { likes, packRemedy } from './offers.ts';
import { pullStraight, swap } from './placing.ts';
import { betterFirst, type Plan, planOf, unbeaten, workOf } from './plan.ts';
import { type Before, counts, drawnOnly, levelOf, reachOf } from './reach.ts';
import type { Remedy } from './remedy.ts';
import { GRAM, type Weights, type Wish, WISHES } from './wishes.ts';

/*
 * What is the least work that makes it true?
 *
 * One choice at each station (`choices.ts`), at most one exchange of like ribs, the jig packed or not, a bowed spar pulled
 * straight or not; of all their combinations the best for each wish (`wishes.ts`). Best values count: a finding past its
 * act threshold is at act or more likely than not, whatever the doubt; doubt is for measuring. Two kinds are aside. A
 * finding that rests on the drawing alone and is made no worse: measure it first. An echo: no remedy is offered for one;
 * while searching its kink does count beside its source's, for both go together, and no plan's counts show it.
 *
 * Exact: what a choice does at its own station is asked of the checks themselves; the noses join stations and go through
 * dynamic programming (`core.ts`); how a straight spar rests on all ribs and how the skin strip bends over many noses can
 * only add findings, so every combination whose core is not yet worse than the best known is asked for those
 * (`nearBest.ts`) until none is left or the allowed steps are used up; then the proof says what could still be gained.
 * Every plan returned has been applied to the whole panel and all checks asked again.
 *
 * Pure: no clock. A caller takes as many steps as it has time for, and stops by taking no more.
 */

export interface Settings {
  /** Plans returned at most, doing nothing among them. */
  readonly plans?: number;
  /** Combinations looked at for each wish beyond the core, in thousands of steps. */
  readonly nodes?: number;
  readonly wishes?: readonly Wish[];
  /** Whether like ribs may be exchanged. Ribs already drilled are not: their pilots would not line up. */
  readonly swaps?: boolean;
}

export interface Counts {
  readonly beyond: number;
  readonly outside: number;
  readonly work: number;
}

export interface Progress {
  readonly phase: 'choices' | 'search' | 'check';
  readonly done: number;
  readonly of: number;
  /** Best plan so far. */
  readonly best?: Plan | undefined;
  /** No plan of the choices offered can leave or cost less than this. */
  readonly bound?: Counts | undefined;
}

/** How sure it is that a plan is the best for its wish. */
export interface Proof {
  readonly wish: string;
  readonly proven: boolean;
  /** What the plan leaves and costs by the search's own count, echoes counted with their source. */
  readonly found: Counts;
  /** What any plan leaves and costs at the least. */
  readonly bound: Counts;
  readonly sentence: string;
}

export interface Outcome {
  /** Best first; doing nothing last. */
  readonly plans: readonly Plan[];
  /** By plan id. */
  readonly proofs: ReadonlyMap<string, Proof>;
  readonly conflicts: readonly Conflict[];
  /** How many combinations the choices make. */
  readonly combinations: number;
}

/** A panel with its ribs where they stand, or with two exchanged, and what may be done at each station of it. */
export interface Variant {
  readonly remedies: readonly Remedy[];
  readonly model: Model;
  readonly choices: readonly (readonly Choice[])[];
  readonly far: FarQuestion;
}

/** Something done to the whole panel that joins with nothing else. */
interface Whole {
  readonly remedies: readonly Remedy[];
  readonly beyond: number;
  readonly outside: number;
  readonly off: number;
}

const WHOLE_CHECKS = new Set(['twist', 'twist-step', 'bow']);

function wholeOf(model: Model, after: Model, remedies: readonly Remedy[]): Whole {
  const before = drawnOnly(model);
  let [beyond, outside, off] = [0, 0, 0];
  for (const f of checkAll(after)) {
    if (!WHOLE_CHECKS.has(f.check)) continue;
    const reach = reachOf(f.value, f.limits);
    if (!counts(f.id, reach, before)) continue;
    const l = levelOf(reach);
    if (l === 2) beyond++;
    else if (l === 1) outside++;
    off += Math.min(reach, 3) ** 2;
  }
  return { remedies, beyond, outside, off };
}

/** Packing the jig and pulling the spars straight, each alone and together, and none of them. */
function wholesOf(model: Model): Whole[] {
  const none = wholeOf(model, model, []);
  const sets: Remedy[][] = [[]];
  const join = (more: readonly Remedy[]): void => { if (more.length > 0) sets.push(...sets.map((s) => [...s, ...more])); };
  const wrong = (check: string): boolean => checkAll(model).some((f) => f.check.startsWith(check) && levelOf(reachOf(f.value, f.limits)) > 0);
  if (wrong('twist')) join(packRemedy(model));
  if (wrong('bow')) {
    for (const spar of ['front', 'rear'] as const) if (model.readings.some((r) => r.size.startsWith(`${spar}.bow@`) && r.value !== 0)) join([pullStraight(spar, model.stations[0]!.id)]);
  }
  return [none, ...sets.slice(1).flatMap((remedies) => {
    let now = model;
    for (const r of remedies) {
      const done = applyEdit(now, r.edit);
      if (!done.ok) return [];
      now = done.model;
    }
    return [wholeOf(model, now, remedies)];
  })];
}

/** What may be wanted of each nose, by station. */
function noseWishes(model: Model, before: Before): Map<string, NoseWish> {
  const noses = nosesOf(skeletonOf(model), 'straight');
  const [first, last] = [noses[0], noses[noses.length - 1]];
  const level = new Map<string, number>();
  for (const f of checkAll(model)) {
    if ((f.check !== 'nose-kink' && f.check !== 'nose-line') || f.echoOf || !f.station) continue;
    const reach = reachOf(f.value, f.limits);
    if (counts(f.id, reach, before)) level.set(f.station, Math.max(level.get(f.station) ?? 0, levelOf(reach)));
  }
  return new Map(noses.map((n) => {
    const inner = n !== first && n !== last && first && last;
    return [n.bay.station.id, { off: inner ? [fromNominal(n), against(n, first, last).value] : [fromNominal(n)], level: level.get(n.bay.station.id) ?? 0 }];
  }));
}

/** Station ids in order along the span. */
const along = (model: Model): string[] => skeletonOf(model).bays.map((b) => b.station.id);

const NO_WISH: NoseWish = { off: [], level: 0 };

/** Asks every choice at some stations of a panel; yields once a choice. */
function* askAll(model: Model, stations: readonly string[], before: Before): Generator<void, Map<string, Choice[]>> {
  const wishes = noseWishes(model, before);
  const all = new Map<string, Choice[]>();
  for (const id of stations) all.set(id, yield* choicesAt(aloneAt(model, id), wishes.get(id) ?? NO_WISH, before));
  return all;
}

const worth = (w: Weights, c: { readonly beyond: number; readonly outside: number; readonly off: number }): number => w.beyond * c.beyond + w.outside * c.outside + c.off;

/** The core of a variant for a wish; `most` bars noses further off the end line than this. */
function coreOf(v: Variant, wish: Wish, before: Before, most = Number.POSITIVE_INFINITY): Core {
  const { bays } = skeletonOf(v.model);
  const [kinkLimit, lineLimit] = [limitFor(v.model, 'nose-kink'), limitFor(v.model, 'nose-line')];
  const w = wish.weights;
  const mark = bays.map((b) => b.nose?.id ?? b.tip?.id ?? b.station.id);
  const price = (id: string, value: number, limit: typeof kinkLimit): number => {
    const reach = reachOf(value, limit);
    if (!counts(id, reach, before)) return 0;
    const l = levelOf(reach);
    return (l === 2 ? w.beyond : l === 1 ? w.outside : 0) + Math.min(reach, 3) ** 2;
  };
  return {
    ys: bays.map((b) => b.station.y),
    choices: v.choices.map((list) => list.map((c): CoreChoice => ({ nose: c.nose, cost: wish.allows(c) ? worth(w, c) + w.work * c.work + GRAM * c.mass : Number.POSITIVE_INFINITY }))),
    kink: (i, q) => price(`nose-kink:${mark[i]!}`, q, kinkLimit),
    line: (i, r) => (Math.abs(r) > most + 1e-9 ? Number.POSITIVE_INFINITY : price(`nose-line:${mark[i]!}`, r, lineLimit)),
    end: (i, e) => price(`nose-line:${mark[i]!}`, e, lineLimit),
  };
}

interface Solved {
  readonly variant: Variant;
  readonly picks: readonly number[];
  readonly cost: number;
  /** No combination costs less. */
  readonly bound: number;
}

const far = (v: Variant, picks: readonly number[]): ReturnType<FarQuestion> => v.far(picks.map((p, i) => v.choices[i]![p]!.chord), picks.map((p, i) => v.choices[i]![p]!.nose));

/** The best of one variant for a wish, seating and forced fit counted; yields every thousand steps. */
function* solve(v: Variant, core: Core, wish: Wish, under: number, nodes: number): Generator<void, Solved> {
  const extra = v.remedies.length > 0 ? wish.weights.work * workOf(v.remedies) : 0;
  const start = solveCore(core);
  if (start.cost === Number.POSITIVE_INFINITY) return { variant: v, picks: [], cost: start.cost, bound: start.cost };
  const whole = (cost: number, picks: readonly number[]): number => {
    const f = far(v, picks);
    return cost + extra + wish.weights.beyond * f.beyond + wish.weights.outside * f.outside;
  };
  let picks = start.picks;
  let cost = whole(start.cost, picks);
  const bound = start.cost + extra;
  if (cost <= bound + 1e-9 || bound >= under) return { variant: v, picks, cost, bound };
  let left = nodes;
  for (const found of nearBest(core, () => Math.min(cost, under) - extra - 1e-9)) {
    yield;
    if (found) {
      const now = whole(found.cost, found.picks);
      if (now < cost) [cost, picks] = [now, found.picks];
    } else if (--left <= 0) return { variant: v, picks, cost, bound };
  }
  return { variant: v, picks, cost, bound: cost };
}

/** Largest departure from the end line that must be left so that no more findings are left than without asking for a straight one. */
function straightest(v: Variant, wish: Wish, before: Before): number {
  const findings = (cost: number): number => Math.floor(cost / wish.weights.outside + 1e-6);
  const free = solveCore(coreOf(v, wish, before)).cost;
  if (free === Number.POSITIVE_INFINITY) return free;
  const { bays } = skeletonOf(v.model);
  const at = bays.flatMap((_, i) => (v.choices[i]!.some((c) => c.nose !== undefined) ? [i] : []));
  if (at.length < 3) return Number.POSITIVE_INFINITY;
  const [a, b] = [at[0]!, at[at.length - 1]!];
  const places = (i: number): number[] => [...new Set(v.choices[i]!.filter(wish.allows).map((c) => c.nose ?? 0))];
  const values: number[] = [0];
  for (const e of places(a)) {
    for (const f of places(b)) {
      for (const i of at.slice(1, -1)) {
        const t = (bays[i]!.station.y - bays[a]!.station.y) / (bays[b]!.station.y - bays[a]!.station.y);
        for (const n of places(i)) values.push(Math.abs(n - (1 - t) * e - t * f));
      }
    }
  }
  values.sort((p, q) => p - q);
  let [low, high] = [0, values.length - 1];
  while (low < high) {
    const mid = (low + high) >> 1;
    const cost = solveCore(coreOf(v, wish, before, values[mid]!)).cost;
    if (cost < Number.POSITIVE_INFINITY && findings(cost) <= findings(free)) high = mid;
    else low = mid + 1;
  }
  return values[low]!;
}

/** Below this nothing is gained by straightening: what the readings of the nose line can tell, mm. */
function tellable(model: Model): number {
  const inner = checkAll(model).filter((f) => f.check === 'nose-line').map((f) => f.u);
  return inner.length === 0 ? 0 : Math.min(...inner);
}

const countsOf = (cost: number, w: Weights): Counts => {
  const beyond = Math.floor(cost / w.beyond + 1e-9);
  const rest = cost - beyond * w.beyond;
  const outside = w.outside >= 1e8 ? Math.floor(rest / w.outside + 1e-9) : 0;
  return { beyond, outside, work: Math.floor((rest - outside * w.outside) / w.work + 1e-9) };
};

interface Answer {
  readonly wish: Wish;
  readonly solved: Solved;
  readonly bound: number;
}

/** The best of all variants for a wish. */
function* answer(variants: readonly Variant[], wish: Wish, before: Before, nodes: number): Generator<void, Answer | undefined> {
  let best: Solved | undefined;
  let bound = Number.POSITIVE_INFINITY;
  let most = Number.POSITIVE_INFINITY;
  if (wish.straight) {
    // As straight as any arrangement allows that leaves no more findings than the best of all does.
    const free = variants.map((v) => Math.floor(solveCore(coreOf(v, wish, before)).cost / wish.weights.outside + 1e-6));
    const fewest = Math.min(...free);
    let least = Number.POSITIVE_INFINITY;
    for (const [i, v] of variants.entries()) {
      if (free[i] === fewest) least = Math.min(least, straightest(v, wish, before));
      yield;
    }
    most = Math.max(least, tellable(variants[0]!.model));
  }
  const cores = variants.map((v) => coreOf(v, wish, before, most));
  const costs = cores.map((c, i) => solveCore(c).cost + (variants[i]!.remedies.length > 0 ? wish.weights.work * workOf(variants[i]!.remedies) : 0));
  for (const i of variants.map((_, k) => k).sort((p, q) => costs[p]! - costs[q]!)) {
    if (costs[i]! >= (best?.cost ?? Number.POSITIVE_INFINITY)) break;
    const solved = yield* solve(variants[i]!, cores[i]!, wish, best?.cost ?? Number.POSITIVE_INFINITY, nodes);
    bound = Math.min(bound, solved.bound);
    if (!best || solved.cost < best.cost) best = solved;
  }
  return best && best.picks.length > 0 ? { wish, solved: best, bound: Math.min(bound, best.cost) } : undefined;
}

/** Remedies of an answer, in the order they are done: exchanged first, then station by station, then the whole. */
const remediesOf = ({ variant, picks }: Solved, whole: Whole): Remedy[] => bentTogether([...variant.remedies, ...picks.flatMap((p, i) => variant.choices[i]![p]!.remedies), ...whole.remedies]);

function proofOf({ wish, solved, bound }: Answer, whole: Whole): Proof {
  const w = wish.weights;
  const add = (c: Counts): Counts => ({ beyond: c.beyond + whole.beyond, outside: c.outside + whole.outside, work: c.work + workOf(whole.remedies) });
  const proven = bound >= solved.cost - 1e-6;
  const [found, least] = [add(countsOf(solved.cost, w)), add(countsOf(bound, w))];
  const sentence = proven
    ? 'Proven: no combination of what is offered does better for this wish.'
    : `Not proven: no combination leaves fewer than ${least.beyond} beyond act${w.outside > 0 ? ` and ${least.outside} between fits and act` : ''}, this one leaves ${found.beyond}${w.outside > 0 ? ` and ${found.outside}` : ''}.`;
  return { wish: wish.id, proven, found, bound: least, sentence };
}

const isDrilled = (model: Model, rib: Rib): boolean => drilledHoles(model, rib.id, 'front') + drilledHoles(model, rib.id, 'rear') > 0;

/** Pairs of like ribs whose exchange by itself betters what their two stations leave. */
function* exchanges(base: Variant, before: Before): Generator<void, { remedy: Remedy; model: Model; stations: [string, string] }[]> {
  const { model, choices } = base;
  const order = along(model);
  const asIs = new Map(order.map((id, i) => [id, choices[i]!.find((c) => c.remedies.length === 0)!]));
  const out: { remedy: Remedy; model: Model; stations: [string, string] }[] = [];
  const done = new Set<string>();
  for (const a of model.ribs) {
    if (a.kind === 'tip') continue;
    for (const b of likes<typeof a>(model, a)) {
      const pair = [a.id, b.id].sort().join();
      if (done.has(pair) || b.kind !== a.kind || isDrilled(model, a) || isDrilled(model, b)) continue;
      done.add(pair);
      const two = [asIs.get(a.station), asIs.get(b.station)];
      if (two.some((c) => !c)) continue;
      const remedy = swap(model, a, b);
      const now = remedy.edit.apply(model);
      yield;
      const left = [a.station, b.station].map((id) => leftAt(aloneAt(now, id), before));
      const was = a.kind === 'main' ? two.reduce((s, c) => s + 1000 * c!.beyond + c!.outside, 0) : noseTrouble(model, before);
      const is = a.kind === 'main' ? left.reduce((s, c) => s + 1000 * c.beyond + c.outside, 0) : noseTrouble(now, before);
      if (is < was) out.push({ remedy, model: now, stations: [a.station, b.station] });
    }
  }
  return out;
}

/** What a station leaves by itself as it stands. */
function leftAt(alone: Model, before: Before): { beyond: number; outside: number } {
  let [beyond, outside] = [0, 0];
  for (const f of checkAll(alone)) {
    if (WHOLE_CHECKS.has(f.check) || f.check.startsWith('nose') || f.check === 'seating') continue;
    const reach = reachOf(f.value, f.limits);
    if (!counts(f.id, reach, before)) continue;
    const l = levelOf(reach);
    if (l === 2) beyond++;
    else if (l === 1) outside++;
  }
  return { beyond, outside };
}

function noseTrouble(model: Model, before: Before): number {
  let sum = 0;
  const noses = nosesOf(skeletonOf(model), 'straight');
  const [first, last] = [noses[0], noses[noses.length - 1]];
  const take = (id: string, value: number, limit: ReturnType<typeof limitFor>): void => {
    const reach = reachOf(value, limit);
    const l = counts(id, reach, before) ? levelOf(reach) : 0;
    sum += l === 2 ? 1000 : l;
  };
  noses.forEach((n, i) => {
    const [p, q] = [noses[i - 1], noses[i + 1]];
    if (!p || !q || !first || !last) return;
    take(`nose-kink:${n.mark}`, against(n, p, q).value, limitFor(model, 'nose-kink'));
    take(`nose-line:${n.mark}`, against(n, first, last).value, limitFor(model, 'nose-line'));
  });
  return sum;
}

/** Every arrangement the search looks at: the ribs as they stand, and each exchange that betters something. Yields often. */
export function* variantsOf(model: Model, settings: Settings): Generator<Progress, Variant[]> {
  const before = drawnOnly(model);
  const stations = along(model);
  let done = 0;
  const told = (): Progress => ({ phase: 'choices', done: Math.min(done, stations.length), of: stations.length });
  const byStation = new Map<string, Choice[]>();
  let steps = 0;
  for (const id of stations) {
    const asking = askAll(model, [id], before);
    for (let step = asking.next(); ; step = asking.next()) {
      if (step.done) {
        byStation.set(id, step.value.get(id)!);
        break;
      }
      if (++steps % 4 === 0) yield told();
    }
    done++;
  }
  const base: Variant = { remedies: [], model, choices: stations.map((id) => byStation.get(id)!), far: farQuestion(model, before) };
  if (settings.swaps === false) return [base];
  const looking = exchanges(base, before);
  let pairs: { remedy: Remedy; model: Model; stations: [string, string] }[] = [];
  for (let step = looking.next(); ; step = looking.next()) {
    if (step.done) {
      pairs = step.value;
      break;
    }
    yield told();
  }
  const variants = [base];
  for (const pair of pairs) {
    const asking = askAll(pair.model, pair.stations, before);
    for (let step = asking.next(); ; step = asking.next()) {
      if (step.done) {
        const fresh = step.value;
        variants.push({ remedies: [pair.remedy], model: pair.model, choices: along(pair.model).map((id) => fresh.get(id) ?? byStation.get(id)!), far: farQuestion(pair.model, before) });
        break;
      }
      if (++steps % 4 === 0) yield told();
    }
  }
  return variants;
}

/** Searches for the least work. Take steps as long as there is time; the value of the last is the answer. */
export function* leastWork(model: Model, settings: Settings = {}): Generator<Progress, Outcome> {
  const before = drawnOnly(model);
  const wishes = settings.wishes ?? WISHES;
  const wholes = wholesOf(model);
  const variants = yield* variantsOf(model, settings);
  const nothing = planOf(model, []);
  if (!nothing.ok) throw new RangeError('doing nothing cannot be refused');
  const plans = new Map<string, Plan>();
  const proofs = new Map<string, Proof>();
  let best: Plan | undefined;
  let bound: Counts | undefined;
  for (const [k, wish] of wishes.entries()) {
    const told = (): Progress => ({ phase: 'search', done: k, of: wishes.length, best, bound });
    yield told();
    const looking = answer(wish.stays ? variants.slice(0, 1) : variants, wish, before, settings.nodes ?? 200);
    let found: Answer | undefined;
    for (let step = looking.next(); ; step = looking.next()) {
      if (step.done) {
        found = step.value;
        break;
      }
      yield told();
    }
    if (!found) continue;
    const w = wish.weights;
    const whole = [...wholes].sort((a, b) => worth(w, a) + w.work * workOf(a.remedies) - worth(w, b) - w.work * workOf(b.remedies))[0]!;
    const remedies = remediesOf(found.solved, whole);
    const made = planOf(model, remedies, remedies.length === 0 ? undefined : wish.name);
    yield told();
    if (!made.ok || plans.has(made.plan.id) || made.plan.id === nothing.plan.id) continue;
    plans.set(made.plan.id, made.plan);
    const proof = proofOf(found, whole);
    proofs.set(made.plan.id, proof);
    if (!best || betterFirst(made.plan, best) < 0) best = made.plan;
    if (k === 0) bound = proof.bound;
  }
  const kept = unbeaten([...plans.values(), nothing.plan]).filter((p) => p !== nothing.plan).sort(betterFirst).slice(0, Math.max(1, (settings.plans ?? 12) - 1));
  yield { phase: 'check', done: 0, of: 1, best, bound };
  return {
    plans: [...kept, nothing.plan], proofs, conflicts: conflictsOf(model, variants[0]!, best ?? nothing.plan),
    combinations: variants.reduce((sum, v) => sum + v.choices.reduce((p, c) => p * c.length, 1), 0) * wholes.length,
  };
}

/** Runs a search to its end. */
export function finished<P, T>(search: Generator<P, T>): T {
  for (let step = search.next(); ; step = search.next()) if (step.done) return step.value;
}
