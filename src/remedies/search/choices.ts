import { best } from '../../chains/chain.ts';
import { findingsAt } from '../../checks/checkAll.ts';
import type { Finding } from '../../checks/finding.ts';
import { leastRadius, nextBlock } from '../../checks/fit/bendRide.ts';
import { fromNominal, nosesOf } from '../../checks/fit/noseLine.ts';
import type { MainRib, Model, NoseRib, TipRib } from '../../model/schema.ts';
import type { EndName, RibPlace, Skeleton } from '../../parts/layout/layout.ts';
import { capGapChain, chordGapChain } from '../../parts/layout/meeting.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { bendEasier, cutStrip, joggleDeeper, rebendEnd, rebendTail, remake, trimTip } from '../offers/forming.ts';
import { rebag, sheetOf, sheets, shimsFor, stripsUnder } from '../offers/offers.ts';
import { channelDoubler, flatOnWeb, resheet, shimOf } from '../offers/pieces.ts';
import { bias } from '../offers/placing.ts';
import { stepUp } from '../offers/stepUp.ts';
import { gramsAdded } from '../pieceMass.ts';
import { type Before, counts, levelOf, reachOf } from '../reach.ts';
import type { Cost, Remedy } from '../remedy.ts';
import { costOf, workOf } from './plan.ts';

/*
 * What may be done at one station, and what each leaves there? Every choice is a small set of remedies, applied to the
 * station and asked again. Offered are: the rib as it is or made again; at each end a shim, a channel doubler, a doubler
 * of another sheet, a deeper joggle, the rib held in the middle, a cap strip that runs too far cut back; riding doublers bent easier; on the webs a packer, or an
 * end bent again; the next rivet size; behind the nose one packer or two, its tail bent again, or a new one; a tip
 * shortened, packed or made again. The bag of rivets follows by itself. Nothing is offered at a place that fits by its best
 * value, nothing for a kink as such (it may be an echo), never a third piece in one stack, never a slot.
 */

/** One finding that does not fit by its best value. */
export interface Over {
  readonly id: string;
  readonly level: 1 | 2;
}

/** One thing that may be done at a station, and what it leaves there. */
export interface Choice {
  readonly remedies: readonly Remedy[];
  readonly cost: Cost;
  readonly work: number;
  readonly mass: number;
  readonly beyond: number;
  readonly outside: number;
  /** Sum of squared reaches. */
  readonly off: number;
  readonly over: readonly Over[];
  /** Departure of the nose from its drawing, mm, proud positive; undefined where none stands. */
  readonly nose: number | undefined;
  /** Chord gap, mm, spars held straight; undefined without a main rib between two spars. */
  readonly chord: number | undefined;
  /** Whether the nose or tip rib itself was bent, trimmed or made again. */
  readonly noseTouched: boolean;
}

const apply = (m: Model, remedies: readonly Remedy[]): Model => remedies.reduce((now, r) => r.edit.apply(now), m);
const cross = (a: readonly Remedy[][], b: readonly Remedy[][]): Remedy[][] =>
  a.flatMap((x) => b.map((y) => [...x, ...y]));
const onlyBay = (m: Model): { skeleton: Skeleton; findings: Finding[] } => {
  const skeleton = skeletonOf(m);
  return { skeleton, findings: findingsAt(skeleton, skeleton.bays[0]!) };
};

const level = (f: Finding, before: Before): number => {
  const reach = reachOf(f.value, f.limits);
  return counts(f.id, reach, before) ? levelOf(reach) : 0;
};

/** Channel doublers at a place that ride on the spar's bend, each bent as easily as it needs. */
function easier(m: Model, place: RibPlace, bad: readonly Finding[]): Remedy[] {
  const spar = m.spars[place.spar] ?? m.spars.front;
  return place.doublers
    .filter((d) => d.form === 'channel' && bad.some((f) => f.check === 'bend-ride' && f.place === d.id))
    .map((d) => bendEasier(m, d.id, nextBlock(leastRadius(spar.radius, sheetOf(m, d.sheet)))));
}

