import type { Kernel } from '../geometry/kernel.ts';
import { add, dot, scale, subtract, unit, type Vec3 } from '../geometry/vector.ts';
import type { Doubler } from '../model/schema.ts';
import type { Bay, RibPlace, Skeleton } from '../parts/layout/layout.ts';
import { solidsOf } from '../parts/placed/solids.ts';
import { type SectionAxes, Surfaces } from './surface.ts';

/*
 * The chains' sizes a second way: taken off the built solids with rays and cuts between their named faces. The spars
 * lie as bowed. What comes out must be what the chain says, to a thousandth of a millimetre.
 */

/**
 * Metal and daylight between a rib end and the caps, at the caps' edges and the flanges' edge. Negative where they
 * bite.
 */
interface CapRead {
  readonly top: number;
  readonly bottom: number;
}

/**
 * Daylight between an end's tab and what it is to stand against, and the least of it is said first. Negative where
 * they bite.
 */
export interface Reads {
  readonly surfaces: Surfaces;
  /** C1: top and bottom daylight; undefined at an end that butts, or where the solids have no such faces at one y. */
  cap(place: RibPlace): CapRead | undefined;
  /** From a tab to the web or the innermost piece on it. */
  web(place: RibPlace): number | undefined;
  /** C3 as bowed: daylight at both ends of a main rib together. */
  chord(bay: Bay): number | undefined;
  /** C14: how far a piece stands off, pressed home; of a channel negative by how much it clears. */
  ride(place: RibPlace, piece: Doubler): number | undefined;
  /** C16 to the centre, as the rib stands. */
  relief(place: RibPlace): CapRead | undefined;
  /** C4 and C5 as bowed: the nose forward of the straight line through the front web's ends. */
  nose(bay: Bay): number | undefined;
  /** From a piece to the web of its spar, or to the piece before it. */
  laid(place: RibPlace, piece: Doubler): number | undefined;
}

/** A hair inside an edge, so that a ray does not run along it. */
const HAIR = 0.01;
const WEB = ['web', 'web inside'];
const SIDES = [1, -1] as const;

export function readOff(skeleton: Skeleton, kernel: Kernel): Reads {
  const s = new Surfaces(kernel, solidsOf(skeleton, { magnify: 1 }));
  return {
    surfaces: s,
    cap: (place) => capRead(s, place),
    web: (place) => webRead(s, place),
    chord: (bay) => {
      const [front, rear] = skeleton
        .placesAt(bay.station.id)
        .filter((p) => p.rib === bay.main)
        .map((p) => webRead(s, p));
      return front === undefined || rear === undefined ? undefined : front + rear;
    },
    ride: (place, piece) => (piece.form === 'channel' ? channelRide(s, place, piece) : flatRide(s, place, piece)),
    relief: (place) => reliefRead(s, place),
    nose: (bay) => noseRead(s, skeleton, bay),
    laid: (place, piece) => laidRead(s, place, piece),
  };
}

/** Which way a rib's flanges turn along the span and how far they reach, off its solid. */
function flangesOf(s: Surfaces, { rib, bay }: RibPlace): { way: 1 | -1; reach: number } | undefined {
  const found = s.extent([0, bay.station.y, 0], [0, 1, 0], rib.id, ['flange edge']);
  if (found === undefined) return undefined;
  const way = found[0] + found[1] >= 0 ? 1 : -1;
  return { way, reach: way === 1 ? found[0] : -found[1] };
}

const faceWord = (side: 1 | -1): 'top' | 'bottom' => (side === 1 ? 'top' : 'bottom');

/** The faces a doubler turns to a cap: a channel one leg each, a flat piece the side it lies on. */
function facesToSpar(doubler: Doubler, word: 'top' | 'bottom'): string[] {
  if (doubler.form === 'channel') return [`${word} leg`];
  return doubler.on === word ? ['to spar'] : [];
}

/** The lowest of what lies under a cap, and the highest of what a rib end carries up to it, along one line. */
function capSide(
  s: Surfaces,
  { rib, spar, doublers }: RibPlace,
  from: Vec3,
  way: Vec3,
  side: 1 | -1,
): number | undefined {
  const word = faceWord(side);
  const strips = s
    .named(`${spar}-strip`)
    .filter((id) => id.endsWith(word))
    .flatMap((id) => s.along(from, way, id, ['inside']));
  const under = [...s.along(from, way, spar, [`${word} cap inside`]), ...strips];
  const pieces = doublers.flatMap((d) => s.along(from, way, d.id, facesToSpar(d, word)));
  const carried = [...s.along(from, way, rib.id, [`${word} flange`]), ...pieces];
  return under.length > 0 && carried.length > 0 ? Math.min(...under) - Math.max(...carried) : undefined;
}

