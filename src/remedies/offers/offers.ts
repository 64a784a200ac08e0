import { checkAll } from '../../checks/checkAll.ts';
import { show } from '../../checks/describe.ts';
import type { Finding } from '../../checks/finding.ts';
import { leastRadius, nextBlock } from '../../checks/fit/bendRide.ts';
import { bagOf, blindFor } from '../../checks/holes/rivets.ts';
import type { Doubler, MainRib, Model, NoseRib, Rib, TipRib } from '../../model/schema.ts';
import type { RibPlace, Skeleton } from '../../parts/layout/layout.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { packed, packing } from '../../truing/packing.ts';
import { type Change, type Effect, effectOf } from '../effect.ts';
import { levelOf, reachOf } from '../reach.ts';
import { FREE, type Remedy } from '../remedy.ts';
import { squareFlanges } from './flanges.ts';
import { bendEasier, cutStrip, joggleDeeper, rebendEnd, rebendTail, remake, trimTip } from './forming.ts';
import { channelDoubler, flatOnWeb, resheet, shimOf } from './pieces.ts';
import { bias, pullStraight, swap } from './placing.ts';
import { stepUp } from './stepUp.ts';

/*
 * Which remedies answer a finding: those the trade knows for it, from the sheets and shims on hand, sized from the finding
 * itself. An echo is never cured: put its source right. Slotting a hole is never offered.
 */

export const sheetOf = (model: Model, id: string): number => model.sheets.find((s) => s.id === id)?.thickness ?? 0;

/** Sheets on hand, thinnest first. */
export function sheets(model: Model): string[] {
  return [...new Set(model.stock.sheets)].sort((a, b) => sheetOf(model, a) - sheetOf(model, b));
}

/** Thicknesses a shim can be cut from, sheet and shim stock, up to `most` mm, thinnest first, each once. */
export function shimsFor(model: Model, most: number): number[] {
  const all = [...model.stock.shims, ...model.stock.sheets.map((s) => sheetOf(model, s))]
    .filter((t) => t > 0 && t <= most)
    .sort((a, b) => a - b);
  return all.filter((t, i) => i === 0 || t - all[i - 1]! > 0.002);
}

export const interchangeableRibs = <T extends Rib>(model: Model, rib: T): T[] =>
  model.ribs.filter(
    (r): r is T => r.kind === rib.kind && r.id !== rib.id && r.sheet === rib.sheet && r.turns === rib.turns,
  );

/** Exchanges of a rib with each like it; of drilled ones too, whose note and cost say what holes are lost. */
const swaps = <T extends MainRib | NoseRib>(model: Model, rib: T): Remedy[] =>
  interchangeableRibs(model, rib).map((o) => swap(model, rib, o));

function placeOf(skeleton: Skeleton, finding: Finding): RibPlace | undefined {
  return skeleton.places.find(
    (p) => `${p.rib.id} ${p.end}` === finding.place || finding.place.startsWith(`${p.rib.id} ${p.end} `),
  );
}

function resheets(model: Model, doublers: readonly Doubler[], keep: (t: number, now: number) => boolean): Remedy[] {
  return doublers.flatMap((d) =>
    sheets(model)
      .filter((s) => s !== d.sheet && keep(sheetOf(model, s), sheetOf(model, d.sheet)))
      .map((s) => resheet(model, d, s)),
  );
}

/** Cap strips that lie under a rib end and stop within 100 mm of it, by their place in the file: most likely finished too long. */
export function stripsUnder(m: Model, place: RibPlace): number[] {
  const { y } = place.bay.station;
  return (m.spars[place.spar]?.strips ?? []).flatMap((s, i) =>
    y >= s.from && y <= s.to && Math.min(y - s.from, s.to - y) < 100 ? [i] : [],
  );
}

function capRemedies(skeleton: Skeleton, f: Finding, place: RibPlace): Remedy[] {
  const { model } = skeleton;
  const { rib, end, doublers } = place;
  if (rib.kind !== 'main' || end === 'tail') return [remake(model, rib)];
  if (f.value < 0) {
    const deeper = Math.ceil((-f.value / 2) * 20) / 20;
    return [
      ...resheets(model, doublers, (t, now) => t < now),
      ...stripsUnder(model, place).map((strip) =>
        cutStrip(model, { spar: place.spar, strip, station: place.bay.station.id, clear: 2 * rib.flange }),
      ),
      joggleDeeper(model, rib, end, deeper),
      ...squareFlanges(model, rib, end),
      ...swaps(model, rib),
      remake(model, rib),
    ];
  }
  return [
    bias(model, rib, end, 0),
    ...squareFlanges(model, rib, end),
    ...shimsFor(model, f.value + 0.1).map((thickness) => shimOf({ rib, end, thickness }, 'top', model)),
    ...sheets(model)
      .filter((s) => 2 * sheetOf(model, s) <= f.value + 0.1)
      .map((sheet) => channelDoubler({ rib, end, sheet })),
    ...resheets(model, doublers, (t, now) => t > now),
    ...swaps(model, rib),
    remake(model, rib),
  ];
}

