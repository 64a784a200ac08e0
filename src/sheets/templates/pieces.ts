import { asDecided } from '../../model/edits/work.ts';
import type { Model } from '../../model/schema.ts';
import { drawnRib, sizesFor } from '../../parts/flat/drawnRibs.ts';
import { flatVolume } from '../../parts/flat/flatShape.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { densityOf, gramsPerMm3 } from '../../solidChecks/mass.ts';
import { doublerPieces } from './doublerPieces.ts';
import { metalOf, type Piece, type PiecePart, type Single } from './piece.ts';
import { ribPiece } from './ribPiece.ts';
import { sparPieces } from './sparPieces.ts';

/*
 * Every piece that is cut from flat sheet, alike ones together.
 *
 * Doublers, packers and shims are made to the rib end as it was measured; ribs are made to the drawing.
 */

/**
 * Doublers, packers, shims, strips and web doublers of a panel as decided, or those named: what is to be cut is not
 * made yet.
 */
export function cutPieces(made: Model, named?: readonly string[]): Piece[] {
  const model = asDecided(made);
  const skeleton = skeletonOf(model);
  const b = sizesFor(skeleton, 1);
  const standing = new Set(made.doublers.map((d) => d.id));
  const doublers = skeleton.places.flatMap((place) => doublerPieces(b, place));
  const all = [...doublers.map((s) => (standing.has(s.part.id) ? s : decided(s))), ...sparPieces(b)];
  return together(all.filter((s) => named === undefined || named.includes(s.part.id)));
}

/** A piece of a remedy that nobody has made yet. */
const decided = (single: Single): Single => ({
  ...single,
  part: { ...single.part, decided: true },
  notes: [...single.notes, 'Decided, not made yet.'],
});

/** All ribs as drawn and decided, or those named. */
export function ribPieces(made: Model, named?: readonly string[]): Piece[] {
  const model = asDecided(made);
  const b = sizesFor(skeletonOf(model), 0);
  const wanted = model.ribs.filter((r) => named === undefined || named.includes(r.id));
  return together(
    wanted.flatMap((rib) => {
      const drawn = drawnRib(b, rib);
      const sheet = metalOf(model, rib.sheet);
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
  return [...groups.values()].map(({ single, parts }): Piece => {
    const { part: _, ...piece } = single;
    return { ...piece, parts, mass: massOf(single) };
  });
}

/** Equal for pieces cut, bent and marked alike, to a thousandth of a millimetre. */
const likeness = ({ kind, sheet, pattern, right, basis, notes }: Single): string =>
  JSON.stringify([kind, sheet.id, pattern, right, basis, notes], (_, v: unknown) =>
    typeof v === 'number' ? Math.round(v * 1000) || 0 : v,
  );

/** Weight of one flat piece, g: its area times its thickness; holes of its rows are not taken out. */
const massOf = ({ pattern, sheet }: Single): number => flatVolume(pattern) * gramsPerMm3(densityOf(sheet.alloy));
