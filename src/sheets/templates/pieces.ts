import { leastRadius, nextBlock } from '../../checks/fit/bendRide.ts';
import { bendBand } from '../../checks/fit/corners.ts';
import { alongAt } from '../../model/along.ts';
import { inWeb } from '../../model/edits/rows.ts';
import { outboardAt } from '../../model/hand.ts';
import type { Doubler, Model, Sheet as SheetMetal } from '../../model/schema.ts';
import { bendAllowance } from '../../parts/flat/bend.ts';
import { doublerFlat, doublerMarks, laidDoublers } from '../../parts/flat/cutDoublers.ts';
import { type DrawnRib, drawnRib, sizesFor } from '../../parts/flat/drawnRibs.ts';
import { type FlatPattern, type HoleMark, plateFlat } from '../../parts/flat/flatPattern.ts';
import { ribFlat, shrinkOf, tabPlace } from '../../parts/flat/flatRib.ts';
import { flatVolume } from '../../parts/flat/flatShape.ts';
import type { EndName, RibPlace } from '../../parts/layout/layout.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { type Build, sheetOf, turnsOf } from '../../parts/placed/build.ts';
import { takenUp } from '../../parts/shapes/flutes.ts';
import { densityOf, gramsPerMm3 } from '../../solidChecks/mass.ts';
import { formatLength, fractionName } from '../../units.ts';

/*
 * Every piece that is cut from flat sheet, alike ones together: what it is, how many, where each goes, its flat pattern.
 *
 * Doublers, packers and shims are made to the rib end as it was measured; ribs are made to the drawing.
 */

export type PieceKind =
  | 'channel doubler'
  | 'flat doubler'
  | 'packer'
  | 'shim'
  | 'cap strip'
  | 'web doubler'
  | 'main rib'
  | 'nose rib'
  | 'tip rib';

/** One of a number of like pieces. */
export interface PiecePart {
  readonly id: string;
  /** "front of M2 at S2". */
  readonly where: string;
  /** Made with the template turned over: the other hand. */
  readonly over: boolean;
  /** On the drawing; else added as a cure, or made again. */
  readonly designed: boolean;
  /** Middle of the piece along the span. */
  readonly y: number;
}

export interface Piece {
  readonly kind: PieceKind;
  readonly parts: readonly PiecePart[];
  readonly sheet: SheetMetal;
  readonly pattern: FlatPattern;
  /** g, each. */
  readonly mass: number;
  /** Of a channel: over its legs, outside leg. */
  readonly channel?: { readonly height: number; readonly leg: number };
  readonly rib?: DrawnRib;
  /** Which way the piece stands when the template is read: what is up, what is to the right. */
  readonly right: string;
  readonly notes: readonly string[];
}

/** The marks of the pieces: `D2` or `M2, M3, M4`. */
export const marksOf = (piece: Piece): string => piece.parts.map((p) => p.id).join(', ');

/** Weight of one flat piece, g: its area times its thickness; holes of its rows are not taken out. */
const pieceMass = (pattern: FlatPattern, sheet: SheetMetal): number =>
  flatVolume(pattern) * gramsPerMm3(densityOf(sheet.alloy));

interface Single extends Omit<Piece, 'parts' | 'mass'> {
  readonly part: PiecePart;
}

/** Doublers, packers, shims, strips and web doublers of a panel, or those named. */
export function cutPieces(model: Model, named?: readonly string[]): Piece[] {
  const skeleton = skeletonOf(model);
  const b = sizesFor(skeleton, 1);
  const all = [...skeleton.places.flatMap((place) => doublerPieces(b, place)), ...sparPieces(b)];
  return together(all.filter((s) => named === undefined || named.includes(s.part.id)));
}

/** All ribs as drawn, or those named. */
export function ribPieces(model: Model, named?: readonly string[]): Piece[] {
  const b = sizesFor(skeletonOf(model), 0);
  const wanted = model.ribs.filter((r) => named === undefined || named.includes(r.id));
  return together(
    wanted.flatMap((rib) => {
      const drawn = drawnRib(b, rib);
      const sheet = metal(model, rib.sheet);
      return drawn && sheet ? [ribPiece(b, drawn, sheet)] : [];
    }),
  );
}

