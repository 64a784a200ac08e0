import type { BasisWord } from '../../checks/basis.ts';

/*
 * A page in millimetres: what a sheet says, before it is drawn as SVG or written as PDF.
 * Origin at the page's top left corner, x to the right, y down. Black on white; nothing is said by colour.
 */

/** Line kinds of the bench: what is cut, what is bent, what is only a centre or hidden behind. */
export type Stroke = 'hairline' | 'outline' | 'heavy' | 'cut' | 'bend' | 'centre' | 'hidden';

/** Width and dashes in mm. Cut lines 0.35 solid, bend tangents dashed, centre lines chain-dotted. */
export const STROKES: Readonly<Record<Stroke, { readonly width: number; readonly dash: readonly number[] }>> = {
  hairline: { width: 0.25, dash: [] },
  outline: { width: 0.35, dash: [] },
  heavy: { width: 0.9, dash: [] },
  cut: { width: 0.35, dash: [] },
  bend: { width: 0.25, dash: [3, 1.5] },
  centre: { width: 0.25, dash: [6, 1.2, 1, 1.2] },
  hidden: { width: 0.25, dash: [1.2, 1.2] },
};

/** How a closed shape is filled: not at all, with paper to hide what lies behind, light or dark grey, ink. */
export type Fill = 'none' | 'paper' | 'light' | 'dark' | 'ink';

export type Align = 'start' | 'middle' | 'end';

/**
 * One thing drawn. A path is SVG path data in mm with absolute M, L, C, Z only, so that every writer draws it alike.
 */
export type Ink =
  | {
      readonly kind: 'path';
      readonly d: string;
      readonly stroke: Stroke | null;
      readonly fill: Fill;
      /** Of a mark: what the value beside it rests on. */
      readonly means?: BasisWord;
    }
  | {
      readonly kind: 'circle';
      readonly x: number;
      readonly y: number;
      readonly r: number;
      readonly stroke: Stroke | null;
      readonly fill: Fill;
    }
  | {
      readonly kind: 'text';
      /** Where the text stands: on its baseline. */
      readonly x: number;
      readonly y: number;
      readonly text: string;
      /** Size in points; 10 and up. */
      readonly size: number;
      readonly bold?: boolean;
      readonly align?: Align;
      /** Degrees anticlockwise about (x, y). */
      readonly turn?: number;
      readonly white?: boolean;
    };

export type PaperName = 'a4' | 'letter';
export type Paper = { readonly name: PaperName | 'own'; readonly width: number; readonly height: number };

/** The two papers a builder owns, upright, mm. */
export const PAPERS: Readonly<Record<PaperName, Paper>> = {
  a4: { name: 'a4', width: 210, height: 297 },
  letter: { name: 'letter', width: 215.9, height: 279.4 },
};

/** The same paper lying. */
export function lying(paper: Paper): Paper {
  return { ...paper, width: paper.height, height: paper.width };
}

/** A rectangle of a page by its top left corner. */
export interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** No ink nearer to the paper's edge than this, mm: what every printer can reach, and room to hold the sheet. */
export const MARGIN = 12;

export interface Page {
  readonly paper: Paper;
  readonly ink: readonly Ink[];
}

/** One bench sheet: its name, what it is for, and its pages. */
export interface Sheet {
  /** For file names: letters, digits and hyphens. */
  readonly id: string;
  readonly title: string;
  readonly pages: readonly Page[];
}
