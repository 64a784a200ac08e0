import type { Model } from '../../model/schema.ts';
import { flatSize } from '../../parts/flat/flatShape.ts';
import { fitsOn, type NestBlank, type Nesting, type NestPiece, nested } from './nest.ts';
import type { Piece } from './piece.ts';

/*
 * How the pieces of one sheet lie on what there is of it.
 */

/** Between two pieces on a sheet: a saw or a shear and a file, mm. Picked. */
export const GAP = 3;

/**
 * Sizes a blank is taken to have where none is on hand, the first that holds every piece: 12 × 24, 12 × 48, 24 × 48,
 * 24 × 72, 48 × 144 in. Picked.
 */
const ASSUMED: readonly Pick<NestBlank, 'width' | 'height'>[] = [
  [24, 12],
  [48, 12],
  [48, 24],
  [72, 24],
  [144, 48],
].map(([w = 0, h = 0]) => ({ width: w * 25.4, height: h * 25.4 }));

/** A single piece as a rectangle with its grain. */
export interface Outlined extends NestPiece {
  readonly source: Piece;
}

function rectangles(pieces: readonly Piece[]): Outlined[] {
  return pieces.flatMap((source) => {
    const { width, height } = flatSize(source.pattern);
    const { grain } = source.pattern;
    const [along, across] = grain === 'y' ? [height, width] : [width, height];
    return source.parts.map(({ id }): Outlined => ({ id, along, across, turns: grain === null, source }));
  });
}

/** The blanks of one sheet: those on hand, or one size assumed, as many as it takes. */
export function blanksFor(
  model: Pick<Model, 'stock'>,
  sheet: string,
  pieces: readonly NestPiece[],
): { readonly blanks: readonly NestBlank[]; readonly assumed: boolean } {
  const own = (model.stock.blanks ?? []).filter((b) => b.sheet === sheet);
  if (own.length > 0) return { blanks: own, assumed: false };
  const size = ASSUMED.find((b) => pieces.every((p) => fitsOn(p, b))) ?? ASSUMED.at(-1);
  return { blanks: size ? [{ ...size, count: pieces.length }] : [], assumed: true };
}

/** A nesting, and whether its blanks are only assumed. */
export interface OnBlanks extends Nesting<Outlined> {
  readonly assumed: boolean;
}

export function nestOn(model: Model, sheet: string, pieces: readonly Piece[]): OnBlanks {
  const all = rectangles(pieces);
  const { blanks, assumed } = blanksFor(model, sheet, all);
  return { ...nested(all, blanks, GAP), assumed };
}
