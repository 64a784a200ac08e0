import { checkAll } from '../../checks/checkAll.ts';
import type { MainRib, Model, NoseRib, Rib } from '../../model/schema.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { drilledHolesOf } from '../holesAt.ts';
import { interchangeableRibs, swap } from '../offers/swap.ts';
import { type Before, type Left, leftBy, measureFirst } from '../reach.ts';
import type { Remedy } from '../remedy.ts';
import { relayed } from '../steps.ts';
import { aloneAt } from './alone.ts';
import { type Choice, choicesAt } from './choices.ts';
import { type FarQuestion, farQuestion } from './leftover.ts';
import { aimOf, noseAims, noseFindings, sameAim } from './noseAims.ts';
import type { Progress, Settings } from './outcome.ts';
import { WHOLE_CHECKS } from './wholes.ts';

/*
 * In which arrangements are the ribs looked at, and what may be done at each station of each? As they stand; and with
 * two like ribs exchanged, where that by itself betters what their stations leave. Ribs already drilled stay: their
 * pilots would line up nowhere else.
 */

/** A panel with its ribs where they stand, or with two exchanged, and what may be done at each station of it. */
export interface Variant {
  readonly remedies: readonly Remedy[];
  readonly model: Model;
  /** By station in order along the span. */
  readonly choices: readonly (readonly Choice[])[];
  readonly far: FarQuestion;
}

/** The choices that picks stand for, one a station. */
export function chosen({ choices }: Pick<Variant, 'choices'>, picks: readonly number[]): Choice[] {
  return choices.flatMap((list, station) => list[picks[station] ?? -1] ?? []);
}

/** Station ids in order along the span. */
const along = (model: Model): string[] => skeletonOf(model).bays.map((b) => b.station.id);

type ByStation = ReadonlyMap<string, readonly Choice[]>;

/** Asks every choice at some stations of a panel; yields once a choice, and with `asked` after each station. */
function* askAll(model: Model, stations: readonly string[], before: Before): Generator<number, ByStation> {
  const aims = noseAims(model, before);
  const all = new Map<string, Choice[]>();
  for (const id of stations)
    all.set(id, yield* relayed(choicesAt(aloneAt(model, id), aimOf(aims, id), before), () => all.size));
  return all;
}

/** Two ribs that may change places. */
interface Pair {
  readonly a: MainRib | NoseRib;
  readonly b: MainRib | NoseRib;
}

/** Every pair of like ribs that nothing is drilled in, each once. */
function pairsOf(model: Model): Pair[] {
  const free = (r: Rib): boolean => drilledHolesOf(model, r.id) === 0;
  const order = new Map(model.ribs.map((r, i) => [r.id, i]));
  return model.ribs.flatMap((a) => {
    if (a.kind === 'tip' || !free(a)) return [];
    const later = interchangeableRibs<MainRib | NoseRib>(model, a).filter(
      (b) => free(b) && (order.get(b.id) ?? 0) > (order.get(a.id) ?? 0),
    );
    return later.map((b) => ({ a, b }));
  });
}

/** Findings of two numbers as one, one beyond act above all between fits and act. */
const trouble = ({ beyond, outside }: Left): number => 1000 * beyond + outside;

/** What two stations leave by themselves of all that is no nose's and no seating's. */
function troubleAt(model: Model, stations: readonly string[], before: Before): number {
  const own = stations.flatMap((id) =>
    checkAll(aloneAt(model, id)).filter(
      (f) => !WHOLE_CHECKS.has(f.check) && f.check !== 'nose-line' && f.check !== 'nose-kink' && f.check !== 'seating',
    ),
  );
  return trouble(leftBy(own, before));
}

const noseTrouble = (model: Model, before: Before): number => trouble(leftBy(noseFindings(model), before));

/** An exchange made: the remedy, and the panel it makes. */
interface Exchange {
  readonly remedy: Remedy;
  readonly model: Model;
  readonly stations: readonly string[];
}

/** Pairs of like ribs whose exchange by itself betters what their two stations leave. */
function* exchanges(model: Model, before: Before): Generator<void, Exchange[]> {
  const out: Exchange[] = [];
  for (const { a, b } of pairsOf(model)) {
    const remedy = swap(model, a, b);
    const now = remedy.edit.apply(model);
    const stations = [a.station, b.station];
    yield;
    const troubleOf = (m: Model): number =>
      a.kind === 'main' ? troubleAt(m, stations, before) : noseTrouble(m, before);
    if (troubleOf(now) < troubleOf(model)) out.push({ remedy, model: now, stations });
  }
  return out;
}

/** How many choices are asked between two words of how far it is. */
const WORD_EVERY = 4;

/**
 * Every arrangement the search looks at: the ribs as they stand, and each exchange that betters something. Yields
 * often.
 */
export function* variantsOf(model: Model, settings: Settings): Generator<Progress, [Variant, ...Variant[]]> {
  const before = measureFirst(model);
  const stations = along(model);
  const told = (done: number): Progress => ({ phase: 'choices', done, of: stations.length });
  const asked = yield* relayed(askAll(model, stations, before), told, WORD_EVERY);
  const variantOf = (m: Model, remedies: readonly Remedy[], byStation: ByStation): Variant => ({
    remedies,
    model: m,
    choices: along(m).map((id) => byStation.get(id) ?? asked.get(id) ?? []),
    far: farQuestion(m, before),
  });
  const base = variantOf(model, [], asked);
  if (settings.swaps === false) return [base];
  const full = (): Progress => told(stations.length);
  const found = yield* relayed(exchanges(model, before), full);
  const variants: [Variant, ...Variant[]] = [base];
  const wanted = noseAims(model, before);
  for (const exchange of found) {
    // Where an end nose is another, other noses may be wanted elsewhere too.
    const now = noseAims(exchange.model, before);
    const again = stations.filter(
      (id) => exchange.stations.includes(id) || !sameAim(aimOf(wanted, id), aimOf(now, id)),
    );
    const fresh = yield* relayed(askAll(exchange.model, again, before), full, WORD_EVERY);
    variants.push(variantOf(exchange.model, [exchange.remedy], fresh));
  }
  return variants;
}
