import { checkAll } from '../../checks/checkAll.ts';
import { against, fromNominal, nosesOf } from '../../checks/fit/noseLine.ts';
import { limitFor } from '../../model/limits.ts';
import type { Model, Rib } from '../../model/schema.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { holesIn } from '../holesAt.ts';
import { interchangeableRibs } from '../offers/offers.ts';
import { swap } from '../offers/placing.ts';
import { WHOLE_CHECKS } from '../offers/wholes.ts';
import { type Before, counts, drawnOnly, levelOf, reachOf } from '../reach.ts';
import type { Remedy } from '../remedy.ts';
import { aloneAt } from './alone.ts';
import { type Choice, choicesAt, type NoseAim } from './choices.ts';
import { type FarQuestion, farQuestion } from './leftover.ts';
import type { Progress, Settings } from './outcome.ts';

/*
 * In which arrangements are the ribs looked at, and what may be done at each station of each? As they stand; and with two
 * like ribs exchanged, where that by itself betters what their stations leave. Ribs already drilled stay: their pilots
 * would line up nowhere else.
 */

/** A panel with its ribs where they stand, or with two exchanged, and what may be done at each station of it. */
export interface Variant {
  readonly remedies: readonly Remedy[];
  readonly model: Model;
  readonly choices: readonly (readonly Choice[])[];
  readonly far: FarQuestion;
}

/** What may be wanted of each nose, by station. */
export function noseAims(model: Model, before: Before): Map<string, NoseAim> {
  const noses = nosesOf(skeletonOf(model), 'straight');
  const [first, last] = [noses[0], noses[noses.length - 1]];
  const level = new Map<string, number>();
  for (const f of checkAll(model)) {
    if ((f.check !== 'nose-kink' && f.check !== 'nose-line') || f.echoOf || !f.station) continue;
    const reach = reachOf(f.value, f.limits);
    if (counts(f.id, reach, before)) level.set(f.station, Math.max(level.get(f.station) ?? 0, levelOf(reach)));
  }
  return new Map(
    noses.map((n) => {
      const inner = n !== first && n !== last && first && last;
      return [
        n.bay.station.id,
        {
          off: inner ? [fromNominal(n), against(n, first, last).value] : [fromNominal(n)],
          level: level.get(n.bay.station.id) ?? 0,
        },
      ];
    }),
  );
}

/** Station ids in order along the span. */
const along = (model: Model): string[] => skeletonOf(model).bays.map((b) => b.station.id);

const sameAim = (a: NoseAim | undefined, b: NoseAim | undefined): boolean =>
  a?.level === b?.level &&
  (a?.off.length ?? 0) === (b?.off.length ?? 0) &&
  (a?.off ?? []).every((v, i) => Math.abs(v - b!.off[i]!) < 1e-9);

const NO_AIM: NoseAim = { off: [], level: 0 };

/** Asks every choice at some stations of a panel; yields once a choice. */
function* askAll(model: Model, stations: readonly string[], before: Before): Generator<void, Map<string, Choice[]>> {
  const aims = noseAims(model, before);
  const all = new Map<string, Choice[]>();
  for (const id of stations) all.set(id, yield* choicesAt(aloneAt(model, id), aims.get(id) ?? NO_AIM, before));
  return all;
}

const isDrilled = (model: Model, rib: Rib): boolean => holesIn(model, rib.id) > 0;

/** Pairs of like ribs whose exchange by itself betters what their two stations leave. */
function* exchanges(
  base: Variant,
  before: Before,
): Generator<void, { remedy: Remedy; model: Model; stations: [string, string] }[]> {
  const { model, choices } = base;
  const order = along(model);
  const asIs = new Map(order.map((id, i) => [id, choices[i]!.find((c) => c.remedies.length === 0)!]));
  const out: { remedy: Remedy; model: Model; stations: [string, string] }[] = [];
  const done = new Set<string>();
  for (const a of model.ribs) {
    if (a.kind === 'tip') continue;
    for (const b of interchangeableRibs<typeof a>(model, a)) {
      const pair = [a.id, b.id].sort().join();
      if (done.has(pair) || b.kind !== a.kind || isDrilled(model, a) || isDrilled(model, b)) continue;
      done.add(pair);
      const two = [asIs.get(a.station), asIs.get(b.station)];
      if (two.some((c) => !c)) continue;
      const remedy = swap(model, a, b);
      const now = remedy.edit.apply(model);
      yield;
      const left = [a.station, b.station].map((id) => leftAt(aloneAt(now, id), before));
      const was =
        a.kind === 'main' ? two.reduce((s, c) => s + 1000 * c!.beyond + c!.outside, 0) : noseTrouble(model, before);
      const is =
        a.kind === 'main' ? left.reduce((s, c) => s + 1000 * c.beyond + c.outside, 0) : noseTrouble(now, before);
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
  const base: Variant = {
    remedies: [],
    model,
    choices: stations.map((id) => byStation.get(id)!),
    far: farQuestion(model, before),
  };
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
  const wanted = noseAims(model, before);
  for (const pair of pairs) {
    // Where an end nose is another, other noses may be wanted elsewhere too.
    const now = noseAims(pair.model, before);
    const again = stations.filter((id) => pair.stations.includes(id) || !sameAim(wanted.get(id), now.get(id)));
    const asking = askAll(pair.model, again, before);
    for (let step = asking.next(); ; step = asking.next()) {
      if (step.done) {
        const fresh = step.value;
        variants.push({
          remedies: [pair.remedy],
          model: pair.model,
          choices: along(pair.model).map((id) => fresh.get(id) ?? byStation.get(id)!),
          far: farQuestion(pair.model, before),
        });
        break;
      }
      if (++steps % 4 === 0) yield told();
    }
  }
  return variants;
}
