import { checkAll, findingsAt } from '../../checks/checkAll.ts';
import type { Finding } from '../../checks/finding.ts';
import type { MainRib, Model, NoseRib, Rib, TipRib } from '../../model/schema.ts';
import type { EndName } from '../../parts/layout/layout.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { isAtFault } from '../atFault.ts';
import { madeToFit } from '../offers/fit.ts';
import { packer } from '../offers/packer.ts';
import { remake } from '../offers/remake.ts';
import { shorter, shorterBy } from '../offers/shorter.ts';
import { trimTip } from '../offers/trim.ts';
import { sheetOnHand, sheets } from '../onHand.ts';
import { type Before, levelIn } from '../reach.ts';
import type { Remedy } from '../remedy.ts';
import { overStacked } from '../stacks.ts';
import { applied, capOptions, chordOptions, holeOptions, joined } from './endOptions.ts';
import type { NoseAim } from './noseAims.ts';

/*
 * What is offered at one station: the rib as it is or made again; at each end what `endOptions.ts` knows; the next
 * rivet size; behind the nose one packer or two, or a new nose rib; a tip shortened, packed or made again. Nothing is
 * offered at a place that fits by its best value, nothing for a kink as such (it may be an echo), never more packers
 * in one stack than the trade has (`stacks.ts`), never a slot, never metal off a cap.
 */

/** A set of remedies done together. */
export type RemedySet = readonly Remedy[];

export interface Offered {
  /** About the main rib; the first is nothing. */
  readonly mains: readonly RemedySet[];
  /** About the nose or tip rib; the first is nothing. */
  readonly noses: readonly RemedySet[];
  /** Whether one of these goes with one of those. */
  readonly mayJoin: (main: RemedySet, nose: RemedySet) => boolean;
}

/** Whether holes that a main rib is a layer of do not clean up: its new one is drilled from the spar. */
function spoilsHoles(m: Model, rib: Rib, before: Before): boolean {
  const rows = new Set(m.joints.filter((j) => rib.kind === 'main' && j.layers.includes(rib.id)).map((j) => j.id));
  const isSpoilt = (f: Finding): boolean => f.check === 'hole-cleanup' && rows.has(f.at.joint ?? '');
  return checkAll(m).some((f) => isSpoilt(f) && levelIn(f, before) > 0);
}

/**
 * The rib as it is; and, where it is what is off, made again to its drawing or so that every end of it that is off
 * fits here.
 */
function again(m: Model, rib: Rib, before: Before): RemedySet[] {
  const skeleton = skeletonOf(m);
  const [bay] = skeleton.bays;
  const wrong = bay ? findingsAt(skeleton, bay).filter((f) => f.at.part === rib.id && levelIn(f, before) > 0) : [];
  const isOff = wrong.some((f) => isAtFault(skeleton, rib, f));
  if (!isOff && !spoilsHoles(m, rib, before)) return [[]];
  const ends = new Set(wrong.flatMap((f) => f.at.end ?? []));
  const fitted = madeToFit(m, rib, [...ends]);
  return [[], [remake(rib)], ...(fitted ? [[fitted]] : [])];
}

/**
 * Whether a set leaves a rib that is made again in the same state without pieces or bends to make it fit: metal once.
 */
const isMetalOnce = (set: RemedySet): boolean =>
  set.every(({ kind }) => kind !== 'shim' && kind !== 'channel' && kind !== 'joggle');

/** What may be done at an end between the caps; of a rib made again, nothing that only makes up for how it is made. */
function capsThen(m: Model, state: RemedySet, end: EndName, before: Before): RemedySet[] {
  const all = capOptions(applied(m, state), end, before);
  return state.length === 0 ? all : all.filter(isMetalOnce);
}

function mainOptions(m: Model, rib: MainRib, before: Before): RemedySet[] {
  const all: RemedySet[] = [];
  for (const state of again(m, rib, before)) {
    const now = applied(m, state);
    for (const caps of joined(capsThen(m, state, 'front', before), capsThen(m, state, 'rear', before))) {
      const then = applied(now, caps);
      for (const chord of chordOptions(then, before))
        for (const hole of holeOptions(then, before)) all.push([...state, ...caps, ...chord, ...hole]);
    }
  }
  return all;
}

/** Shorter than this, mm, nothing is packed: half the thinnest packer, and what a rule can tell. */
const WORTH = 0.25;

/** Amounts, mm, that a proud nose may be made shorter by. */
const amounts = (off: readonly number[]): number[] => [...new Set(off.flatMap((v) => shorterBy(v) ?? []))];

/**
 * One packer behind a nose, or two where the thickest alone leaves it as far off as half of what a nose line may be.
 */
function packers(m: Model, rib: NoseRib, short: number): RemedySet[] {
  if (short < WORTH) return [];
  const stock = sheets(m);
  const behind = (sheet: string): Remedy => packer(m, { rib, end: 'tail', sheet });
  const one = stock.map((sheet) => [behind(sheet)]);
  const thickest = Math.max(0, ...stock.map((s) => sheetOnHand(m, s)));
  if (short <= thickest + 2 * WORTH) return one;
  const two = stock.flatMap((a, i) => stock.slice(i).map((b) => [behind(a), behind(b)]));
  return [...one, ...two];
}

function noseOptions(m: Model, rib: NoseRib, aim: NoseAim, before: Before): RemedySet[] {
  const own: RemedySet[] = [
    [],
    ...packers(m, rib, -Math.min(0, ...aim.off)),
    ...amounts(aim.off).map((s) => [shorter(m, rib, s)]),
  ];
  const made = again(m, rib, before).slice(1);
  const anew = aim.level > 0 && made.length === 0 ? [[remake(rib)]] : made;
  return [
    ...joined(own, capOptions(m, 'tail', before)),
    ...anew.flatMap((set) => joined([set], capsThen(m, set, 'tail', before))),
  ];
}

function tipOptions(m: Model, rib: TipRib, aim: NoseAim, before: Before): RemedySet[] {
  const rear = m.spars.rear !== undefined;
  const short = -Math.min(0, ...aim.off);
  const own: RemedySet[] = [
    [],
    ...amounts(aim.off).map((s) => [trimTip(m, rib, s)]),
    ...(short >= WORTH && rear ? sheets(m).map((sheet) => [packer(m, { rib, end: 'rear', sheet })]) : []),
  ];
  const capsAfter = (set: RemedySet): RemedySet[] => (rear ? capsThen(m, set, 'rear', before) : [[]]);
  const off = Math.max(0, ...aim.off.map(Math.abs));
  const isNoseOff = aim.level > 0 || off >= WORTH;
  const made = again(m, rib, before).slice(1);
  const anew = made.length === 0 && isNoseOff ? [[remake(rib)]] : made;
  return [...joined(own, capsAfter([])), ...anew.flatMap((set) => joined([set], capsAfter(set)))];
}

/** The sets of remedies offered at a station, about its main rib and about its nose or tip. */
export function offeredAt(alone: Model, aim: NoseAim, before: Before): Offered {
  const [bay] = skeletonOf(alone).bays;
  const fits = (set: RemedySet): boolean => !overStacked(alone, applied(alone, set));
  const mains = bay?.main ? mainOptions(alone, bay.main, before) : [[]];
  const forNose = (): RemedySet[] => {
    if (bay?.nose) return noseOptions(alone, bay.nose, aim, before);
    return bay?.tip ? tipOptions(alone, bay.tip, aim, before) : [[]];
  };
  return {
    mains: mains.filter(fits),
    noses: forNose().filter(fits),
    mayJoin: (main, nose) => fits([...main, ...nose]),
  };
}
