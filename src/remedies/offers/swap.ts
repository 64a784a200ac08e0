import type { Hole, Joint, MainRib, Model, NoseRib, Reading, Rib } from '../../model/schema.ts';
import { isFeeler } from '../../model/sizeEntries.ts';
import { sizeBook } from '../../model/sizes.ts';
import type { Maker } from '../asked.ts';
import { drilledHolesOf } from '../holesAt.ts';
import { FREE, type Remedy } from '../remedy.ts';

/** Ribs that could stand where one stands: of its kind, its sheet, its flanges turned its way. */
export const interchangeableRibs = <T extends Rib>(model: Model, rib: T): T[] =>
  model.ribs.filter(
    (r): r is T => r.kind === rib.kind && r.id !== rib.id && r.sheet === rib.sheet && r.turns === rib.turns,
  );

type Like = MainRib | NoseRib;

/** The other of two names for one of them; any other name as it is. */
const otherOf =
  (a: string, b: string) =>
  (id: string): string => {
    if (id === a) return b;
    return id === b ? a : id;
  };

/**
 * Whether what a reading was of is gone once two ribs changed places: gaps felt at either, and their holes, for holes
 * stay with no place.
 */
function goneWith(m: Model, ribs: readonly Like[]): (size: string) => boolean {
  const { entries } = sizeBook(m);
  const moved = new Set<string | undefined>(ribs.map((r) => r.id));
  const joints = new Set<string | undefined>(
    m.joints.filter((j) => j.layers.some((part) => moved.has(part))).map((j) => j.id),
  );
  return (size) => {
    const entry = entries.get(size);
    if (!entry) return false;
    if (isFeeler(entry)) return moved.has(entry.of.part);
    return moved.has(entry.of.layer) || (entry.kind === 'gap' && joints.has(entry.of.joint));
  };
}

/** Noses read from the string at two stations, each with what the other was off. */
function nosesExchanged(m: Model, readings: readonly Reading[], a: string, b: string): Reading[] {
  const nominal = (station: string): number => m.stations.find((s) => s.id === station)?.nose ?? 0;
  const at = (station: string): Reading[] => readings.filter((r) => r.size === `nose@${station}`);
  const [how] = [...at(a), ...at(b)];
  if (!how) return [...readings];
  const comes = (to: string, from: string): Reading[] =>
    at(from).map((r) => ({ ...how, size: `nose@${to}`, value: nominal(to) + r.value - nominal(from) }));
  const others = readings.filter((r) => r.size !== `nose@${a}` && r.size !== `nose@${b}`);
  return [...others, ...comes(a, b), ...comes(b, a)];
}

/** Readings after two ribs changed places. */
function exchanged(m: Model, a: Like, b: Like): Reading[] {
  const gone = goneWith(m, [a, b]);
  const kept = m.readings.filter((r) => !gone(r.size));
  return a.kind === 'nose' ? nosesExchanged(m, kept, a.station, b.station) : kept;
}

type HoleLayer = Hole['layers'][number];

/**
 * The hole that a rib brings for a hole of its new row: that of the same number in the row it comes from, at the same
 * spar and face.
 */
function brought(m: Model, j: Joint, hole: Hole, rib: string): HoleLayer | undefined {
  const old = m.joints.find((o) => o.layers.includes(rib) && o.end === j.end && (o.on ?? 'web') === (j.on ?? 'web'));
  const same = old?.holes[j.holes.indexOf(hole)];
  return same?.layers.find((l) => l.part === rib);
}

/**
 * A joint with two ribs exchanged: the one that comes keeps the holes it has, drilled apart from what it meets here.
 */
function jointExchanged(m: Model, j: Joint, a: string, b: string): Joint {
  if (!j.layers.includes(a) && !j.layers.includes(b)) return j;
  const other = otherOf(a, b);
  const layer = (hole: Hole, l: HoleLayer): HoleLayer => {
    const named = { ...l, part: other(l.part), ...(l.through === undefined ? {} : { through: other(l.through) }) };
    if (named.part === l.part) return named;
    const has = brought(m, j, hole, named.part);
    if (!has || has.state === 'none') return { part: named.part, state: 'none', size: 0 };
    // Final at the place it comes from, it is final here only once the row was looked through.
    return { part: named.part, state: 'pilot', size: has.size, through: 'apart' };
  };
  return {
    ...j,
    guide: other(j.guide),
    layers: j.layers.map(other),
    holes: j.holes.map((h) => ({ ...h, layers: h.layers.map((l) => layer(h, l)) })),
  };
}

/**
 * Exchanges two like ribs; each carries its own faults along, the doublers stay at their stations. Only before
 * pilots: those already in them are lost.
 */
export function swap(model: Model, a: Like, b: Like): Remedy {
  const other = otherOf(a.id, b.id);
  const otherStation = otherOf(a.station, b.station);
  // Pilots already in them line up nowhere else.
  const holesLost = [a, b].reduce((sum, r) => sum + drilledHolesOf(model, r.id), 0);
  return {
    id: `swap:${a.id}:${b.id}`,
    kind: 'swap',
    name: `exchange ${a.id} and ${b.id}`,
    station: a.station,
    part: a.id,
    cost: { ...FREE, moved: 1, holesLost },
    askDesigner: false,
    layers: true,
    ...(holesLost > 0
      ? {
          note: 'Holes already in them go along and were drilled for another place: look both rows through before anything is drilled.',
        }
      : {}),
    edit: {
      name: `exchanged ${a.id} and ${b.id}`,
      apply: (m) => ({
        ...m,
        ribs: m.ribs.map((r) => (r.id === a.id || r.id === b.id ? { ...r, station: otherStation(r.station) } : r)),
        doublers: m.doublers.map((d) => ({ ...d, part: other(d.part) })),
        joints: m.joints.map((j) => jointExchanged(m, j, a.id, b.id)),
        readings: exchanged(m, a, b),
      }),
    },
  };
}

/** The rib of a finding exchanged with each like it; drilled ones too, whose note and cost say what holes are lost. */
export const ribExchanged: Maker = ({ model, rib }) =>
  rib && rib.kind !== 'tip' ? interchangeableRibs<Like>(model, rib).map((o) => swap(model, rib, o)) : [];
