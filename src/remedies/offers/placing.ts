import { show } from '../../checks/describe.ts';
import type { Hole, Joint, MainRib, Model, NoseRib, Reading } from '../../model/schema.ts';
import { holesIn } from '../holesAt.ts';
import { FREE, type Remedy } from '../remedy.ts';

/*
 * Nothing made: a rib held higher or lower, two like ribs exchanged, a spar pulled straight. What they write is worked out,
 * not read: it says so until it is read again.
 */

function put(model: Model, reading: Reading): Model {
  return { ...model, readings: [...model.readings.filter((r) => r.size !== reading.size), reading] };
}

/** Holds a rib end s mm above the middle between the caps; negative is below. The sum of the gaps stays. */
export function bias(model: Model, rib: MainRib, end: 'front' | 'rear', s: number): Remedy {
  const size = `${rib.id}.${end}.bias`;
  return {
    id: `bias:${rib.id}.${end}:${s}`,
    kind: 'bias',
    name:
      s === 0
        ? `centre ${rib.id} ${end} between the caps`
        : `hold ${rib.id} ${end} ${show(model, Math.abs(s))} ${s > 0 ? 'above' : 'below'} the middle`,
    station: rib.station,
    part: rib.id,
    cost: { ...FREE, moved: 1 },
    askDesigner: false,
    layers: false,
    edit: {
      name: `set ${rib.id} ${end} between the caps`,
      apply: (m) =>
        put(m, { size, value: s, instrument: 'feeler', note: 'worked out after setting it: read it again' }),
    },
  };
}

type Like = MainRib | NoseRib;

/**
 * Readings after two ribs changed places: gaps felt at either are gone, and what was read of their holes, for holes stay
 * with no place; noses read from the string exchange what they are off.
 */
function exchanged(m: Model, a: Like, b: Like): Reading[] {
  const drawn = new Set(
    m.joints.filter((j) => j.layers.includes(a.id) || j.layers.includes(b.id)).map((j) => `${j.id}.gap`),
  );
  const gone = (k: string): boolean =>
    drawn.has(k) ||
    [a, b].some(
      (r) => k === `chord.${r.id}` || k.startsWith(`gap.${r.id}.`) || (k.includes('/') && k.includes(`.${r.id}.`)),
    );
  const kept = m.readings.filter((r) => !gone(r.size));
  if (a.kind !== 'nose') return kept;
  const nominal = (station: string): number => m.stations.find((s) => s.id === station)?.nose ?? 0;
  const off = (station: string): number[] =>
    kept.filter((r) => r.size === `nose@${station}`).map((r) => r.value - nominal(station));
  const sets: readonly (readonly [string, readonly number[]])[] = [
    [a.station, off(b.station)],
    [b.station, off(a.station)],
  ];
  const was = (station: string): Reading | undefined => kept.find((r) => r.size === `nose@${station}`);
  const how = was(a.station) ?? was(b.station);
  const others = kept.filter((r) => r.size !== `nose@${a.station}` && r.size !== `nose@${b.station}`);
  return how
    ? [
        ...others,
        ...sets.flatMap(([station, values]) =>
          values.map((v): Reading => ({ ...how, size: `nose@${station}`, value: nominal(station) + v })),
        ),
      ]
    : kept;
}

/** A joint with two ribs exchanged: the one that comes is not drilled for this place, whatever holes it brings. */
function jointExchanged(j: Joint, a: string, b: string): Joint {
  if (!j.layers.includes(a) && !j.layers.includes(b)) return j;
  const other = (id: string): string => (id === a ? b : id === b ? a : id);
  const layer = (l: Hole['layers'][number]): Hole['layers'][number] => {
    const named = { ...l, part: other(l.part), ...(l.through === undefined ? {} : { through: other(l.through) }) };
    return named.part === l.part ? named : { ...named, state: 'none', size: 0 };
  };
  return {
    ...j,
    guide: other(j.guide),
    layers: j.layers.map(other),
    holes: j.holes.map((h) => ({ ...h, layers: h.layers.map(layer) })),
  };
}

/** Exchanges two like ribs; each carries its own faults along, the doublers stay at their stations. Only before pilots: those already in them are lost. */
export function swap(model: Model, a: Like, b: Like): Remedy {
  const other = (id: string): string => (id === a.id ? b.id : id === b.id ? a.id : id);
  // Pilots already in them line up nowhere else.
  const holesLost = [a, b].reduce((sum, r) => sum + holesIn(model, r.id), 0);
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
      ? { note: 'Holes already in them line up nowhere at the other place, and new ones come beside them.' }
      : {}),
    edit: {
      name: `exchanged ${a.id} and ${b.id}`,
      apply: (m) => ({
        ...m,
        ribs: m.ribs.map((r) =>
          r.id === a.id ? { ...r, station: b.station } : r.id === b.id ? { ...r, station: a.station } : r,
        ),
        doublers: m.doublers.map((d) => ({ ...d, part: other(d.part) })),
        joints: m.joints.map((j) => jointExchanged(j, a.id, b.id)),
        readings: exchanged(m, a, b),
      }),
    },
  };
}

/** Pulls a spar straight on its blocks: its bow readings become nothing. */
export function pullStraight(spar: 'front' | 'rear', station: string): Remedy {
  return {
    id: `straight:${spar}`,
    kind: 'straight',
    name: `pull the ${spar} spar straight on its blocks`,
    station,
    part: spar,
    cost: { ...FREE, moved: 1 },
    askDesigner: false,
    layers: false,
    edit: {
      name: `pulled the ${spar} spar straight`,
      apply: (m) => ({
        ...m,
        readings: m.readings.map((r) =>
          r.size.startsWith(`${spar}.bow@`)
            ? { ...r, value: 0, note: 'worked out after pulling it straight: read it again' }
            : r,
        ),
      }),
    },
  };
}