/** What may be done between a rib end and the caps. A joggle is never pressed deeper by more than two sheets. */
function capOptions(m: Model, end: EndName, before: Before): Remedy[][] {
  const { skeleton, findings } = onlyBay(m);
  const place = skeleton.places.find((p) => p.rib.kind !== 'nose' && p.end === end);
  if (!place || place.spec.ends !== 'nests') return [[]];
  const name = `${place.rib.id} ${end}`;
  const bad = findings.filter(
    (f) =>
      (f.place === name || f.place.startsWith(`${name} `) || place.doublers.some((d) => d.id === f.place)) &&
      level(f, before) > 0,
  );
  if (bad.length === 0) return [[]];
  const ride = easier(m, place, bad);
  const options: Remedy[][] = [[]];
  if (bad.some((f) => f.check !== 'bend-ride' && f.check !== 'bend-radius')) {
    const gap = best(capGapChain(skeleton, place));
    const { rib } = place;
    if (end !== 'tail') {
      for (const d of place.doublers)
        for (const sheet of sheets(m)) if (sheet !== d.sheet) options.push([resheet(m, d, sheet)]);
      if (gap > 0) {
        for (const thickness of shimsFor(m, gap + 0.1)) options.push([shimOf({ rib, end, thickness }, 'top', m)]);
        for (const thickness of shimsFor(m, (gap + 0.1) / 2))
          options.push([shimOf({ rib, end, thickness }, 'both', m)]);
        for (const sheet of sheets(m))
          if (2 * sheetOf(m, sheet) <= gap + 0.1) options.push([channelDoubler({ rib, end, sheet })]);
      } else {
        const deeper = Math.ceil((-gap / 2) * 20 - 1e-9) / 20;
        if (rib.kind === 'main' && deeper <= 2 * sheetOf(m, rib.sheet))
          options.push([joggleDeeper(m, rib, end, deeper)]);
        options.push(
          ...stripsUnder(m, place).map((strip) => [
            cutStrip(m, { spar: place.spar, strip, station: place.bay.station.id, clear: 2 * rib.flange }),
          ]),
        );
      }
      if (rib.kind === 'main' && Math.abs(skeleton.book.find(`${place.key}.bias`)?.best ?? 0) > 1e-9)
        options.push([bias(m, rib, end, 0)]);
    }
  }
  const eased = options.flatMap((o) => {
    const after = apply(m, o);
    const now = skeletonOf(after).places.find((p) => p.key === place.key)!;
    const left =
      o.length === 0
        ? ride
        : easier(
            after,
            now,
            onlyBay(after).findings.filter((f) => level(f, before) > 0),
          );
    return left.length === 0 ? [o] : [o, [...o, ...left]];
  });
  return eased;
}

/** What may be done about a main rib's length. */
function chordOptions(m: Model, rib: MainRib, before: Before): Remedy[][] {
  const { skeleton, findings } = onlyBay(m);
  const bad = findings.find((f) => f.check === 'chord-gap' && level(f, before) > 0);
  if (!bad || !m.spars.rear) return [[]];
  const k = best(chordGapChain(skeleton, skeleton.bays[0]!, rib, 'straight'));
  if (k < 0) {
    const s = Math.ceil(-k * 10 - 1e-9) / 10;
    return [[], [rebendEnd(m, rib, 'rear', s)], [rebendEnd(m, rib, 'front', s)]];
  }
  const fills = sheets(m).filter((s) => sheetOf(m, s) <= k + 0.2);
  const stacked = (end: 'front' | 'rear'): number =>
    skeleton.doublersAt(rib.id, end).filter((d) => !d.designed && (d.form === 'channel' || d.on === 'web')).length;
  return [
    [],
    ...(['rear', 'front'] as const).flatMap((end) =>
      stacked(end) > 1 ? [] : fills.map((sheet) => [flatOnWeb({ rib, end, sheet })]),
    ),
  ];
}

/** Joints whose holes do not clean up, taken to the next rivet size. */
function holeOptions(m: Model, before: Before): Remedy[][] {
  const bad = new Set(
    onlyBay(m)
      .findings.filter((f) => f.check === 'hole-cleanup' && level(f, before) === 2)
      .map((f) => f.place.split(' ')[0]),
  );
  const steps = m.joints
    .filter((j) => bad.has(j.id))
    .map((j) => stepUp(m, j))
    .filter((r) => r !== undefined);
  return steps.length === 0 ? [[]] : [[], steps];
}

function mainOptions(m: Model, rib: MainRib, before: Before): Remedy[][] {
  const all: Remedy[][] = [];
  for (const state of [[], [remake(m, rib)]]) {
    const now = apply(m, state);
    const here = now.ribs.find((r) => r.id === rib.id) as MainRib;
    for (const caps of cross(capOptions(now, 'front', before), capOptions(now, 'rear', before))) {
      const then = apply(now, caps);
      for (const chord of chordOptions(then, here, before))
        for (const hole of holeOptions(then, before)) all.push([...state, ...caps, ...chord, ...hole]);
    }
  }
  return all;
}

