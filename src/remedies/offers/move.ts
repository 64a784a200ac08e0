import { show } from '../../checks/describe.ts';
import { alongAt } from '../../model/along.ts';
import { drawnClear } from '../../model/rooms.ts';
import type { Joint, Model, Reading, SparName, Station } from '../../model/schema.ts';
import { carrying } from '../carried.ts';
import { FREE, type Remedy } from '../remedy.ts';

/*
 * A rib moved along the span: the whole station goes, with its ribs, doublers and brackets. In a tapered panel the room
 * there is another one, so the parts are wanted in other sizes; the spars' holes stay where they were drilled.
 */

export const BOTH_SPARS = ['front', 'rear'] as const;

/**
 * How much each reading taken at a station would read more at another place, the spars being what they are: by their
 * taper and their strips.
 */
function carried(m: Model, station: Station, to: number): (size: string) => number {
  const by = new Map<string, number>([
    [`webs@${station.id}`, alongAt(m.webToWeb, to) - alongAt(m.webToWeb, station.y)],
  ]);
  for (const name of BOTH_SPARS) {
    const spar = m.spars[name];
    if (!spar) continue;
    by.set(`${name}.depth@${station.id}`, alongAt(spar.depth, to) - alongAt(spar.depth, station.y));
    by.set(`${name}.clear@${station.id}`, drawnClear(m, name, to) - drawnClear(m, name, station.y));
    by.set(`${name}.cap@${station.id}`, alongAt(spar.capWidth, to) - alongAt(spar.capWidth, station.y));
  }
  return (size) => by.get(size) ?? 0;
}

const isSpar = (part: string): part is SparName => part === 'front' || part === 'rear';

/** Holes that stay behind, drilled in a spar at the old place. */
export function leftBehind(model: Model, station: string): number {
  return model.joints
    .filter((j) => j.station === station)
    .flatMap((j) => j.holes)
    .filter((h) => h.layers.some((l) => isSpar(l.part) && l.state !== 'none')).length;
}

/** A joint at its new place: the spar is not drilled there yet, and the drill follows what is. */
function afresh(j: Joint): Joint {
  if (!j.holes.some((h) => h.layers.some((l) => isSpar(l.part) && l.state !== 'none'))) return j;
  const holes = j.holes.map((h) => ({
    ...h,
    layers: h.layers.map((l) => (isSpar(l.part) ? { ...l, state: 'none' as const, size: 0 } : l)),
  }));
  const lead = j.layers.find((part) => holes.some((h) => h.layers.some((l) => l.part === part && l.state !== 'none')));
  return { ...j, holes, guide: isSpar(j.guide) && lead !== undefined ? lead : j.guide };
}

/** What can be read of a hole in one layer: by the key of its size. */
interface HoleSize {
  readonly hole: string;
  readonly part: string;
  readonly what: 'along' | 'up' | 'edge';
}

/** Every hole size of a joint by its key: `F4/h1.M4.up`. */
function holeSizes(j: Joint): ReadonlyMap<string, HoleSize> {
  const all = j.holes.flatMap(({ id: hole }) =>
    j.layers.flatMap((part) =>
      (['along', 'up', 'edge'] as const).map((what): [string, HoleSize] => [
        `${j.id}/${hole}.${part}.${what}`,
        { hole, part, what },
      ]),
    ),
  );
  return new Map(all);
}

/**
 * Hole readings of a joint at its new place. What was read of the spar's holes stays with them; offsets that counted
 * from a spar's hole count from the layer that leads now.
 */
function offsetsAfresh(j: Joint, readings: readonly Reading[]): Reading[] {
  const sizes = holeSizes(j);
  const lead = afresh(j).guide;
  const offset = ({ hole, what }: HoleSize): string => `${hole} ${what}`;
  const ofLead = readings.flatMap((r): [string, number][] => {
    const size = sizes.get(r.size);
    return size?.part === lead && lead !== j.guide ? [[offset(size), r.value]] : [];
  });
  const led = new Map(ofLead);
  return readings.flatMap((r) => {
    const size = sizes.get(r.size);
    if (!size) return [r];
    if (isSpar(size.part)) return [];
    if (size.what === 'edge') return [r];
    return size.part === lead ? [] : [{ ...r, value: r.value - (led.get(offset(size)) ?? 0) }];
  });
}

/** A station s mm further along, with what the drawing wants of nose and washout there. */
function stationMoved(m: Model, station: Station, s: number): Station {
  const y = station.y + s;
  const ordered = [...m.stations].sort((a, b) => a.y - b.y);
  const drawn = (of: (st: Station) => number): number =>
    alongAt(
      ordered.map((st): [number, number] => [st.y, of(st)]),
      y,
    );
  return { ...station, y, nose: drawn((st) => st.nose), washout: drawn((st) => st.washout) };
}

/** The panel with a station moved s mm, its joints drilled afresh in the spars, its readings following the spars. */
function moved(m: Model, id: string, s: number): Model {
  const here = m.stations.find((st) => st.id === id);
  if (!here) return m;
  const more = carried(m, here, here.y + s);
  const drilled = m.joints.filter((j) => j.station === id && afresh(j) !== j);
  const offsets = drilled.reduce((list, j) => offsetsAfresh(j, list), [...m.readings]);
  return {
    ...m,
    stations: m.stations.map((st) => (st === here ? stationMoved(m, here, s) : st)),
    joints: m.joints.map((j) => (drilled.includes(j) ? afresh(j) : j)),
    readings: offsets.map((r) => (more(r.size) === 0 ? r : { ...r, value: r.value + more(r.size) })),
  };
}

/**
 * Moves a station s mm along the span, toward the last station (greater y); what the drawing wants there moves with
 * it.
 */
export function moveStation(model: Model, id: string, s: number): Remedy {
  return {
    id: `move:${id}:${s}`,
    kind: 'move',
    name: `move station ${id} by ${show(model, s, 'mm')}`,
    station: id,
    part: id,
    cost: { ...FREE, moved: 1, holesLost: leftBehind(model, id) },
    askDesigner: true,
    layers: true,
    note: 'The skin rows, the brackets and whatever runs through the rib move with it.',
    edit: { name: `moved station ${id}`, apply: carrying((m) => moved(m, id, s)) },
  };
}
