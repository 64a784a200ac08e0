import { best, type Chain, uncertainty } from '../chains/chain.ts';
import { atEnd } from '../checks/at.ts';
import { sentence, show } from '../checks/describe.ts';
import { type Finding, judge } from '../checks/finding.ts';
import { channelRideChain } from '../checks/fit/bendRide.ts';
import { endName } from '../checks/fit/capGap.ts';
import type { Lump, Overlap } from '../geometry/kernel/overlap.ts';
import type { Kernel } from '../geometry/kernel.ts';
import { limitFor } from '../model/limits.ts';
import type { Model } from '../model/schema.ts';
import type { RibPlace, Skeleton } from '../parts/layout/layout.ts';
import { capGapChain, chordGapChain } from '../parts/layout/meeting.ts';
import type { PlacedSolid } from '../parts/placed/build.ts';
import { solidsOf } from '../parts/placed/solids.ts';
import type { Reads } from './readOff.ts';

/*
 * Asks the solids: which two parts are in the same place, and how deep?
 * Every pair whose boxes meet is intersected, going out along the span so that only neighbours are tried. Where a rib
 * end and its spar bite, the answer is told apart by where: at the caps (both together, beside C1), at the web
 * (beside C3), at the bend alone (beside C14). Value: the depth, negative. The limit is that of metal in the same
 * place between the caps.
 */

/** Below this a bite is the facets' own, not the parts', mm: see `attitude.ts`. */
export const FILM = 0.002;

/** Two parts that share space, and what they share. */
export interface Shared {
  readonly a: PlacedSolid;
  readonly b: PlacedSolid;
  readonly overlap: Overlap;
}

/** Why two parts may be in the same place, or undefined when they may not. */
export function planned(a: PlacedSolid, b: PlacedSolid): string | undefined {
  if (a.kind === 'rivet' || b.kind === 'rivet') return 'a rivet fills its hole and its heads press on what they hold';
  if (a.kind === 'skin' || b.kind === 'skin')
    return 'the skin is drawn from the ribs and gives way where one stands proud';
  return undefined;
}

/** Pairs whose boxes meet, found going out along the span: work grows with the parts, not with their square. */
export function boxPairs(parts: readonly PlacedSolid[], kernel: Kernel): [PlacedSolid, PlacedSolid][] {
  const boxed = parts
    .map((part) => ({ part, box: kernel.bounds(part.solid) }))
    .sort((p, q) => p.box.low[1] - q.box.low[1]);
  const pairs: [PlacedSolid, PlacedSolid][] = [];
  let open: typeof boxed = [];
  for (const next of boxed) {
    open = open.filter((o) => o.box.high[1] >= next.box.low[1]);
    for (const o of open)
      if (([0, 2] as const).every((k) => o.box.low[k] <= next.box.high[k] && next.box.low[k] <= o.box.high[k]))
        pairs.push([o.part, next.part]);
    open.push(next);
  }
  return pairs;
}

/** Every pair that bites deeper than a film and is not planned to. */
export function sharedIn(parts: readonly PlacedSolid[], kernel: Kernel): Shared[] {
  return kernel.together(() =>
    boxPairs(parts, kernel).flatMap(([a, b]): Shared[] => {
      if (planned(a, b) !== undefined) return [];
      const overlap = kernel.overlap(a.solid, b.solid);
      return overlap.depth > FILM ? [{ a, b, overlap }] : [];
    }),
  );
}

const ZONES = ['caps', 'web', 'bend'] as const;
type Zone = (typeof ZONES)[number];

/** A rib end, or a piece on it, biting its spar, what is fixed to that, or the piece it stands on, in one zone. */
interface Bite {
  readonly place: RibPlace;
  readonly zone: Zone;
  readonly pieces: readonly PlacedSolid[];
  readonly spar: readonly PlacedSolid[];
  readonly volume: number;
  /** As the lumps have it. */
  readonly depth: number;
}

const isSpar = (p: PlacedSolid): boolean => p.kind === 'spar' || p.kind === 'strip';

const ON_SPAR: readonly (readonly [RegExp, Zone])[] = [
  [/cap|^inside$|leg/, 'caps'],
  [/^bend$/, 'bend'],
  [/^web|^face$|^to part$/, 'web'],
];
const ON_PART: readonly (readonly [RegExp, Zone])[] = [
  [/flange|leg/, 'caps'],
  [/tab|^to spar$/, 'web'],
];

/**
 * Where a lump lies, by the spar's faces that have a good part of it behind them; where a part is wholly inside the
 * spar's metal, by the part's own.
 */
