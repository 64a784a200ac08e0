import { alongAt } from '../along.ts';
import { drawnClear } from '../rooms.ts';
import type { Along, Doubler, Model, Rib, Spar, Station } from '../schema.ts';
import type { Edit } from './edits.ts';
import { ribMoved } from './keepFit.ts';
import { readingsLeft, withoutPart } from './without.ts';

/** A name with a letter and the first free number from `from` on. */
export function nextFreeName(model: Model, letter: string, from: number): string {
  const taken = new Set(
    [...model.stations, ...model.ribs, ...model.doublers, ...model.brackets, ...model.joints].map((p) => p.id),
  );
  for (let n = from; ; n++) if (!taken.has(`${letter}${n}`)) return `${letter}${n}`;
}

/** A doubler of a rib for another rib like it: as high in its spar as the first is in its own. */
function doublerAt(d: Doubler, id: string, part: string, higher: number): Doubler {
  return {
    ...d,
    id,
    part,
    ...(d.height === undefined ? {} : { height: Math.max(0, Math.round((d.height + higher) * 1e4) / 1e4) }),
  };
}

/** The number a name ends in; 1 where it ends in none. */
const numberIn = (id: string): number => Number(/\d+$/.exec(id)?.[0] ?? 1);
/** A name without the number it ends in. */
const letterOf = (id: string): string => id.replace(/\d+$/, '');

/** What the drawing says of a new place: on the straight line between its neighbours, and beyond the last as there. */
function newStation(model: Model, id: string, y: number): Station {
  const sorted = [...model.stations].sort((a, b) => a.y - b.y);
  const inside = sorted.some((s) => s.y < y) && sorted.some((s) => s.y > y);
  const at = (read: (s: Station) => number): number => {
    const value = alongAt(
      sorted.map((s) => [s.y, read(s)]),
      y,
    );
    return inside ? Math.round(value * 1e4) / 1e4 : value;
  };
  return { id, y, nose: at((s) => s.nose), washout: at((s) => s.washout) };
}

/** The station nearest a place that has a main rib. */
const nearestWithRib = (m: Model, y: number): Station | undefined =>
  m.stations
    .filter((s) => m.ribs.some((r) => r.station === s.id && r.kind === 'main'))
    .sort((a, b) => Math.abs(a.y - y) - Math.abs(b.y - y))[0];

/** A rib like one at another station, cut to the same fit, put in with the doublers the drawing puts at that one. */
function withRibLike(m: Model, rib: Rib, from: Station, to: Station): Model {
  const spot = (s: Station) => ({ model: m, y: s.y, nose: s.nose });
  const fresh: Rib = {
    ...ribMoved(rib, spot(from), spot(to)),
    id: nextFreeName(m, letterOf(rib.id), numberIn(to.id)),
    station: to.id,
  };
  let now: Model = { ...m, ribs: [...m.ribs, fresh] };
  for (const d of m.doublers) {
    if (d.part !== rib.id || !d.designed) continue;
    const spar = d.end === 'rear' && m.spars.rear ? 'rear' : 'front';
    const id = nextFreeName(now, letterOf(d.id), numberIn(fresh.id));
    const higher = drawnClear(m, spar, to.y) - drawnClear(m, spar, from.y);
    now = { ...now, doublers: [...now.doublers, doublerAt(d, id, fresh.id, higher)] };
  }
  return now;
}

/**
 * Adds a station between others, or beyond them, with ribs like those of the nearest one that has a main rib, cut to
 * the same fit, and with the doublers that the drawing puts at those: the ribs are made for them.
 */
export function addStation(model: Model, y: number): Edit {
  const mark = letterOf(model.stations[0]?.id ?? '') || 'S';
  const id = nextFreeName(model, mark, model.stations.length + 1);
  const station = newStation(model, id, y);
  return {
    name: `added station ${id}`,
    apply: (m) => {
      const like = nearestWithRib(m, y);
      const ribs = like ? m.ribs.filter((r) => r.station === like.id && r.kind !== 'tip') : [];
      const stations = [...m.stations, station].sort((a, b) => a.y - b.y);
      return ribs.reduce((now, rib) => (like ? withRibLike(now, rib, like, station) : now), { ...m, stations });
    },
  };
}

/** Takes a station away with all that stands at it, and every mention of it. */
export function removeStation(model: Model, id: string): Edit {
  const gone = new Set<string>(
    [...model.ribs, ...model.brackets, ...model.joints].filter((x) => x.station === id).map((x) => x.id),
  );
  return { name: `removed station ${id}`, apply: (m) => withoutStation(withoutPart(m, gone), id) };
}

/** Two values that are one, mm: less than anything is drawn to. */
const SAME = 1e-6;

/**
 * A slope without its point at a place, where the straight line between that point's neighbours goes through it, or
 * it ends a level stretch. Any other point stays: the places beside it rest on it, and a taper would be drawn another
 * way.
 */
function withoutPoint(a: Along, y: number | undefined): Along {
  if (typeof a === 'number' || a.length < 2 || y === undefined) return a;
  const rest = a.filter(([at]) => at !== y);
  const here = a.find(([at]) => at === y);
  return here && rest.length > 0 && Math.abs(alongAt(rest, y) - here[1]) < SAME ? rest : a;
}

function withoutStation(m: Model, id: string): Model {
  const { reference, ...survey } = m.survey;
  const y = m.stations.find((s) => s.id === id)?.y;
  const spar = (s: Spar): Spar => ({ ...s, depth: withoutPoint(s.depth, y), capWidth: withoutPoint(s.capWidth, y) });
  return readingsLeft(m, {
    ...m,
    stations: m.stations.filter((s) => s.id !== id),
    spars: { front: spar(m.spars.front), ...(m.spars.rear ? { rear: spar(m.spars.rear) } : {}) },
    webToWeb: withoutPoint(m.webToWeb, y),
    survey: {
      ...survey,
      rearHigher: withoutPoint(m.survey.rearHigher, y),
      supports: m.survey.supports.filter((s) => s !== id),
      ...(reference !== undefined && reference !== id ? { reference } : {}),
    },
  });
}

/** Takes one part or joint away, and what hangs on it. */
export function removePart(model: Model, id: string): Edit {
  const gone = new Set([id, ...model.doublers.filter((d) => d.part === id).map((d) => d.id)]);
  return { name: `removed ${id}`, apply: (m) => withoutPart(m, gone) };
}