/** How far a nose stands off what may be wanted of it: its drawing, and the line through the end noses; its findings that do not fit. */
export interface NoseAim {
  readonly off: readonly number[];
  readonly level: number;
}

/** Shorter than this, mm, nothing is bent or packed: half the thinnest packer, and what a rule can tell. */
const WORTH = 0.25;

const tenths = (values: readonly number[]): number[] => [
  ...new Set(values.filter((v) => v >= WORTH).map((v) => Math.round(v * 10) / 10)),
];

function noseOptions(m: Model, rib: NoseRib, aim: NoseAim): Remedy[][] {
  const short = Math.min(0, ...aim.off);
  const options: Remedy[][] = [[]];
  const stock = sheets(m);
  if (short <= -WORTH) {
    for (const sheet of stock) options.push([flatOnWeb({ rib, end: 'tail', sheet })]);
    const most = sheetOf(m, stock[stock.length - 1] ?? '');
    // A second packer only where the thickest one alone leaves the nose as far off as half of what a nose line may be.
    if (short < -most - 2 * WORTH)
      stock.forEach((a, i) =>
        stock
          .slice(i)
          .forEach((b) =>
            options.push([flatOnWeb({ rib, end: 'tail', sheet: a }), flatOnWeb({ rib, end: 'tail', sheet: b })]),
          ),
      );
  }
  for (const s of tenths(aim.off)) options.push([rebendTail(m, rib, s)]);
  if (aim.level > 0) options.push([remake(m, rib)]);
  return options;
}

function tipOptions(m: Model, rib: TipRib, aim: NoseAim, before: Before): Remedy[][] {
  const own: Remedy[][] = [[]];
  for (const s of tenths(aim.off)) own.push([trimTip(m, rib, s)]);
  if (Math.min(0, ...aim.off) <= -WORTH && m.spars.rear)
    for (const sheet of sheets(m)) own.push([flatOnWeb({ rib, end: 'rear', sheet })]);
  const caps = m.spars.rear ? capOptions(m, 'rear', before) : [[]];
  const bad = aim.level > 0 || caps.length > 1 || Math.max(0, ...aim.off.map(Math.abs)) >= WORTH;
  const again = remake(m, rib);
  return [
    ...cross(own, caps),
    ...(bad ? cross([[again]], m.spars.rear ? capOptions(apply(m, [again]), 'rear', before) : [[]]) : []),
  ];
}

/** One set of remedies at a station, asked; the bag of rivets follows the layers. */
export function askChoice(alone: Model, remedies: readonly Remedy[], before: Before): Choice {
  let done = [...remedies];
  let now = apply(alone, done);
  let { skeleton, findings } = onlyBay(now);
  const bags = findings
    .filter((f) => f.check === 'grip' && level(f, before) > 0)
    .flatMap((f) => rebag(skeleton, f.place).slice(0, 1));
  if (bags.length > 0) {
    done = [...done, ...bags];
    now = apply(now, bags);
    ({ skeleton, findings } = onlyBay(now));
  }
  const over: Over[] = [];
  let [beyond, outside, off] = [0, 0, 0];
  for (const f of findings) {
    const reach = reachOf(f.value, f.limits);
    if (!counts(f.id, reach, before)) continue;
    const l = levelOf(reach);
    off += Math.min(reach, 3) ** 2;
    if (l > 0) over.push({ id: f.id, level: l as 1 | 2 });
    if (l === 2) beyond++;
    else if (l === 1) outside++;
  }
  const bay = skeleton.bays[0]!;
  const nose = nosesOf(skeleton, 'straight')[0];
  const own = bay.nose ?? bay.tip;
  const noseTouched = remedies.some((r) => r.part === own?.id && r.cost.reformed + r.cost.remade > 0);
  return {
    remedies: done,
    cost: costOf(done),
    work: workOf(done),
    mass: gramsAdded(alone, now),
    beyond,
    outside,
    off,
    over,
    noseTouched,
    nose: nose && fromNominal(nose),
    chord: bay.main && now.spars.rear ? best(chordGapChain(skeleton, bay, bay.main, 'straight')) : undefined,
  };
}