function capRead(s: Surfaces, place: RibPlace): CapRead | undefined {
  const flanges = place.spec.ends === 'nests' ? flangesOf(s, place) : undefined;
  if (flanges === undefined) return undefined;
  const y = place.bay.station.y + flanges.way * (flanges.reach - HAIR);
  const axes = s.section(place.spar, y);
  if (axes === undefined) return undefined;
  const over = edgeOver(s, place, axes, y);
  if (over === undefined) return undefined;
  // Where a piece ends short of the cap's edge, the gap runs on straight to that edge.
  const [edge, near] = over;
  const inward = place.end === 'front' ? 1 : -1;
  const at = (reach: number, side: 1 | -1) =>
    capSide(s, place, add(axes.middle, scale(axes.aft, inward * reach)), scale(axes.up, side), side);
  const [top, bottom] = SIDES.map((side) => {
    const [far, back] = [at(near, side), at(near - 3, side)];
    return far === undefined || back === undefined ? undefined : far + ((far - back) / 3) * (edge - near);
  });
  return top === undefined || bottom === undefined ? undefined : { top, bottom };
}

/** From the web inward: the edge of the caps, and a hair short of it or of the shortest piece that lies under one. */
function edgeOver(
  s: Surfaces,
  { spar, doublers, end }: RibPlace,
  { middle, aft }: SectionAxes,
  y: number,
): readonly [number, number] | undefined {
  const inward = end === 'front' ? 1 : -1;
  const reach = (id: string, name: string) =>
    Math.max(...s.cut(id, [name], y).map((p) => inward * dot(subtract(p, middle), aft)));
  const words = SIDES.map(faceWord);
  const pieces = words.flatMap((word) =>
    doublers.flatMap((d) => facesToSpar(d, word).map((face) => reach(d.id, face))),
  );
  const edge = Math.min(...words.map((word) => reach(spar, `${word} cap inside`)));
  const least = Math.min(edge, ...pieces);
  return Number.isFinite(least) ? [edge, least - HAIR] : undefined;
}

/** From a tab to its support: tried along several lines, for one may run through a hole. */
function webRead(s: Surfaces, place: RibPlace): number | undefined {
  const tab = place.end;
  const span = s.extent([0, place.bay.station.y, 0], [0, 1, 0], place.rib.id, [`${tab} tab`]);
  const tall = s.extent([0, 0, 0], [0, 0, 1], place.rib.id, [`${tab} tab`]);
  if (span === undefined || tall === undefined) return undefined;
  for (const share of [0.55, 0.8, 0.35]) {
    const y = place.bay.station.y + span[0] + (span[1] - span[0]) * share;
    const axes = s.section(place.spar, y);
    if (axes === undefined) continue;
    for (const high of [0.5, 0.37, 0.68, 0.25]) {
      const z = tall[0] + (tall[1] - tall[0]) * high;
      const from = add(axes.middle, scale(axes.up, z - axes.middle[2]));
      const gap = tabGap(s, place, from, axes.aft);
      if (gap !== undefined) return gap;
    }
  }
  return undefined;
}

function tabGap(s: Surfaces, { rib, end, spar, doublers }: RibPlace, from: Vec3, aft: Vec3): number | undefined {
  const way = scale(aft, end === 'front' ? 1 : -1);
  const tab = s.along(from, way, rib.id, [`${end} tab`])[0];
  const plates = s.named(`${spar}-plate`).flatMap((id) => s.along(from, way, id, ['face']));
  const pieces = doublers.map((d) =>
    s.along(from, way, d.id, d.form === 'channel' || d.on === 'web' ? ['to part'] : []),
  );
  const laid = doublers.filter((d) => d.form === 'channel' || d.on === 'web');
  // Where a piece is holed on this line, another line is taken.
  if (tab === undefined || laid.some((d) => pieces[doublers.indexOf(d)]?.length === 0)) return undefined;
  const web = s.along(from, way, spar, WEB);
  if (web.length === 0) return undefined;
  return tab - Math.max(...web, ...(end === 'tail' ? [] : plates), ...pieces.flat());
}

