import { best } from '../../chains/chain.ts';
import { findingsAt } from '../../checks/checkAll.ts';
import type { Finding } from '../../checks/finding.ts';
import type { Model } from '../../model/schema.ts';
import type { EndName, RibPlace, Skeleton } from '../../parts/layout/layout.ts';
import { capGapChain, chordGapChain } from '../../parts/layout/meeting.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { NEAR } from '../../units/near.ts';
import { bias } from '../offers/bias.ts';
import { channelDoubler } from '../offers/channel.ts';
import { bendClear } from '../offers/easier.ts';
import { deeperBy, joggleDeeper } from '../offers/joggle.ts';
import { packer } from '../offers/packer.ts';
import { resheet } from '../offers/resheet.ts';
import { shim } from '../offers/shim.ts';
import { againShorter } from '../offers/shorter.ts';
import { stepUp } from '../offers/step.ts';
import { sheetOnHand, sheets, shimsFor } from '../onHand.ts';
import { type Before, levelIn } from '../reach.ts';
import type { Remedy } from '../remedy.ts';

/*
 * What is offered at a rib end: between the caps a shim, a channel doubler, a doubler of another sheet, a deeper
 * joggle, the rib held in the middle; riding doublers bent easier; on the webs a packer, or the rib made shorter; the
 * next rivet.
 */

export const applied = (m: Model, remedies: readonly Remedy[]): Model =>
  remedies.reduce((now, r) => r.edit.apply(now), m);

/** Every set of the one with every set of the other. */
export const joined = (a: readonly (readonly Remedy[])[], b: readonly (readonly Remedy[])[]): Remedy[][] =>
  a.flatMap((x) => b.map((y) => [...x, ...y]));

/** The findings of a station by itself that do not fit. */
function badAt(alone: Model, before: Before): { skeleton: Skeleton; bad: Finding[] } {
  const skeleton = skeletonOf(alone);
  const [bay] = skeleton.bays;
  return { skeleton, bad: bay ? findingsAt(skeleton, bay).filter((f) => levelIn(f, before) > 0) : [] };
}

/** A rib end of a station by itself, and what does not fit there. */
interface EndNow {
  readonly skeleton: Skeleton;
  readonly place: RibPlace;
  readonly bad: readonly Finding[];
}

function endNow(alone: Model, end: EndName, before: Before): EndNow | undefined {
  const { skeleton, bad } = badAt(alone, before);
  const place = skeleton.places.find((p) => p.end === end);
  if (!place) return undefined;
  const here = ({ at }: Finding): boolean => at.part === place.rib.id && at.end === end;
  return { skeleton, place, bad: bad.filter(here) };
}

/** Channel doublers at a place that ride on the spar's bend, each bent as easily as it needs. */
function easier({ skeleton: { model }, place, bad }: EndNow): Remedy[] {
  return place.doublers
    .filter((d) => d.form === 'channel' && bad.some((f) => f.check === 'bend-ride' && f.at.doubler === d.id))
    .map((d) => bendClear(model, d));
}

/** Pieces that fill a gap of so many mm between the caps: a shim on one or both, or a channel doubler. */
function fillings({ skeleton: { model }, place: { rib, end } }: EndNow, gap: number): Remedy[] {
  return [
    ...shimsFor(model, gap + 0.1).map((thickness) => shim(model, { rib, end, thickness }, 'top')),
    ...shimsFor(model, (gap + 0.1) / 2).map((thickness) => shim(model, { rib, end, thickness }, 'both')),
    ...sheets(model)
      .filter((sheet) => 2 * sheetOnHand(model, sheet) <= gap + 0.1)
      .map((sheet) => channelDoubler(model, { rib, end, sheet })),
  ];
}

/**
 * A joggle pressed deeper by what binds, up to the next twentieth of a millimetre each side; never by more than two
 * sheets.
 */
function deeper({ skeleton: { model }, place: { rib, end, spec } }: EndNow, binds: number): Remedy[] {
  const s = deeperBy(binds);
  const most = 2 * sheetOnHand(model, rib.sheet);
  return spec.joggle > 0 && s <= most ? [joggleDeeper(model, rib, end, s)] : [];
}

/** What may be done between a rib end and the caps, one thing at a time. */
function atCaps(now: EndNow): Remedy[] {
  const { skeleton, place } = now;
  const { model } = skeleton;
  const { rib, end } = place;
  if (now.bad.every((f) => f.check === 'bend-ride' || f.check === 'bend-radius')) return [];
  const gap = best(capGapChain(skeleton, place));
  const held = skeleton.book.find(`${place.key}.bias`)?.best ?? 0;
  return [
    ...place.doublers.flatMap((d) => sheets(model).flatMap((s) => (s === d.sheet ? [] : [resheet(model, d, s)]))),
    ...(gap > 0 ? fillings(now, gap) : deeper(now, -gap)),
    ...(Math.abs(held) > NEAR ? [bias(model, rib, end, 0)] : []),
  ];
}

/** What may be done between a rib end and the caps, doublers that then ride bent easier or left riding. */
export function capOptions(m: Model, end: EndName, before: Before): Remedy[][] {
  const now = endNow(m, end, before);
  if (now?.place.spec.ends !== 'nests' || now.bad.length === 0) return [[]];
  const sets = [[], ...atCaps(now).map((r) => [r])];
  return sets.flatMap((set) => {
    const then = set.length === 0 ? now : endNow(applied(m, set), end, before);
    const bent = then ? easier(then) : [];
    return bent.length === 0 ? [set] : [set, [...set, ...bent]];
  });
}

/** What may be done about a main rib's length. */
export function chordOptions(m: Model, before: Before): Remedy[][] {
  const { skeleton, bad } = badAt(m, before);
  const [bay] = skeleton.bays;
  const rib = bay?.main;
  if (!bay || !rib || !m.spars.rear || bad.every((f) => f.check !== 'chord-gap')) return [[]];
  const k = best(chordGapChain(skeleton, bay, rib, 'straight'));
  if (k < 0) return [[], ...againShorter(m, rib, -k).map((r) => [r])];
  const fills = sheets(m).filter((s) => sheetOnHand(m, s) <= k + 0.2);
  return [[], ...(['rear', 'front'] as const).flatMap((end) => fills.map((sheet) => [packer(m, { rib, end, sheet })]))];
}

/** Joints whose holes do not clean up, taken to the next rivet size. */
export function holeOptions(m: Model, before: Before): Remedy[][] {
  const { bad } = badAt(m, before);
  const spoiled = new Set(
    bad.filter((f) => f.check === 'hole-cleanup' && levelIn(f, before) === 2).map((f) => f.at.joint),
  );
  const steps = m.joints.filter((j) => spoiled.has(j.id)).flatMap((j) => stepUp(m, j) ?? []);
  return steps.length === 0 ? [[]] : [[], steps];
}