function chordRemedies(model: Model, skeleton: Skeleton, f: Finding, rib: MainRib): Remedy[] {
  if (f.value < 0) {
    const s = Math.ceil(-f.value * 10) / 10;
    return [
      rebendEnd(model, rib, 'rear', s),
      rebendEnd(model, rib, 'front', s),
      ...resheets(model, skeleton.doublersAt(rib.id, 'front'), (t, now) => t < now),
      ...swaps(model, rib),
      remake(model, rib),
    ];
  }
  const fills = sheets(model).filter((s) => sheetOf(model, s) <= f.value + 0.2);
  return [
    ...fills.map((sheet) => flatOnWeb({ rib, end: 'rear', sheet })),
    ...fills.map((sheet) => flatOnWeb({ rib, end: 'front', sheet })),
    pullStraight('front', rib.station),
    ...swaps(model, rib),
    remake(model, rib),
  ];
}

function noseRemedies(model: Model, f: Finding, rib: NoseRib | TipRib): Remedy[] {
  const s = Math.round(Math.abs(f.value) * 10) / 10;
  if (rib.kind === 'tip')
    return f.value > 0
      ? [trimTip(model, rib, s), remake(model, rib)]
      : [...sheets(model).map((sheet) => channelDoubler({ rib, end: 'rear', sheet })), remake(model, rib)];
  return f.value < 0
    ? [
        ...sheets(model).map((sheet) => flatOnWeb({ rib, end: 'tail', sheet })),
        ...swaps(model, rib),
        remake(model, rib),
      ]
    : [rebendTail(model, rib, s), ...swaps(model, rib), remake(model, rib)];
}

/** The packing plan as one remedy; none where nothing was read or nothing is to be packed. */
export function packRemedy(model: Model): Remedy[] {
  const plan = packing(model);
  const packs = plan?.packs.filter((p) => p.total > 0) ?? [];
  if (!plan || packs.length === 0) return [];
  return [
    {
      id: `packing:${plan.side}`,
      kind: 'packing',
      name: `pack the jig under the ${plan.side} spar: ${packs.map((p) => `${p.station} ${show(model, p.total)}`).join(', ')}`,
      station: packs[0]!.station,
      part: plan.side,
      cost: { ...FREE, moved: 1 },
      askDesigner: false,
      layers: false,
      edit: packed(model, plan),
    },
  ];
}

/** The bag of a joint changed to one on hand that grips its layers. */
export function rebag(skeleton: Skeleton, jointId: string): Remedy[] {
  const joint = skeleton.model.joints.find((j) => j.id === jointId);
  if (!joint) return [];
  const fits = blindFor(skeleton.model.stock.rivets, joint.rivet.diameter, bagOf(skeleton, joint).grip);
  return fits.map((rivet) => ({
    id: `bag:${joint.id}:${rivet.grip?.join('-')}`,
    kind: 'bag',
    name: `take the rivet that grips ${show(skeleton.model, rivet.grip![0])} to ${show(skeleton.model, rivet.grip![1])} at ${joint.id}`,
    station: joint.station,
    part: joint.id,
    cost: { ...FREE, moved: 1 },
    askDesigner: false,
    layers: true,
    edit: {
      name: `changed the rivet of ${joint.id}`,
      apply: (m) => ({ ...m, joints: m.joints.map((j) => (j.id === joint.id ? { ...j, rivet } : j)) }),
    },
  }));
}

/** Every doubler that rides, bent again in one go. */
function bendAll(model: Model): Remedy[] {
  const riding = checkAll(model)
    .filter((f) => f.check === 'bend-ride' && f.verdict !== 'fits')
    .map((f) => f.place);
  const pieces = model.doublers.filter((d) => d.form === 'channel' && riding.includes(d.id));
  const each = pieces.map((d) => {
    const rib = model.ribs.find((r) => r.id === d.part)!;
    const spar = model.spars[d.end === 'rear' ? 'rear' : 'front'] ?? model.spars.front;
    return { rib, remedy: bendEasier(model, d.id, nextBlock(leastRadius(spar.radius, sheetOf(model, d.sheet)))) };
  });
  if (each.length < 2) return [];
  return [
    {
      id: 'easier:all',
      kind: 'easier',
      name: `bend ${pieces.map((d) => d.id).join(', ')} again at an easier radius`,
      station: each[0]!.rib.station,
      part: pieces[0]!.id,
      cost: { ...FREE, pieces: pieces.length },
      askDesigner: false,
      layers: false,
      edit: { name: 'bent the doublers again', apply: (m) => each.reduce((now, e) => e.remedy.edit.apply(now), m) },
    },
  ];
}