function zonesOf(lump: Lump, side: 'a' | 'b'): { zone: Zone; depth: number }[] {
  const zones = (mine: boolean, names: typeof ON_SPAR) =>
    lump.faces
      .filter((f) => (f.of === side) === mine && f.depth > FILM && f.area * f.depth >= 0.1 * lump.volume)
      .flatMap(({ name, depth }) =>
        names.flatMap(([of, zone]) => (of.test(name) ? [{ zone, depth }] : [])).slice(0, 1),
      );
  const onSpar = zones(true, ON_SPAR);
  return onSpar.length > 0 ? onSpar : zones(false, ON_PART);
}

/** The rib end that a part stands at on a spar, or on its own doubler, if it does. */
function placeOf(skeleton: Skeleton, part: PlacedSolid, spar: PlacedSolid): RibPlace | undefined {
  if (spar.kind === 'doubler')
    return skeleton
      .placesAt(part.station ?? '')
      .find((p) => p.rib.id === part.id && p.doublers.some((d) => d.id === spar.id));
  const name = spar.id.startsWith('front') ? 'front' : 'rear';
  return skeleton
    .placesAt(part.station ?? '')
    .find((p) => p.spar === name && (p.rib.id === part.id || p.doublers.some((d) => d.id === part.id)));
}

function bitesOf(skeleton: Skeleton, all: readonly Shared[]): { bites: Bite[]; others: Shared[] } {
  const bites = new Map<string, Bite>();
  const others: Shared[] = [];
  for (const shared of all) {
    const found = biteParts(skeleton, shared);
    if (found.length === 0) others.push(shared);
    for (const bite of found) {
      const key = `${bite.place.key} ${bite.zone}`;
      bites.set(key, joinedBite(bites.get(key), bite));
    }
  }
  return { bites: [...bites.values()], others };
}

/** What one pair bites at a rib end, zone by zone; empty where neither part stands at the other. */
function biteParts(skeleton: Skeleton, { a, b, overlap }: Shared): Bite[] {
  const under = isSpar(a) || (a.kind === 'doubler' && !isSpar(b));
  const [spar, part, side] = under ? [a, b, 'a' as const] : [b, a, 'b' as const];
  const place = isSpar(part) ? undefined : placeOf(skeleton, part, spar);
  if (!place) return [];
  const found = overlap.lumps.flatMap((lump) => zonesOf(lump, side).map((z) => ({ ...z, lump })));
  return ZONES.flatMap((zone): Bite[] => {
    const here = found.filter((f) => f.zone === zone);
    if (here.length === 0) return [];
    // At a bend the lump runs on round it: only the face's own depth tells.
    const depths = here.map((f) => (zone === 'bend' ? f.depth : Math.min(f.depth, f.lump.depth)));
    const volume = here.reduce((sum, f) => sum + f.lump.volume, 0);
    return [{ place, zone, pieces: [part], spar: [spar], volume, depth: Math.max(0, ...depths) }];
  });
}

const joinedBite = (had: Bite | undefined, bite: Bite): Bite =>
  had === undefined
    ? bite
    : {
        ...bite,
        pieces: [...new Set([...had.pieces, ...bite.pieces])],
        spar: [...new Set([...had.spar, ...bite.spar])],
        volume: had.volume + bite.volume,
        depth: Math.max(had.depth, bite.depth),
      };

const joined = (parts: readonly PlacedSolid[]): string => [...new Set(parts.map((p) => p.mark))].join(' and ');

/** A chain's value in words: `0.32 mm of metal in the same place`, `0.28 mm of daylight`. */
export function saysChain(model: Model, f: Chain): string {
  const v = best(f);
  return v < 0 ? `${show(model, -v)} too much metal` : `${show(model, v)} of daylight`;
}

/** At which cap, in words; nothing where neither was read to bite. */
function capsBitten(model: Model, top: number, bottom: number): string {
  if (top + bottom <= FILM) return '';
  if (top > FILM && bottom > FILM)
    return `, ${show(model, top)} at the top cap and ${show(model, bottom)} at the bottom one`;
  return top > bottom ? ', at the top cap' : ', at the bottom cap';
}

function capBite(skeleton: Skeleton, bite: Bite, bend: Bite | undefined, reads: Reads): Finding {
  const { model } = skeleton;
  const { place } = bite;
  const read = reads.cap(place);
  const [top, bottom] = [Math.max(0, -(read?.top ?? 0)), Math.max(0, -(read?.bottom ?? 0))];
  // Caps that gape bite nearer the web than at the edge, where the reading is taken.
  const depth = top + bottom > FILM ? top + bottom : bite.depth;
  const restsOn = capGapChain(skeleton, place);
  return judge({
    check: 'overlap',
    at: { ...atEnd(place), what: 'caps' },
    place: `${endName(place)} caps`,
    restsOn,
    value: -depth,
    limit: limitFor(model, 'overlap'),
    sense: () => 'bites',
    say: (j) => {
      const with_ = bite.pieces.filter((p) => p.id !== place.rib.id);
      const who = `${endName(place)} end${with_.length > 0 ? `, with ${joined(with_)},` : ''}`;
      const much = `${show(model, depth)} in all${capsBitten(model, top, bottom)}`;
      const home = bend
        ? ` Pressed home, ${joined(bend.pieces)} bites ${show(model, bend.depth)} into the bends too.`
        : '';
      return sentence(model, j, `${who} shares space with the ${joined(bite.spar)} by ${much}`, {
        note: `The chain of sizes says ${saysChain(model, restsOn)} between the caps.${home}`,
        todo: best(restsOn) > 0 ? 'Centre it first.' : undefined,
      });
    },
  });
}

