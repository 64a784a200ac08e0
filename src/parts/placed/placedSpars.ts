import type { Spar, SparName, Strip } from '../../model/schema.ts';
import { remembered } from '../layout/remembered.ts';
import { drilled, type HoleShape } from '../shapes/drilled.ts';
import { ringAt, type SparRing, type SparShape, sparSolid, stripSolid, webDoublerSolid } from '../shapes/spar.ts';
import type { SparFaces } from './attitude.ts';
import { type Build, holeInWing, type LayerHole, type PlacedSolid, sheetOf, turnsOf } from './build.ts';
import { bendRadius, type Stance, sparRings } from './stance.ts';

/*
 * The spars with their strips and web doublers, as measured, from their first ring to their last.
 */

/** A spar's surfaces, from its first ring to its last. */
export function sparFaces(b: Build, name: SparName): Partial<Record<SparName, SparFaces>> {
  const spar = b.model.spars[name];
  if (spar === undefined) return {};
  const { from, to } = clearOfTips(b, spar.from, spar.to);
  const rings = sparRings(b.skeleton, name, b.stances, {
    magnify: b.magnify,
    from,
    to,
    seat: (stance) => seatOf(b, stance),
  });
  return {
    [name]: {
      rings,
      thickness: sheetOf(b, spar.sheet),
      radius: bendRadius(b.skeleton, name, b.drawn),
      opens: spar.opens,
    },
  };
}

/** How far from its web a rib's flanges, tabs and doublers reach along the span, and a little more. */
function seatOf(b: Build, { bay }: Stance): number {
  const ribs = [bay.main, bay.nose, bay.tip].flatMap((rib) => (rib ? [rib.flange] : []));
  const ends = b.skeleton
    .placesAt(bay.station.id)
    .flatMap(({ spec, doublers }) => [spec.tab, ...doublers.map((d) => (spec.tab + d.width) / 2)]);
  return Math.max(10, ...ribs, ...ends) + 2;
}

/** What the pieces that lie on a spar are laid with: the spar as drawn, and from where to where it runs. */
interface LaidSpar {
  readonly name: SparName;
  readonly spar: Spar;
  readonly shape: SparShape;
  readonly from: number;
  readonly to: number;
  /** The holes through a named piece that are `here`. */
  through(id: string | undefined, here: (hole: LayerHole) => boolean): HoleShape[];
}

/** As far along the span as both the piece and the spar run; undefined where that is nowhere. */
function runOf({ from, to }: LaidSpar, piece: { from: number; to: number }): { from: number; to: number } | undefined {
  const run = { from: Math.max(piece.from, from), to: Math.min(piece.to, to) };
  return run.to > run.from ? run : undefined;
}

/** Whether two strips lie in one cap at one place. */
const overlie = (a: Strip, b: Strip): boolean =>
  a.from < b.to && a.to > b.from && (a.caps === 'both' || b.caps === 'both' || a.caps === b.caps);

/** The strips in a spar's caps, each over those before it in the list. */
function stripParts(b: Build, laid: LaidSpar): PlacedSolid[] {
  const { name, spar, shape, through } = laid;
  return spar.strips.flatMap((strip, i) => {
    const run = runOf(laid, strip);
    if (!run) return [];
    const caps = strip.caps === 'both' ? (['top', 'bottom'] as const) : [strip.caps];
    const below = spar.strips.slice(0, i).filter((s) => overlie(s, strip));
    const thickness = sheetOf(b, strip.sheet);
    const under = below.reduce((sum, s) => sum + sheetOf(b, s.sheet), 0);
    return caps.map((cap): PlacedSolid => {
      const holes = through(strip.id, (hole) => hole.cap !== undefined && hole.cap.z > 0 === (cap === 'top'));
      return {
        id: `${name}-strip${i + 1}-${cap}`,
        kind: 'strip',
        mark: `${name} strip`,
        on: { spar: name, cap },
        sheet: strip.sheet,
        solid: drilled(stripSolid(shape, { cap, thickness, under, ...run }), holes),
      };
    });
  });
}