/** Remedies that answer a finding, untried; none for an echo. */
export function remediesFor(model: Model, f: Finding): Remedy[] {
  if (f.echoOf) return [];
  const skeleton = skeletonOf(model);
  const place = placeOf(skeleton, f);
  const rib = model.ribs.find((r) => r.id === f.place.split(' ')[0]);
  switch (f.check) {
    case 'cap-gap':
    case 'cap-split':
      return place ? capRemedies(skeleton, f, place) : [];
    case 'bend-ride': {
      const d = model.doublers.find((x) => x.id === f.place);
      const spar = d && (model.spars[d.end === 'rear' ? 'rear' : 'front'] ?? model.spars.front);
      return d && spar && d.form === 'channel'
        ? [...bendAll(model), bendEasier(model, d.id, nextBlock(leastRadius(spar.radius, sheetOf(model, d.sheet))))]
        : [];
    }
    case 'chord-gap':
    case 'seating':
      return rib?.kind === 'main' ? chordRemedies(model, skeleton, f, rib) : [];
    case 'nose-kink':
    case 'nose-line':
      return rib && rib.kind !== 'main' ? noseRemedies(model, f, rib) : [];
    case 'skin-step':
      return place?.rib.kind === 'main' && place.end !== 'tail'
        ? [bias(model, place.rib, place.end, 0), remake(model, place.rib)]
        : [];
    case 'relief':
      return place ? [remake(model, place.rib), ...(place.rib.kind === 'main' ? swaps(model, place.rib) : [])] : [];
    case 'twist':
    case 'twist-step':
      return packRemedy(model);
    case 'grip':
      return rebag(skeleton, f.place);
    case 'hole-cleanup': {
      const joint = model.joints.find((j) => j.id === f.place.split(' ')[0]);
      const main = joint && model.ribs.find((r) => r.kind === 'main' && joint.layers.includes(r.id));
      const next = joint && stepUp(model, joint);
      return [...(next ? [next] : []), ...(main ? [remake(model, main)] : [])];
    }
    default:
      return [];
  }
}

/** A remedy tried: what it leaves and what it moves. */
export interface Offer {
  readonly remedy: Remedy;
  readonly effect: Effect;
  /** Findings whose verdict it betters, and worsens. */
  readonly better: readonly Change[];
  readonly worse: readonly Change[];
  /** The finding it was asked for, afterwards. */
  readonly after: Finding | undefined;
}

const weight = (model: Model): number =>
  checkAll(model).reduce(
    (sum, f) => sum + (f.echoOf ? 0 : f.verdict === 'act' ? 1 + f.chance : f.verdict === 'unsettled' ? f.chance : 0),
    0,
  );
const price = ({ cost, askDesigner }: Remedy): number =>
  cost.pieces + 3 * cost.remade + 0.3 * cost.holesLost + (askDesigner ? 0.5 : 0);

type Weighed = Offer & { readonly left: number; readonly home: boolean };

const level = (f: Finding | undefined): number => (f ? levelOf(reachOf(f.value, f.limits)) : 0);

/** Whether the place of a finding lies between its limits then, by its best value, and nothing else has come beyond act for it: one gap is not cured by making another. */
function bringsHome(f: Finding, { model, changes }: Effect): boolean {
  const there = checkAll(model).filter((x) => x.id === f.id || x.id.startsWith(`${f.id}-`));
  return (
    there.every((x) => level(x) === 0) &&
    !changes.some((c) => c.after && !c.after.echoOf && level(c.after) === 2 && level(c.before) < 2)
  );
}

function tried(model: Model, f: Finding, remedy: Remedy): Weighed | undefined {
  const done = effectOf(model, [remedy]);
  if (!done.ok || done.effect.changes.length === 0) return undefined;
  const { changes } = done.effect;
  return {
    remedy,
    effect: done.effect,
    better: changes.filter((c) => c.worse < 0),
    worse: changes.filter((c) => c.worse > 0),
    after: checkAll(done.effect.model).find((x) => x.id === f.id),
    left: weight(done.effect.model),
    home: bringsHome(f, done.effect),
  };
}

/**
 * Every remedy for a finding tried on the whole skeleton, one a step. The value at the end has those first that leave its
 * place between the limits and push nothing else past act; among these, and among the others, the one that leaves least
 * wrong first, the cheaper first among equals.
 */
export function* offering(
  model: Model,
  f: Finding,
): Generator<{ readonly done: number; readonly of: number }, Offer[]> {
  const remedies = remediesFor(model, f);
  const offers: Weighed[] = [];
  for (const [done, remedy] of remedies.entries()) {
    yield { done, of: remedies.length };
    const offer = tried(model, f, remedy);
    if (offer) offers.push(offer);
  }
  return offers
    .sort(
      (a, b) =>
        Number(b.home) - Number(a.home) || Math.round((a.left - b.left) * 20) || price(a.remedy) - price(b.remedy),
    )
    .map(({ left: _, home: __, ...o }) => o);
}

/** The same in one go. */
export function offersFor(model: Model, f: Finding): Offer[] {
  const all = offering(model, f);
  for (let step = all.next(); ; step = all.next()) if (step.done) return step.value;
}
