import type { MainRib, Model, NoseRib, TipRib } from '../../model/schema.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { packer } from '../offers/packer.ts';
import { remake } from '../offers/remake.ts';
import { shorter, shorterBy } from '../offers/shorter.ts';
import { trimTip } from '../offers/trim.ts';
import { sheetOnHand, sheets } from '../onHand.ts';
import type { Before } from '../reach.ts';
import type { Remedy } from '../remedy.ts';
import { overStacked } from '../stacks.ts';
import { applied, capOptions, chordOptions, holeOptions, joined } from './endOptions.ts';
import type { NoseAim } from './noseAims.ts';

/*
 * What is offered at one station: the rib as it is or made again; at each end what `endOptions.ts` knows; the next rivet
 * size; behind the nose one packer or two, or a new nose rib; a tip shortened, packed or made again. Nothing is offered at a
 * place that fits by its best value, nothing for a kink as such (it may be an echo), never more packers in one stack than
 * the trade has (`stacks.ts`), never a slot, never metal off a cap.
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

function mainOptions(m: Model, rib: MainRib, before: Before): RemedySet[] {
  const all: RemedySet[] = [];
  for (const state of [[], [remake(rib)]]) {
    const now = applied(m, state);
    for (const caps of joined(capOptions(now, 'front', before), capOptions(now, 'rear', before))) {
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

/** One packer behind a nose, or two where the thickest alone leaves it as far off as half of what a nose line may be. */
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

function noseOptions(m: Model, rib: NoseRib, aim: NoseAim): RemedySet[] {
  return [
    [],
    ...packers(m, rib, -Math.min(0, ...aim.off)),
    ...amounts(aim.off).map((s) => [shorter(m, rib, s)]),
    ...(aim.level > 0 ? [[remake(rib)]] : []),
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
  const caps = rear ? capOptions(m, 'rear', before) : [[]];
  const off = Math.max(0, ...aim.off.map(Math.abs));
  if (aim.level === 0 && caps.length === 1 && off < WORTH) return joined(own, caps);
  const again = remake(rib);
  const capsThen = rear ? capOptions(applied(m, [again]), 'rear', before) : [[]];
  return [...joined(own, caps), ...joined([[again]], capsThen)];
}

/** The sets of remedies offered at a station, about its main rib and about its nose or tip. */
export function offeredAt(alone: Model, aim: NoseAim, before: Before): Offered {
  const [bay] = skeletonOf(alone).bays;
  const fits = (set: RemedySet): boolean => !overStacked(alone, applied(alone, set));
  const mains = bay?.main ? mainOptions(alone, bay.main, before) : [[]];
  const forNose = (): RemedySet[] => {
    if (bay?.nose) return noseOptions(alone, bay.nose, aim);
    return bay?.tip ? tipOptions(alone, bay.tip, aim, before) : [[]];
  };
  return {
    mains: mains.filter(fits),
    noses: forNose().filter(fits),
    mayJoin: (main, nose) => fits([...main, ...nose]),
  };
}
