import type { MainRib, Model, NoseRib, Reading } from '../model/schema.ts';
import { show } from '../checks/describe.ts';
import { alongAt } from '../model/along.ts';
import { sharesAt } from '../checks/packing.ts';
import { drilledHoles } from './holesAt.ts';
import { FREE, type Remedy } from './remedy.ts';

/*
 * Nothing made: a rib held higher or lower, two like ribs exchanged, a spar pulled straight, the jig packed, a station moved.
 */

function put(model: Model, reading: Reading): Model {
  return { ...model, readings: [...model.readings.filter((r) => r.size !== reading.size), reading] };
}

/** Holds a rib end s mm above the middle between the caps; negative is below. The sum of the gaps stays. */
export function bias(model: Model, rib: MainRib, end: 'front' | 'rear', s: number): Remedy {
  const size = `${rib.id}.${end}.bias`;
  return {
    id: `bias:${rib.id}.${end}:${s}`,
    name: s === 0 ? `centre ${rib.id} ${end} between the caps` : `hold ${rib.id} ${end} ${show(model, Math.abs(s))} ${s > 0 ? 'above' : 'below'} the middle`,
    station: rib.station,
    part: rib.id,
    cost: { ...FREE, moved: 1 },
    askDesigner: false,
    edit: { name: `set ${rib.id} ${end} between the caps`, apply: (m) => put(m, { size, value: s, instrument: 'feeler' }) },
  };
}

type Like = MainRib | NoseRib;

/** Readings after two ribs changed places: gaps felt at either are gone; noses read from the string exchange what they are off. */
function exchanged(m: Model, a: Like, b: Like): Reading[] {
  const felt = (k: string): boolean => [a, b].some((r) => k === `chord.${r.id}` || k.startsWith(`gap.${r.id}.`));
  const kept = m.readings.filter((r) => !felt(r.size));
  if (a.kind !== 'nose') return kept;
  const nominal = (station: string): number => m.stations.find((s) => s.id === station)?.nose ?? 0;
  const off = (station: string): number[] => kept.filter((r) => r.size === `nose@${station}`).map((r) => r.value - nominal(station));
  const sets: readonly (readonly [string, readonly number[]])[] = [[a.station, off(b.station)], [b.station, off(a.station)]];
  const was = (station: string): Reading | undefined => kept.find((r) => r.size === `nose@${station}`);
  const how = was(a.station) ?? was(b.station);
  const others = kept.filter((r) => r.size !== `nose@${a.station}` && r.size !== `nose@${b.station}`);
  return how ? [...others, ...sets.flatMap(([station, values]) => values.map((v): Reading => ({ ...how, size: `nose@${station}`, value: nominal(station) + v })))] : kept;
}

/** Exchanges two like ribs; each carries its own faults along, the doublers stay at their stations. Only before pilots. */
export function swap(model: Model, a: Like, b: Like): Remedy {
  const other = (id: string): string => (id === a.id ? b.id : id === b.id ? a.id : id);
  return {
    id: `swap:${a.id}:${b.id}`,
    name: `exchange ${a.id} and ${b.id}`,
    station: a.station,
    part: a.id,
    // Pilots already in them line up nowhere else.
    cost: { ...FREE, moved: 1, holesLost: [a, b].reduce((sum, r) => sum + drilledHoles(model, r.id, 'front') + drilledHoles(model, r.id, 'rear'), 0) },
    askDesigner: false,
    edit: {
      name: `exchanged ${a.id} and ${b.id}`,
      apply: (m) => ({
        ...m,
        ribs: m.ribs.map((r) => (r.id === a.id ? { ...r, station: b.station } : r.id === b.id ? { ...r, station: a.station } : r)),
        doublers: m.doublers.map((d) => ({ ...d, part: other(d.part) })),
        joints: m.joints.map((j) => {
          if (!j.layers.includes(a.id) && !j.layers.includes(b.id)) return j;
          return { ...j, guide: other(j.guide), layers: j.layers.map(other), holes: j.holes.map((h) => ({ ...h, layers: h.layers.map((l) => ({ ...l, part: other(l.part) })) })) };
        }),
        readings: exchanged(m, a, b).map((r) => ({ ...r, size: r.size.replace(/^([^/]+\/[^.]+)\.([^.]+)\./, (_, hole: string, part: string) => `${hole}.${other(part)}.`) })),
      }),
    },
  };
}

/** Pulls a spar straight on its blocks: its bow readings become nothing. */
export function pullStraight(spar: 'front' | 'rear', station: string): Remedy {
  return {
    id: `straight:${spar}`,
    name: `pull the ${spar} spar straight on its blocks`,
    station,
    part: spar,
    cost: { ...FREE, moved: 1 },
    askDesigner: false,
    edit: { name: `pulled the ${spar} spar straight`, apply: (m) => ({ ...m, readings: m.readings.map((r) => (r.size.startsWith(`${spar}.bow@`) ? { ...r, value: 0 } : r)) }) },
  };
}

/** Packs the jig by p mm under one spar's block at a support; between blocks the height is shared straight-line. Only while unpinned. */
export function packJig(model: Model, station: string, side: 'front' | 'rear', p: number): Remedy {
  const place = new Map(model.stations.map((s) => [s.id, s.y]));
  const supports = model.survey.supports.filter((s) => place.has(s)).sort((x, y) => place.get(x)! - place.get(y)!);
  const ys = supports.map((s) => place.get(s)!);
  const lift = (id: string): number => (sharesAt(place.get(id) ?? 0, ys)[supports.indexOf(station)] ?? 0) * p;
  return {
    id: `pack:${station}.${side}:${p}`,
    name: `pack ${show(model, p)} under the ${side} spar at ${station}`,
    station,
    part: side,
    cost: { ...FREE, moved: 1 },
    askDesigner: false,
    edit: {
      name: `packed ${show(model, p)} under the ${side} spar at ${station}`,
      apply: (m) => ({
        ...m,
        readings: m.readings.map((r) => {
          const id = r.size.slice(r.size.indexOf('@') + 1);
          if (r.size.startsWith(`height.${side}@`)) return { ...r, value: r.value + lift(id) };
          // The level on the chord tilts with it.
          if (r.size.startsWith('level@')) return { ...r, value: r.value + ((side === 'front' ? 1 : -1) * lift(id) * 180) / Math.PI / alongAt(m.webToWeb, place.get(id) ?? 0) };
          return r;
        }),
      }),
    },
  };
}