function laidRead(s: Surfaces, { spar, end, bay, doublers }: RibPlace, piece: Doubler): number | undefined {
  const tall = s.extent([0, 0, 0], [0, 0, 1], piece.id, ['to spar']);
  const span = s.extent([0, bay.station.y, 0], [0, 1, 0], piece.id, ['to spar']);
  if (tall === undefined || span === undefined) return undefined;
  const before = doublers.slice(0, doublers.indexOf(piece)).filter((d) => d.form === 'channel' || d.on === 'web');
  for (const [share, high] of [
    [0.5, 0.5],
    [0.7, 0.4],
    [0.3, 0.65],
  ] as const) {
    const axes = s.section(spar, bay.station.y + span[0] + (span[1] - span[0]) * share);
    if (axes === undefined) continue;
    const from = add(axes.middle, scale(axes.up, tall[0] + (tall[1] - tall[0]) * high - axes.middle[2]));
    const way = scale(axes.aft, end === 'front' ? 1 : -1);
    const own = s.along(from, way, piece.id, ['to spar'])[0];
    const plates = end === 'tail' ? [] : s.named(`${spar}-plate`).flatMap((id) => s.along(from, way, id, ['face']));
    const under = [
      ...s.along(from, way, spar, WEB),
      ...plates,
      ...before.flatMap((d) => s.along(from, way, d.id, ['to part'])),
    ];
    if (own !== undefined && under.length > 0) return own - Math.max(...under);
  }
  return undefined;
}

interface Cut {
  readonly y: number;
  readonly axes: SectionAxes;
  /** From the web inward, and how far along it from the section's middle the web's inside is. */
  readonly way: Vec3;
  readonly inside: number;
}

/** A place to cut a piece and its spar: on the rib's side, as near its station as both are, or a little further. */
function cutFor(s: Surfaces, place: RibPlace, further = 0): Cut | undefined {
  const flanges = flangesOf(s, place);
  const at = place.bay.station.y;
  const turns = flanges?.way ?? 1;
  const y = [HAIR + further, 2 + further]
    .map((off) => at + turns * off)
    .find((q) => s.section(place.spar, q) !== undefined);
  const axes = y === undefined ? undefined : s.section(place.spar, y);
  if (y === undefined || axes === undefined) return undefined;
  const way = scale(axes.aft, place.end === 'front' ? 1 : -1);
  const inside = Math.max(
    ...[0.1, -0.17, 0.23].flatMap((k) => s.along(add(axes.middle, scale(axes.up, 30 * k)), way, place.spar, WEB)),
  );
  return Number.isFinite(inside) ? { y, axes, way, inside } : undefined;
}

/**
 * C14 of a channel: at the web, where bend and bend part least, how far its corner stands above the spar's, once its
 * leg is laid on the cap. The bends' first corners lie on the true circles, so there is no chordal error.
 */
function channelRide(s: Surfaces, place: RibPlace, piece: Doubler): number | undefined {
  const at = cutFor(s, place);
  if (at === undefined) return undefined;
  const { y, axes, way, inside } = at;
  // Both sides together: a rib held off the middle at one end slants its doubler, which tells on each side the other
  // way.
  const rides = SIDES.flatMap((side) => {
    const up = scale(axes.up, side);
    const word = faceWord(side);
    // Heights of leg and cap where their bends end, before a cap's droop tells.
    const begin = (id: string, name: string) => {
      const line = s.cut(id, [name], y).map((p) => subtract(p, axes.middle));
      const first = Math.min(...line.map((p) => dot(p, way)));
      return line.find((p) => dot(p, way) < first + 1e-3);
    };
    const [cap, flat] = [begin(place.spar, `${word} cap inside`), begin(piece.id, `${word} leg`)].map(
      (p) => p && dot(p, up),
    );
    // Where the bends begin: their corners at the web.
    const begins = (id: string) =>
      s
        .cut(id, ['bend'], y)
        .map((p) => subtract(p, axes.middle))
        .filter((p) => Math.abs(dot(p, way) - inside) < HAIR && dot(p, up) > 0)
        .map((p) => dot(p, up));
    const [bend, corner] = [Math.min(...begins(place.spar)), Math.min(...begins(piece.id))];
    return cap === undefined || flat === undefined || !Number.isFinite(bend) || !Number.isFinite(corner)
      ? []
      : [corner - bend + cap - flat];
  });
  const [top, bottom] = rides;
  return top === undefined || bottom === undefined ? undefined : (top + bottom) / 2;
}

/**
 * C14 of a flat piece: how far the spar's bend stands in from the web at the height of its edge; off by the bend's
 * chords.
 */
function flatRide(s: Surfaces, place: RibPlace, piece: Doubler): number | undefined {
  const station = place.bay.station.y;
  const [near, far] = [cutFor(s, place), cutFor(s, place, 2)].map(
    (at) => at && { y: at.y, stands: flatStand(s, place, piece, at) },
  );
  if (near?.stands === undefined || far?.stands === undefined) return undefined;
  // Where the spar ends beside the station, as on a tip rib's web, it runs on straight to it.
  return Math.max(0, near.stands + ((near.stands - far.stands) / (near.y - far.y)) * (station - near.y));
}

