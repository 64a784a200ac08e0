import { checkAll } from '../checks/checkAll.ts';
import { squareWants, stringLine, type Want } from '../checks/evidence.ts';
import type { CheckId, Finding } from '../checks/finding.ts';
import { checksWhere } from '../model/checkTable.ts';
import { perPanel } from '../model/rested.ts';
import type { Bay, Skeleton } from '../parts/layout/layout.ts';
import { skeletonOf } from '../parts/layout/skeleton.ts';
import { type GateItem, item, mergedItem, NOTHING } from './gate.ts';
import { askItem, plainItem } from './items.ts';

/*
 * What a row's gate asks of where it stands: the fits and the square of its station and of the two beside it, and of the
 * whole panel that its readings agree, its spars are straight and its twist is out. Each is asked once for a skeleton.
 */

const WORDS = {
  agree: { name: 'the readings agree', not: 'readings do not agree' },
  together: { name: 'the parts go together', not: 'the parts do not go together yet' },
  square: { name: 'the ribs stand square', not: 'the ribs do not stand square' },
  straight: { name: 'the spars are straight', not: 'the spars are not straight' },
  twist: { name: 'the twist is out', not: 'the twist is not out' },
} as const;

const ofGate = (gate: string): readonly CheckId[] => checksWhere((row) => row.gate === gate);
const TOGETHER = ofGate('together');
const SQUARE = ofGate('square');
const STRAIGHT = ofGate('straight');
const TWIST = ofGate('twist');
const AGREE = ofGate('agree');

/** Findings of some checks, by station; those of the whole panel under null. */
type ByStation = ReadonlyMap<string | null, readonly Finding[]>;

function grouped(skeleton: Skeleton): ByStation {
  const map = new Map<string | null, Finding[]>();
  for (const f of checkAll(skeleton.model)) {
    const list = map.get(f.station);
    if (list) list.push(f);
    else map.set(f.station, [f]);
  }
  return map;
}

const ofChecks = (findings: readonly Finding[] | undefined, checks: readonly CheckId[]): readonly Finding[] =>
  (findings ?? []).filter((f) => checks.includes(f.check));

/** Whether anything meets anything at a station: a rib end inside caps, or a rib between two webs. */
const meets = (skeleton: Skeleton, bay: Bay): boolean =>
  skeleton.placesAt(bay.station.id).some((p) => p.spec.ends === 'nests') ||
  (bay.main !== undefined && skeleton.model.spars.rear !== undefined);

function togetherAt(skeleton: Skeleton, bay: Bay, here: readonly Finding[] | undefined): GateItem | undefined {
  if (!meets(skeleton, bay)) return undefined;
  return askItem(WORDS.together, {
    skeleton,
    findings: ofChecks(here, TOGETHER),
    unread: `Nothing was asked of how the parts meet at ${bay.station.id}: feel its gaps.`,
  });
}

/** Square is asked of every rib that stands on both its ends or alone on a spar: main and tip ribs, and a nose rib where neither is. */
function squareAt(skeleton: Skeleton, bay: Bay, here: readonly Finding[] | undefined): GateItem | undefined {
  const rib = bay.main ?? bay.tip ?? bay.nose;
  if (!rib) return undefined;
  return askItem(WORDS.square, {
    skeleton,
    findings: ofChecks(here, SQUARE),
    wants: squareWants(skeleton, bay),
    unread: `Square ${rib.id} from the bench, and read its lean, and its skew or a diagonal.`,
  });
}

const BLOCKS = 'Read the heights of both spars, or a level on the chord, at every block and at both ends.';