function webBite(skeleton: Skeleton, bite: Bite, reads: Reads): Finding {
  const { model } = skeleton;
  const { place } = bite;
  const { main } = place.bay;
  const read = reads.web(place);
  const depth = read !== undefined && -read > FILM ? -read : bite.depth;
  const restsOn =
    main && place.rib === main && model.spars.rear ? chordGapChain(skeleton, place.bay, main, 'bowed') : [];
  const askew =
    Math.abs(best(restsOn) + depth) > 0.01 && skeleton.book.find(`skew@${place.bay.station.id}`) !== undefined;
  return judge({
    check: 'overlap',
    at: { ...atEnd(place), what: 'web' },
    place: `${endName(place)} web`,
    restsOn,
    value: -depth,
    limit: limitFor(model, 'overlap'),
    sense: () => 'bites',
    say: (j) =>
      sentence(
        model,
        j,
        `${joined(bite.pieces)} shares space with the ${joined(bite.spar)} at its web by ${show(model, depth)}`,
        {
          note:
            restsOn.length > 0
              ? `The chain of sizes says ${saysChain(model, restsOn)} between the webs, as bowed${askew ? '; it does not count that the rib stands askew' : ''}.`
              : undefined,
        },
      ),
  });
}

function bendBite(skeleton: Skeleton, bite: Bite): Finding {
  const { model } = skeleton;
  const { place } = bite;
  const channel = place.doublers.find((d) => d.form === 'channel' && bite.pieces.some((p) => p.id === d.id));
  const restsOn = channel ? channelRideChain(skeleton, place, channel) : [];
  return judge({
    check: 'overlap',
    at: { ...atEnd(place), what: 'bend' },
    place: `${endName(place)} bend`,
    restsOn,
    value: -bite.depth,
    // Two quarter bends with a common tangent at cap and web part by √2 − 1 of what their radii differ.
    u: (Math.SQRT2 - 1) * uncertainty(restsOn),
    limit: limitFor(model, 'overlap'),
    sense: () => 'bites',
    say: (j) =>
      sentence(
        model,
        j,
        `${joined(bite.pieces)} shares space with the bends of the ${joined(bite.spar)} by ${show(model, bite.depth)} when pressed home`,
        {
          note:
            restsOn.length > 0
              ? `The chain of sizes says it must stand ${show(model, Math.max(0, best(restsOn)))} off each cap.`
              : undefined,
        },
      ),
  });
}

function otherBite(skeleton: Skeleton, shared: Shared): Finding {
  const { model } = skeleton;
  const { overlap } = shared;
  const [a, b] = shared.a.id < shared.b.id ? [shared.a, shared.b] : [shared.b, shared.a];
  return judge({
    check: 'overlap',
    at: { station: a.station ?? b.station, part: a.id, with: b.id },
    place: `${a.id} and ${b.id}`,
    restsOn: [],
    value: -overlap.depth,
    limit: limitFor(model, 'overlap'),
    sense: () => 'bites',
    say: (j) =>
      sentence(
        model,
        j,
        `${a.mark} and ${b.mark} share space by ${show(model, overlap.depth)}, ${overlap.volume.toFixed(overlap.volume < 10 ? 2 : 0)} mm³`,
      ),
  });
}

/** Every bite of the skeleton's solids; nothing where all parts keep clear of one another. */
export function* overlap(skeleton: Skeleton, kernel: Kernel, reads: Reads): Generator<Finding> {
  const { bites, others } = bitesOf(skeleton, sharedIn(solidsOf(skeleton, { magnify: 1 }), kernel));
  for (const bite of bites) {
    const beside = (zone: Zone) => bites.find((o) => o.place === bite.place && o.zone === zone);
    if (bite.zone === 'caps') yield capBite(skeleton, bite, beside('bend'), reads);
    else if (bite.zone === 'web') yield webBite(skeleton, bite, reads);
    else if (!beside('caps')) yield bendBite(skeleton, bite);
  }
  for (const shared of others) yield otherBite(skeleton, shared);
}