function flatStand(s: Surfaces, place: RibPlace, piece: Doubler, { y, axes, way, inside }: Cut): number | undefined {
  const line = s.cut(piece.id, ['to spar'], y).map((p) => dot(subtract(p, axes.middle), axes.up));
  if (line.length === 0) return undefined;
  const offs = [Math.min(...line), Math.max(...line)].map((height, k) => {
    const from = add(axes.middle, scale(axes.up, height + (k === 0 ? 1e-6 : -1e-6)));
    const bend = s.along(from, way, place.spar, ['bend', 'web inside']).filter((d) => d > -1);
    return bend.length === 0 ? 0 : Math.max(...bend.filter((d) => d < inside + 20)) - inside;
  });
  return Math.max(0, ...offs);
}

/**
 * C16 to the centre: how far the middle of the relief hole lies past the cap's edge, counted from the web as both
 * lie.
 */
function reliefRead(s: Surfaces, place: RibPlace): CapRead | undefined {
  const flanges = flangesOf(s, place);
  if (flanges === undefined) return undefined;
  const { y } = place.bay.station;
  const here = standsAt(s, place.spar, y, (at) => s.section(place.spar, at)?.middle);
  const axes = sectionNear(s, place.spar, y);
  if (axes === undefined || here === undefined) return undefined;
  const way = scale(axes.aft, place.end === 'front' ? 1 : -1);
  const near = (p: Vec3): boolean => dot(subtract(p, here), way) < 60;
  const [top, bottom] = SIDES.map((side) => {
    const hole = s.extent(
      here,
      way,
      place.rib.id,
      ['relief hole'],
      (p) => near(p) && side * dot(subtract(p, here), axes.up) > 0,
    );
    const cap = standsAt(s, place.spar, y, (at) => s.cut(place.spar, [`${faceWord(side)} cap edge`], at)[0]);
    return hole === undefined || cap === undefined
      ? undefined
      : (hole[0] + hole[1]) / 2 - dot(subtract(cap, here), way);
  });
  return top === undefined || bottom === undefined ? undefined : { top, bottom };
}

/** A point of a spar at y; past the spar's ends, carried on straight from its last few millimetres. */
function standsAt(s: Surfaces, spar: string, y: number, point: (y: number) => Vec3 | undefined): Vec3 | undefined {
  const span = s.extent([0, 0, 0], [0, 1, 0], spar, ['web']);
  if (span === undefined) return undefined;
  const [low, high] = [span[0] + 1e-4, span[1] - 1e-4];
  if (y >= low && y <= high) return point(y);
  const [a, b] = y < low ? [point(low), point(low + 5)] : [point(high), point(high - 5)];
  return a && b && add(a, scale(subtract(b, a), (y - a[1]) / (b[1] - a[1])));
}

/** The middle of the front web's forward face at y. */
const webMiddle = (s: Surfaces, y: number): Vec3 | undefined =>
  standsAt(s, 'front', y, (at) => s.section('front', at)?.middle);

function noseRead(s: Surfaces, { bays }: Skeleton, bay: Bay): number | undefined {
  const rib = bay.nose ?? bay.tip;
  const { y } = bay.station;
  const [first, last] = [bays[0], bays[bays.length - 1]];
  if (rib === undefined || first === undefined || last === undefined) return undefined;
  const [here, a, b] = [webMiddle(s, y), webMiddle(s, first.station.y), webMiddle(s, last.station.y)];
  if (here === undefined || a === undefined || b === undefined) return undefined;
  const aft = sectionNear(s, 'front', y)?.aft;
  if (aft === undefined) return undefined;
  const nose = s.extent(here, scale(aft, -1), rib.id, ['top flange', 'bottom flange', 'bend', 'web']);
  if (nose === undefined) return undefined;
  const share = last === first ? 0 : (y - first.station.y) / (last.station.y - first.station.y);
  const line = a[0] + (b[0] - a[0]) * share;
  return nose[1] + (line - here[0]) / aft[0];
}

/** The section at y; past the spar's ends it turns on as it did before. */
function sectionNear(s: Surfaces, spar: string, y: number): SectionAxes | undefined {
  const middle = standsAt(s, spar, y, (at) => s.section(spar, at)?.middle);
  const above = standsAt(s, spar, y, (at) => {
    const axes = s.section(spar, at);
    return axes && add(axes.middle, scale(axes.up, 100));
  });
  if (middle === undefined || above === undefined) return undefined;
  const up = unit(subtract(above, middle));
  return { middle, up, aft: [up[2], 0, -up[0]] };
}