/** Alike pieces become one with a count, in the order of the first of each. */
function together(singles: readonly Single[]): Piece[] {
  const groups = new Map<string, { single: Single; parts: PiecePart[] }>();
  for (const single of singles) {
    const key = likeness(single);
    const had = groups.get(key);
    if (had) had.parts.push(single.part);
    else groups.set(key, { single, parts: [single.part] });
  }
  return [...groups.values()].map(
    ({ single: { part: _, ...piece }, parts }): Piece => ({
      ...piece,
      parts,
      mass: pieceMass(piece.pattern, piece.sheet),
    }),
  );
}

/** Equal for pieces cut, bent and marked alike, to a thousandth of a millimetre. */
const likeness = ({ kind, sheet, pattern, right, notes }: Single): string =>
  JSON.stringify([kind, sheet.id, pattern, right, notes], (_, v: unknown) =>
    typeof v === 'number' ? Math.round(v * 1000) || 0 : v,
  );

const metal = (model: Model, id: string): SheetMetal | undefined => model.sheets.find((s) => s.id === id);
const endOf = (end: EndName): string => (end === 'tail' ? 'tail' : end);

function kindOf(d: Doubler): PieceKind {
  if (d.form === 'channel') return 'channel doubler';
  return d.on !== 'web' ? 'shim' : d.designed ? 'flat doubler' : 'packer';
}

function doublerPieces(b: Build, place: RibPlace): Single[] {
  const { rib, end, bay, spar } = place;
  const { model } = b;
  const { y } = bay.station;
  let before: number | undefined;
  return laidDoublers(b, place).flatMap(({ d, shape }): Single[] => {
    const sheet = metal(model, d.sheet);
    if (sheet === undefined) return [];
    const base = {
      kind: kindOf(d),
      sheet,
      part: {
        id: d.id,
        where: `${endOf(end)} of ${rib.id} at ${rib.station}${d.on === 'web' ? '' : `, ${d.on} cap`}`,
        over: false,
        designed: d.designed,
        y,
      },
    };
    const outboardRight = (end === 'front') === (outboardAt(model, y) === 1);
    const right = outboardRight ? 'outboard' : 'inboard';
    if (shape.form !== 'channel') {
      const lies =
        shape.form === 'shim'
          ? [
              `Lies from ${formatLength(shape.start ?? 0, model.units)} to ${formatLength((shape.start ?? 0) + shape.length, model.units)} from the web's face.`,
            ]
          : [];
      return [{ ...base, right, notes: lies, pattern: doublerFlat(shape, doublerMarks(b, place, d)) }];
    }
    const bend = blockFor(b, {
      d,
      sheet,
      inside: before ?? (place.spec.ends === 'nests' ? b.skeleton.book.get(`${spar}.radius`).best : 0),
    });
    before = bend.radius;
    const pattern = doublerFlat(shape, doublerMarks(b, place, d), bend.radius);
    const measured = b.skeleton.book.readingsOf(`${place.key}.height`).length > 0;
    const notes = [
      ...bend.notes,
      measured
        ? 'Made to the rib end’s measured height.'
        : 'Made to the rib end’s drawing height: it was not measured.',
    ];
    return [
      {
        ...base,
        right,
        notes,
        pattern,
        channel: { height: shape.height, leg: Math.max(shape.leg, shape.thickness + bend.radius + 1) },
      },
    ];
  });
}

/** The radius a channel doubler is bent at: the drawing's, or the next block that clears the bend it lies in and that its metal takes. */
function blockFor(
  b: Build,
  { d, sheet, inside }: { readonly d: Doubler; readonly sheet: SheetMetal; readonly inside: number },
): { readonly radius: number; readonly notes: string[] } {
  const thickness = sheetOf(b, d.sheet);
  const drawn = d.radius ?? 0;
  const least = Math.max(leastRadius(inside, thickness), bendBand(sheet.alloy, thickness)?.least ?? 0);
  if (drawn >= least - 1e-6) return { radius: drawn, notes: [] };
  const radius = nextBlock(least);
  const named = (mm: number) => `${formatLength(mm, b.model.units)}${fractionName(mm) ? ` (${fractionName(mm)})` : ''}`;
  return {
    radius,
    notes: [`The file says ${named(drawn)} inside; laid out for ${named(radius)}, which clears the bend it lies in.`],
  };
}

