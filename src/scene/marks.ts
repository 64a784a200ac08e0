import { BASIS, type BasisMark, type BasisWord, basisOfFinding, basisText } from '../checks/basis.ts';
import type { Finding, Verdict } from '../checks/finding.ts';
import type { Skeleton } from '../parts/layout/layout.ts';

/*
 * The mark of a verdict, and in the way it is drawn what the verdict rests on: full where it was read, with a gap
 * where it was read before something moved it, ruled where it was worked out, open where only the paper says so. Told
 * apart by shape, in one ink, on a field of 14 × 14.
 */

/** How a mark is drawn, by what its verdict rests on. */
export type MarkFill = 'full' | 'gap' | 'ruled' | 'open';

/** A stroke or a filled outline of a mark; `tone` is the verdict's colour, `paper` what it lies on. */
export interface MarkStroke {
  readonly d: string;
  readonly fill?: 'tone' | 'paper';
  readonly stroke?: 'tone' | 'paper';
  readonly width?: number;
  readonly dashes?: string;
}

const FILLS: Partial<Readonly<Record<BasisMark, MarkFill>>> = {
  'broken ring': 'gap',
  hatched: 'ruled',
  triangle: 'open',
  corners: 'open',
};

/** How the mark of what rests on `basis` is drawn. */
export function fillOf(basis: BasisWord): MarkFill {
  const { mark } = BASIS[basis];
  return (mark && FILLS[mark]) ?? 'full';
}

/** What a mark says, for who cannot see it: the verdict, and what it rests on where that is no reading that holds. */
export const markWords = (verdict: Verdict, basis: BasisWord = 'measured'): string =>
  fillOf(basis) === 'full' ? verdict : `${verdict}, ${basisText(basis)}`;

/** What a finding's mark says it rests on. Before anything moved metal that is what its sizes rest on. */
export const shownBasis = (skeleton: Skeleton, f: Finding): BasisWord =>
  skeleton.model.acts ? basisOfFinding(skeleton, f) : f.basis;

interface Outline {
  readonly whole: string;
  /** In two pieces, a gap between them. */
  readonly pieces: string;
  /** Level lines across it. */
  readonly rules: string;
}

const DISC: Outline = {
  whole: 'M7 2.1a4.9 4.9 0 1 0 0 9.8a4.9 4.9 0 1 0 0-9.8z',
  pieces: 'M2.3 5.6A4.9 4.9 0 0 1 11.7 5.6zM2.3 8.4A4.9 4.9 0 0 0 11.7 8.4z',
  rules: 'M3.2 4.6H10.8M2.4 7H11.6M3.2 9.4H10.8',
};
const BOX: Outline = {
  whole: 'M1 1H13V13H1z',
  pieces: 'M1 1H13V5.6H1zM1 8.4H13V13H1z',
  rules: 'M1 4H13M1 7H13M1 10H13',
};

/** A verdict's outline, and the strokes in it that tell it from the others. */
interface VerdictShape {
  readonly outline: Outline;
  readonly strokes?: { readonly d: string; readonly width: number };
}

const SHAPES: Readonly<Record<Verdict, VerdictShape>> = {
  fits: { outline: DISC },
  watch: { outline: BOX, strokes: { d: 'M2.5 8.5L8.5 2.5M5.5 11.5L11.5 5.5', width: 1.7 } },
  act: { outline: BOX, strokes: { d: 'M4 4L10 10M10 4L4 10', width: 2 } },
  unsettled: { outline: BOX, strokes: { d: 'M4.6 2V12M7 2V12M9.4 2V12', width: 1.1 } },
};

/** Paper left beside a stroke that lies over level lines. */
const BESIDE = 2.4;

const GROUND: Readonly<Record<MarkFill, (outline: Outline) => readonly MarkStroke[]>> = {
  full: ({ whole }) => [{ d: whole, fill: 'tone' }],
  gap: ({ pieces }) => [{ d: pieces, fill: 'tone' }],
  ruled: ({ whole, rules }) => [
    { d: whole, fill: 'paper', stroke: 'tone', width: 1.3 },
    { d: rules, stroke: 'tone', width: 1 },
  ],
  open: ({ whole }) => [{ d: whole, stroke: 'tone', width: 1.5, dashes: '2.5 1.8' }],
};

/** The strokes of a mark, from the lowest up. */
export function markStrokes(verdict: Verdict, fill: MarkFill): readonly MarkStroke[] {
  const { outline, strokes } = SHAPES[verdict];
  const ground = GROUND[fill](outline);
  if (!strokes) return ground;
  if (fill === 'full' || fill === 'gap') return [...ground, { ...strokes, stroke: 'paper' }];
  const own: MarkStroke = { ...strokes, stroke: 'tone' };
  // Upright strokes cross level lines; slanting ones would be lost among them.
  if (fill === 'open' || verdict === 'unsettled') return [...ground, own];
  return [...ground, { d: strokes.d, stroke: 'paper', width: strokes.width + BESIDE }, own];
}
