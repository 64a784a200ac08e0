import { missingOf, squareWants, stringLine, type Want } from '../checks/evidence.ts';
import type { Finding } from '../checks/finding.ts';
import { findingsAtStation, findingsOf } from '../checks/findingsOf.ts';
import { TWIST_WAYS, type TwistWay } from '../checks/fit/twistRead.ts';
import { kept } from '../model/rested.ts';
import type { Model } from '../model/schema.ts';
import type { Bay, Skeleton } from '../parts/layout/layout.ts';
import { skeletonOf } from '../parts/layout/skeleton.ts';
import { type GateItem, item, mergedItem, NOTHING } from './gate.ts';
import { askItem, plainItem } from './items.ts';

/*
 * What a row's gate asks of where it stands: the fits and the square of its station and of the two beside it, and of
 * the whole panel that its readings agree, its spars are straight and its twist is out. Each is kept for as long as
 * nothing it rests on changes.
 */

const WORDS = {
  agree: { name: 'the readings agree', not: 'readings do not agree' },
  together: { name: 'the parts go together', not: 'the parts do not go together yet' },
  square: { name: 'the ribs stand square', not: 'the ribs do not stand square' },
  straight: { name: 'the spars are straight', not: 'the spars are not straight' },
  twist: { name: 'the twist is out', not: 'the twist is not out' },
} as const;

/** Whether anything meets anything at a station: a rib end inside caps, or a rib between two webs. */
const meets = (skeleton: Skeleton, bay: Bay): boolean =>
  skeleton.placesAt(bay.station.id).some((p) => p.spec.ends === 'nests') ||
  (bay.main !== undefined && skeleton.model.spars.rear !== undefined);

const togetherAt = kept((model, station): GateItem | undefined => {
  const skeleton = skeletonOf(model);
  if (!meets(skeleton, skeleton.bayAt(station))) return undefined;
  return askItem(WORDS.together, {
    skeleton,
    findings: findingsAtStation(model, { item: 'together', station }),
    unread: `Nothing was asked of how the parts meet at ${station}: feel its gaps.`,
  });
});

/**
 * Square is asked of every rib that stands on both its ends or alone on a spar: main and tip ribs, and a nose rib
 * where neither is.
 */
const squareAt = kept((model, station): GateItem | undefined => {
  const skeleton = skeletonOf(model);
  const bay = skeleton.bayAt(station);
  const rib = bay.main ?? bay.tip ?? bay.nose;
  if (!rib) return undefined;
  return askItem(WORDS.square, {
    skeleton,
    findings: findingsAtStation(model, { item: 'square', station }),
    wants: squareWants(skeleton, bay),
    unread: `Square ${rib.id} from the bench, and read its lean, and its skew or a diagonal.`,
  });
});

/** An item of a station and of the two beside it, as one. */
const beside = (at: (model: Model, station: string) => GateItem | undefined) =>
  kept((model, station): GateItem | undefined => {
    const { bays, bayAt } = skeletonOf(model);
    const { index } = bayAt(station);
    const items = bays.slice(Math.max(0, index - 1), index + 2).map((bay) => at(model, bay.station.id));
    return mergedItem(items.filter((x) => x !== undefined));
  });

/** Whether the parts go together at a station and beside it; undefined where nothing there meets. */
export const togetherBeside = beside(togetherAt);

/** Whether the ribs stand square at a station and beside it; undefined where none stands. */
export const squareBeside = beside(squareAt);

const BLOCKS = 'Read the heights of both spars, or a level on the chord, at every block and at both ends.';

/** The sizes that a way of reading the twist is, at a station, and what the way is called. */
const TWIST_SIZES: Record<TwistWay, { readonly name: string; readonly keys: (id: string) => readonly string[] }> = {
  heights: { name: 'heights over the bench', keys: (id) => [`height.front@${id}`, `height.rear@${id}`] },
  level: { name: 'level on the chord', keys: (id) => [`level@${id}`] },
  plumb: { name: 'plumb line', keys: (id) => [`plumb@${id}`] },
};

/** One way of reading the twist, at every station that carries a block, the first, the last, and the reference. */
function twistWants(skeleton: Skeleton): Want[] {
  const { bays, model } = skeleton;
  const ends = [bays[0], bays.at(-1)].flatMap((b) => (b ? [b.station.id] : []));
  // Without the reference read that way too, no station's own twist is known.
  const zero = model.survey.reference === undefined ? [] : [model.survey.reference];
  const stations = [...new Set([...ends, ...model.survey.supports, ...zero])].filter((id) =>
    bays.some((b) => b.station.id === id),
  );
  const isRead = (key: string): boolean => {
    const size = skeleton.book.find(key);
    return size !== undefined && size.aged === undefined;
  };
  const ways = waysHere(skeleton);
  const unread = ways.map((way) => stations.flatMap(TWIST_SIZES[way].keys).filter((k) => !isRead(k)).length);
  const way = ways[unread.indexOf(Math.min(...unread))];
  return way ? readBy(skeleton, way, stations) : [];
}

