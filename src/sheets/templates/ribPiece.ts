import { inWeb } from '../../model/edits/rows.ts';
import type { Sheet as SheetMetal } from '../../model/schema.ts';
import type { DrawnRib } from '../../parts/flat/drawnRibs.ts';
import type { HoleMark } from '../../parts/flat/flatPattern.ts';
import { ribFlat, shrinkOf, tabPlace } from '../../parts/flat/flatRib.ts';
import { type Build, turnsOf } from '../../parts/placed/build.ts';
import { takenUp } from '../../parts/shapes/flutes.ts';
import { formatLength } from '../../units.ts';
import type { Single } from './piece.ts';

/** A rib's flat blank as drawn, with the holes of its web rows marked in its tabs. */
export function ribPiece(b: Build, drawn: DrawnRib, sheet: SheetMetal): Single {
  const { rib, shape, passes } = drawn;
  const { y } = b.byStation.get(rib.station)?.bay.station ?? { y: 0 };
  const turns = turnsOf(b, rib, y);
  const marks = drawn.faces.flatMap((face) => tabMarks(b, drawn, face, turns));
  return {
    kind: `${rib.kind} rib`,
    sheet,
    rib: drawn,
    notes: shrinkNotes(b, drawn),
    right: 'aft',
    basis: 'drawing',
    pattern: ribFlat(shape, { marks, ...(passes ? { passes } : {}) }),
    part: { id: rib.id, where: rib.station, over: turns === 1, designed: true, y },
  };
}

/** Less shrinking than this the metal takes by itself, mm at the flange's edge. */
const EASY = 0.5;

/** What a curved flange has to spare at its edge, and what the flutes of the drawing take up of it. */
function shrinkNotes({ model }: Build, { rib, shape }: DrawnRib): string[] {
  const say = (v: number): string => formatLength(v, model.units);
  const shrink = shrinkOf(shape);
  const { flutes } = rib;
  if (flutes === undefined) {
    if (shrink <= EASY) return [];
    const where = rib.kind === 'main' ? 'Along its curve' : 'Round the nose';
    return [
      `${where} the flange must be shrunk by ${say(shrink)} in all at its edge: flute between the holes as the drawing shows; notch only where it does.`,
    ];
  }
  const all = 2 * flutes.each;
  const taken = all * takenUp(flutes);
  const left = shrink - taken;
  const rest = left > EASY ? `; ${say(left)} are left to shrink` : '';
  return [
    `Flutes: ${flutes.each} in each flange, ${say(flutes.width)} wide and ${say(flutes.depth)} deep at the edge, evenly along it and clear of the holes. The ${all} take up ${say(taken)} of ${say(Math.max(shrink, 0))}${rest}.`,
  ];
}

/** Holes of the web rows in a rib's tab, where the tab's flat has them. */
function tabMarks(
  b: Build,
  { rib, shape }: DrawnRib,
  { end, x, inward }: DrawnRib['faces'][number],
  turns: 1 | -1,
): HoleMark[] {
  const row = b.drawn(`${rib.id}.${end}.row`) ?? 0;
  const spar = end === 'rear' ? 'rear' : 'front';
  const joints = b.model.joints.filter((j) => inWeb(j) && j.end === spar && j.layers.includes(rib.id));
  return joints.flatMap((j) =>
    j.holes.map((h): HoleMark => {
      const at = tabPlace({ x, inward }, shape, { row: row + turns * h.along, up: h.up });
      return { at, diameter: j.pilot, name: h.id };
    }),
  );
}