const COUNTS: readonly ((c: Choice) => number)[] = [
  (c) => c.beyond,
  (c) => c.outside,
  (c) => c.off,
  (c) => c.work,
  (c) => c.mass,
  (c) => c.cost.pieces,
  (c) => c.cost.remade,
  (c) => c.cost.reformed,
  (c) => c.cost.moved,
  (c) => c.cost.holesLost,
  (c) => Number(c.noseTouched),
];
const none = (c: Choice): boolean => c.remedies.length === 0;
const alike = (a: number | undefined, b: number | undefined): boolean =>
  a === b || (a !== undefined && b !== undefined && Math.abs(a - b) < 1e-9);

/** Choices that no other of the same nose and the same chord gap beats on every count; doing nothing stays. */
function unbeatenChoices(all: readonly Choice[]): Choice[] {
  const beaten = (c: Choice, i: number): boolean =>
    all.some((d, j) => {
      if (i === j || !alike(c.nose, d.nose) || !alike(c.chord, d.chord)) return false;
      const better = COUNTS.some((f) => f(d) < f(c) - 1e-9);
      return COUNTS.every((f) => f(d) <= f(c) + 1e-9) && (better || j < i);
    });
  return all.filter((c, i) => none(c) || !beaten(c, i));
}

/** What a choice adds to or changes in the joints of its station: choices alike in this differ the same way whatever stands before the spar. */
const layersTouched = (remedies: readonly Remedy[]): string =>
  remedies
    .filter((r) => r.layers)
    .map((r) => r.id)
    .sort()
    .join();

/**
 * A choice about the main rib and one about the nose together. What the nose choice changes was asked beside a main rib's
 * choice with the same layers (`with` it and `without` it); all else the two do apart from each other.
 */
function together(
  main: Choice,
  own: readonly Remedy[],
  nose: readonly Remedy[],
  without: Choice,
  withNose: Choice,
): Choice {
  const bags = withNose.remedies.filter((r) => r.kind === 'bag');
  const remedies = [...own, ...nose, ...bags];
  const gone = new Set(without.over.map((o) => o.id));
  const over = [
    ...main.over.filter((o) => !gone.has(o.id)),
    ...withNose.over.filter((o) => gone.has(o.id) === main.over.some((p) => p.id === o.id)),
  ];
  const sum = (of: (c: Choice) => number): number => of(main) - of(without) + of(withNose);
  return {
    remedies,
    cost: costOf(remedies),
    work: workOf(remedies),
    over,
    noseTouched: withNose.noseTouched,
    nose: withNose.nose,
    chord: main.chord,
    mass: sum((c) => c.mass),
    beyond: sum((c) => c.beyond),
    outside: sum((c) => c.outside),
    off: sum((c) => c.off),
  };
}

/** The sets of remedies offered at a station, about its main rib and about its nose or tip: any of the one goes with any of the other. The first of each is nothing. */
export function offeredAt(alone: Model, aim: NoseAim, before: Before): { mains: Remedy[][]; noses: Remedy[][] } {
  const bay = skeletonOf(alone).bays[0]!;
  return {
    mains: bay.main ? mainOptions(alone, bay.main, before) : [[]],
    noses: bay.nose ? noseOptions(alone, bay.nose, aim) : bay.tip ? tipOptions(alone, bay.tip, aim, before) : [[]],
  };
}

/** Every choice at a station, one asked at each step; the last step returns those that are worth keeping. */
export function* choicesAt(alone: Model, aim: NoseAim, before: Before): Generator<void, Choice[]> {
  const { mains, noses } = offeredAt(alone, aim, before);
  yield;
  const groups = new Map<string, { own: Remedy[]; choice: Choice }[]>();
  for (const own of mains) {
    const key = layersTouched(own);
    groups.set(key, [...(groups.get(key) ?? []), { own, choice: askChoice(alone, own, before) }]);
    yield;
  }
  const all: Choice[] = [];
  for (const group of groups.values()) {
    // Beaten with the nose left alone, and alike in layers: beaten whatever is done to the nose.
    const worth = new Set(unbeatenChoices(group.map((g) => g.choice)));
    const kept = group.filter((g) => worth.has(g.choice));
    all.push(...kept.map((g) => g.choice));
    const [first] = kept;
    for (const nose of noses.slice(1)) {
      const asked = askChoice(alone, [...first!.own, ...nose], before);
      all.push(...kept.map((g) => together(g.choice, g.own, nose, first!.choice, asked)));
      yield;
    }
  }
  return unbeatenChoices(all);
}