/** Strips inside the caps and doublers on the webs of the spars. */
function sparPieces(b: Build): Single[] {
  const { model } = b;
  return (['front', 'rear'] as const).flatMap((name): Single[] => {
    const spar = model.spars[name];
    if (spar === undefined) return [];
    const radius = b.drawn(`${name}.radius`) ?? spar.radius;
    const strips = spar.strips.flatMap((s, i): Single[] => {
      const sheet = metal(model, s.sheet);
      const caps = s.caps === 'both' ? (['top', 'bottom'] as const) : [s.caps];
      const wide =
        Math.max(alongAt(spar.capWidth, s.from), alongAt(spar.capWidth, s.to)) - sheetOf(b, spar.sheet) - radius;
      const pattern = plateFlat({ width: s.to - s.from, height: wide, thickness: sheetOf(b, s.sheet) });
      return sheet === undefined
        ? []
        : caps.map(
            (cap): Single => ({
              kind: 'cap strip',
              sheet,
              right: 'along the spar',
              notes: [],
              pattern,
              part: {
                id: `${s.id ?? `${name}-strip${i + 1}`}-${cap}`,
                where: `inside the ${name} spar's ${cap} cap`,
                over: false,
                designed: true,
                y: (s.from + s.to) / 2,
              },
            }),
          );
    });
    const plates = spar.webDoublers.flatMap((p, i): Single[] => {
      const sheet = metal(model, p.sheet);
      const pattern = plateFlat({ width: p.to - p.from, height: p.height, thickness: sheetOf(b, p.sheet) });
      return sheet === undefined
        ? []
        : [
            {
              kind: 'web doubler',
              sheet,
              right: 'along the spar',
              notes: [],
              pattern,
              part: {
                id: p.id ?? `${name}-plate${i + 1}`,
                where: `on the ${name} spar's web`,
                over: false,
                designed: true,
                y: (p.from + p.to) / 2,
              },
            },
          ];
    });
    return [...strips, ...plates];
  });
}

function ribPiece(b: Build, drawn: DrawnRib, sheet: SheetMetal): Single {
  const { rib, shape, passes, faces } = drawn;
  const { y } = b.byStation.get(rib.station)?.bay.station ?? { y: 0 };
  const turns = turnsOf(b, rib, y);
  const marks = faces.flatMap(({ end, x, inward }) =>
    tabMarks(b, { part: rib.id, end, turns, at: (row, up) => tabPlace({ x, inward }, shape, { row, up }) }),
  );
  const notes = shrinkNotes(b, drawn);
  return {
    kind: `${rib.kind} rib`,
    sheet,
    rib: drawn,
    notes,
    right: 'aft',
    pattern: ribFlat(shape, { marks, ...(passes ? { passes } : {}) }),
    part: { id: rib.id, where: rib.station, over: turns === 1, designed: true, y },
  };
}

/** What a curved flange has to spare at its edge, and what the flutes of the drawing take up of it. */
function shrinkNotes(b: Build, { rib, shape }: DrawnRib): string[] {
  const say = (v: number): string => formatLength(v, b.model.units);
  const shrink = shrinkOf(shape);
  const where = rib.kind === 'main' ? 'Along its curve' : 'Round the nose';
  const { flutes } = rib;
  if (flutes === undefined)
    return shrink > 0.5
      ? [
          `${where} the flange must be shrunk by ${say(shrink)} in all at its edge: flute it between the holes, or notch it.`,
        ]
      : [];
  const all = 2 * flutes.each;
  const taken = all * takenUp(flutes);
  const left = shrink - taken;
  return [
    `Flutes: ${flutes.each} in each flange, ${say(flutes.width)} wide and ${say(flutes.depth)} deep at the edge, evenly along it and clear of the holes. The ${all} take up ${say(taken)} of ${say(Math.max(shrink, 0))}${left > 0.5 ? `; ${say(left)} are left to shrink` : ''}.`,
  ];
}

/** Holes of the web rows in a rib's tab, where the tab's flat has them. */
function tabMarks(
  b: Build,
  {
    part,
    end,
    turns,
    at,
  }: {
    readonly part: string;
    readonly end: EndName;
    readonly turns: 1 | -1;
    readonly at: (row: number, up: number) => readonly [number, number];
  },
): HoleMark[] {
  const row = b.drawn(`${part}.${end}.row`) ?? 0;
  const spar = end === 'rear' ? 'rear' : 'front';
  return b.model.joints
    .filter((j) => inWeb(j) && j.end === spar && j.layers.includes(part))
    .flatMap((j) =>
      j.holes.map((h): HoleMark => ({ at: at(row + turns * h.along, h.up), diameter: j.pilot, name: h.id })),
    );
}

/** Bend allowance of a piece's bends, mm; undefined for a flat one. */
export function allowanceOf({ pattern }: Piece): number | undefined {
  const [bend] = pattern.bends;
  return bend ? bendAllowance({ radius: bend.radius, thickness: pattern.thickness }) : undefined;
}