function webDoublerParts(b: Build, laid: LaidSpar): PlacedSolid[] {
  const { name, spar, shape, through } = laid;
  return spar.webDoublers.flatMap((d, i): PlacedSolid[] => {
    const run = runOf(laid, d);
    if (!run) return [];
    const plate = {
      thickness: sheetOf(b, d.sheet),
      height: d.height,
      side: name === 'front' ? 1 : -1,
      ...run,
    } as const;
    const holes = through(d.id, (hole) => hole.cap === undefined);
    return [
      {
        id: `${name}-plate${i + 1}`,
        kind: 'strip',
        mark: `${name} web doubler`,
        on: { spar: name },
        sheet: d.sheet,
        solid: drilled(webDoublerSolid(shape, plate), holes),
      },
    ];
  });
}

/** A spar, its strips (`front-strip1-top`) and its web doublers (`front-plate1`), drilled. */
export function sparParts(b: Build, name: SparName): PlacedSolid[] {
  const spar = b.model.spars[name];
  const faces = b.spars[name];
  if (spar === undefined || faces === undefined) return [];
  const { thickness, rings } = faces;
  const [from, to] = [rings[0]?.y ?? spar.from, rings.at(-1)?.y ?? spar.to];
  const turns = rings.some((r) => r.pitch !== rings[0]?.pitch);
  const ends = [
    ...spar.strips.flatMap((p) => [p.from, p.to]),
    ...spar.webDoublers.flatMap((p) => (turns ? dividedAt(p.from, p.to, 20) : [p.from, p.to])),
  ].filter((y) => y > from && y < to);
  const inWeb = (hole: LayerHole, reach: number): HoleShape =>
    holeInWing(hole, (name === 'front' ? hole.stance.front : hole.stance.rear) + thickness / 2, reach);
  const shape: SparShape = {
    thickness,
    radius: faces.radius,
    opens: spar.opens,
    stations: withRingsAt(rings, ends),
    holes: (b.holes.get(name) ?? []).map((hole) => inWeb(hole, 2 * thickness)),
  };
  const through: LaidSpar['through'] = (id, here) =>
    id === undefined ? [] : (b.holes.get(id) ?? []).filter(here).map((hole) => inWeb(hole, 20));
  const laid: LaidSpar = { name, spar, shape, from, to, through };
  return [
    { id: name, kind: 'spar', mark: `${name} spar`, sheet: spar.sheet, solid: remembered('spar', sparSolid, shape) },
    ...stripParts(b, laid),
    ...webDoublerParts(b, laid),
  ];
}

/**
 * Places from one to the other, no further apart than `step`: a plate on a turning web needs its facets as small as
 * the web's.
 */
function dividedAt(from: number, to: number, step: number): number[] {
  const many = Math.max(1, Math.ceil((to - from) / step));
  return Array.from({ length: many + 1 }, (_, i) => from + ((to - from) * i) / many);
}

/** The rings with more put in at the ends of strips, so that both are straight between the same places. */
function withRingsAt(rings: readonly SparRing[], ys: readonly number[]): SparRing[] {
  const more = [...new Set(ys)].filter((y) => rings.every((r) => r.y !== y)).map((y) => ringAt(rings, y));
  return [...rings, ...more].sort((p, q) => p.y - q.y);
}

/** A spar runs up to the web of the tip rib that closes it, not through it. */
function clearOfTips(b: Build, from: number, to: number): { from: number; to: number } {
  let [low, high] = [from, to];
  for (const { bay } of b.stances) {
    if (!bay.tip) continue;
    const { y } = bay.station;
    const t = turnsOf(b, bay.tip, y) * sheetOf(b, bay.tip.sheet);
    const [least, most] = [Math.min(y, y + t), Math.max(y, y + t)];
    if (least < low + 1 && most > low) low = most;
    if (most > high - 1 && least < high) high = least;
  }
  return high > low ? { from: low, to: high } : { from, to };
}