/** The ways there are: heights want two spars. */
const waysHere = ({ model }: Skeleton): readonly TwistWay[] =>
  TWIST_WAYS.filter((way) => way !== 'heights' || model.spars.rear !== undefined);

/** A way of reading the twist at some stations: each size of it to be read. */
const readBy = (skeleton: Skeleton, way: TwistWay, stations: readonly string[]): Want[] =>
  stations.flatMap((id) =>
    TWIST_SIZES[way].keys(id).map((key) => ({
      name: skeleton.book.entries.get(key)?.name ?? `${TWIST_SIZES[way].name} at ${id}`,
      keys: [key],
    })),
  );

/**
 * Where the one way it was read cannot settle a twist, a second way is asked for at its stations: two together are
 * surer than either.
 */
function withSecondWay(skeleton: Skeleton, asked: GateItem): GateItem {
  const { finding } = asked;
  const isOneWay = finding !== undefined && finding.check !== 'disagreement' && finding.at.way !== 'combined';
  if (asked.answer !== 'unsettled' || asked.asks.length > 0 || !isOneWay) return asked;
  const { station, from, to, way: had } = finding.at;
  const stations = [...new Set([from, to, station, skeleton.model.survey.reference].filter((s) => s !== undefined))];
  const second = waysHere(skeleton).find((way) => way !== had);
  if (!second) return asked;
  const asks = missingOf(skeleton, readBy(skeleton, second, stations));
  if (asks.length === 0) return asked;
  const first = `${asked.first} Or read it a second way, by ${TWIST_SIZES[second].name}: two together are surer than either.`;
  return { ...asked, first, asks };
}

/**
 * One twist, however often it was read: where it was read more ways than one the answer of all together counts, and
 * nothing read before the metal moved has a say beside what was read since.
 */
export function countedTwists(all: readonly Finding[]): readonly Finding[] {
  const byPlace = new Map<string, Finding[]>();
  for (const f of all) {
    const key = JSON.stringify([f.check, f.at.station, f.at.from, f.at.to]);
    byPlace.set(key, [...(byPlace.get(key) ?? []), f]);
  }
  return [...byPlace.values()].flatMap((ways) => {
    const since = ways.filter((f) => f.basis !== 'stale');
    const counted = since.length > 0 ? since : ways;
    const together = counted.filter((f) => f.at.way === 'combined');
    return together.length > 0 ? together : counted;
  });
}

/** Whether the twist is out. */
export const twistItem = kept((model): GateItem => {
  const skeleton = skeletonOf(model);
  const findings = countedTwists(findingsOf(model, 'twist'));
  const asked = askItem(WORDS.twist, { skeleton, findings, wants: twistWants(skeleton), unread: BLOCKS });
  return withSecondWay(skeleton, asked);
});

/**
 * Whether the spars are straight; undefined between two stations, where no string line can be read: nothing is asked
 * or said.
 */
export const straightItem = kept((model): GateItem | undefined => {
  const skeleton = skeletonOf(model);
  const wants = (['front', 'rear'] as const).flatMap((n) => (model.spars[n] ? stringLine(skeleton, n) : []));
  if (wants.length === 0) return undefined;
  const findings = findingsOf(model, 'straight');
  return askItem(WORDS.straight, { skeleton, findings, wants, unread: 'Read the spars against a string line.' });
});

/** Whether the readings agree. Nothing can disagree before anything is read: then nobody has asked. */
export const agreeItem = kept((model): GateItem => {
  const skeleton = skeletonOf(model);
  const { readings } = model;
  const dates = readings.flatMap((r) => (r.date === undefined ? [] : [r.date]));
  const rests = { ...NOTHING, read: readings.length, of: readings.length, last: dates.sort().at(-1) ?? null };
  const bad = findingsOf(model, 'agree').filter((f) => f.verdict === 'act' || f.verdict === 'unsettled');
  if (bad.length > 0) return { ...askItem(WORDS.agree, { skeleton, findings: bad, unread: '' }), rests };
  if (readings.length === 0) return plainItem(WORDS.agree, 'not asked', 'Nothing is read yet.', rests);
  return item(WORDS.agree, 'yes', '', rests);
});
