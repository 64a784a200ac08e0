import type { BasisWord } from '../../checks/basis.ts';
import type { Model, Sheet as SheetMetal } from '../../model/schema.ts';
import { bendAllowance } from '../../parts/flat/bend.ts';
import type { DrawnRib } from '../../parts/flat/drawnRibs.ts';
import type { FlatPattern } from '../../parts/flat/flatPattern.ts';

/*
 * A piece that is cut from flat sheet: what it is, how many, where each goes, its flat pattern. Millimetres, grams.
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
  /** Of a remedy that is decided and not made yet. */
  readonly decided?: true;
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
  /** What the sizes it is cut to rest on: of a channel the height of its rib end, else the drawing. */
  readonly basis: BasisWord;
  readonly notes: readonly string[];
}

/** A piece before it is put together with those like it. */
export interface Single extends Omit<Piece, 'parts' | 'mass'> {
  readonly part: PiecePart;
}

/** The marks of the pieces: `D2` or `M2, M3, M4`. */
export const marksOf = (piece: Piece): string => piece.parts.map((p) => p.id).join(', ');

/** Bend allowance of a piece's bends, mm; undefined for a flat one. */
export function allowanceOf({ pattern }: Piece): number | undefined {
  const [bend] = pattern.bends;
  return bend ? bendAllowance({ radius: bend.radius, thickness: pattern.thickness }) : undefined;
}

/** The sheet a part is cut from. */
export const metalOf = (model: Model, id: string): SheetMetal | undefined => model.sheets.find((s) => s.id === id);