/** One way of reading the twist, at every station that carries a block, the first and the last. */
function twistWants(skeleton: Skeleton): Want[] {
  const { bays, model } = skeleton;
  const ends = [bays[0], bays.at(-1)].flatMap((b) => (b ? [b.station.id] : []));
  const stations = [...new Set([...ends, ...model.survey.supports])].filter((id) =>
    bays.some((b) => b.station.id === id),
  );
  const ways: readonly (readonly [name: string, keys: (id: string) => readonly string[]])[] = [
    ['heights over the bench', (id) => [`height.front@${id}`, `height.rear@${id}`]],
    ['level on the chord', (id) => [`level@${id}`]],
    ['plumb line', (id) => [`plumb@${id}`]],
  ];
  const isRead = (key: string): boolean => {
    const size = skeleton.book.find(key);
    return size !== undefined && size.aged === undefined;
  };
  const unread = ways.map(([, keys]) => stations.flatMap(keys).filter((k) => !isRead(k)).length);
  const least = Math.min(...unread);
  const way = ways[unread.indexOf(least)];
  if (!way) return [];
  const [name, keys] = way;
  return stations.flatMap((id) =>
    keys(id).map((key) => ({ name: skeleton.book.entries.get(key)?.name ?? `${name} at ${id}`, keys: [key] })),
  );
}

/** One twist, however often it was read: where it was read more ways than one the answer of all together counts, and nothing read before the metal moved has a say beside what was read since. */
function countedTwists(all: readonly Finding[]): readonly Finding[] {
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

function twistItem(skeleton: Skeleton, by: ByStation): GateItem {
  const findings = countedTwists([...by.values()].flatMap((list) => ofChecks(list, TWIST)));
  return askItem(WORDS.twist, { skeleton, findings, wants: twistWants(skeleton), unread: BLOCKS });
}

function straightItem(skeleton: Skeleton, by: ByStation): GateItem | undefined {
  const wants = (['front', 'rear'] as const).flatMap((n) => (skeleton.model.spars[n] ? stringLine(skeleton, n) : []));
  const findings = [...by.values()].flatMap((list) => ofChecks(list, STRAIGHT));
  // Between two stations no string line can be read: nothing is asked, and nothing is said.
  if (wants.length === 0) return undefined;
  return askItem(WORDS.straight, { skeleton, findings, wants, unread: 'Read the spars against a string line.' });
}

/** Nothing can disagree before anything is read: then nobody has asked. */
function agreeItem(skeleton: Skeleton, by: ByStation): GateItem {
  const findings = [...by.values()].flatMap((list) => ofChecks(list, AGREE));
  const { readings } = skeleton.model;
  const dates = readings.flatMap((r) => (r.date === undefined ? [] : [r.date]));
  const rests = { ...NOTHING, read: readings.length, of: readings.length, last: dates.sort().at(-1) ?? null };
  const bad = findings.filter((f) => f.verdict === 'act' || f.verdict === 'unsettled');
  if (bad.length > 0) return { ...askItem(WORDS.agree, { skeleton, findings: bad, unread: '' }), rests };
  if (readings.length === 0) return plainItem(WORDS.agree, 'not asked', 'Nothing is read yet.', rests);
  return item(WORDS.agree, 'yes', '', rests);
}

/** What a row's gate asks of a station and of the panel. */
export interface Standing {
  readonly agree: GateItem;
  /** Absent where no station lies between the ends. */
  readonly straight: GateItem | undefined;
  readonly twist: GateItem;
  /** Of the station and the two beside it; absent where nothing there can be asked. */
  together(station: string): GateItem | undefined;
  square(station: string): GateItem | undefined;
}

const standings = perPanel((model): Standing => {
  const skeleton = skeletonOf(model);
  const by = grouped(skeleton);
  const { bays } = skeleton;
  const fits = bays.map((bay) => togetherAt(skeleton, bay, by.get(bay.station.id)));
  const squares = bays.map((bay) => squareAt(skeleton, bay, by.get(bay.station.id)));
  const at = new Map(bays.map((b) => [b.station.id, b.index]));
  const beside = (items: readonly (GateItem | undefined)[], station: string): GateItem | undefined => {
    const i = at.get(station) ?? 0;
    return mergedItem(items.slice(Math.max(0, i - 1), i + 2).filter((x) => x !== undefined));
  };
  return {
    agree: agreeItem(skeleton, by),
    straight: straightItem(skeleton, by),
    twist: twistItem(skeleton, by),
    together: (station) => beside(fits, station),
    square: (station) => beside(squares, station),
  };
});

/** What stands how. */
export const standingOf = (skeleton: Skeleton): Standing => standings(skeleton.model);
