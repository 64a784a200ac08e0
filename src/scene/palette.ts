import type { Verdict } from '../checks/finding.ts';

/*
 * The colours of the bench and the marks of the verdicts, for the 2D drawings and the 3D view alike.
 * Nothing is said by colour alone: every verdict has its mark, and every mark can be drawn in one ink.
 */

export type Tone = 'paper' | 'ink' | 'metal' | 'edge' | 'bench' | 'block' | Verdict;
export type Light = 'light' | 'dark';

export const PALETTE: Readonly<Record<Light, Readonly<Record<Tone, string>>>> = {
  light: {
    paper: '#FAF9F6',
    ink: '#1E2124',
    metal: '#C9CCD1',
    edge: '#6B7078',
    bench: '#EAE7DF',
    block: '#D8CFBD',
    fits: '#1F4E9E',
    watch: '#C76A00',
    act: '#9B1B6E',
    unsettled: '#7A7F87',
  },
  dark: {
    paper: '#16181B',
    ink: '#ECE9E2',
    metal: '#5A6068',
    edge: '#A9AFB8',
    bench: '#1F2226',
    block: '#3A3731',
    fits: '#7FA8F0',
    watch: '#F2A44A',
    act: '#F07CC4',
    unsettled: '#9AA0A8',
  },
};

export type Mark = 'dot' | 'slashes' | 'crosses' | 'hatch';

export const MARK_OF: Readonly<Record<Verdict, Mark>> = {
  fits: 'dot',
  watch: 'slashes',
  act: 'crosses',
  unsettled: 'hatch',
};

/** A mark as SVG path data. */
export interface MarkShape {
  /** On a 14 × 14 field: `path` filled in the verdict's colour, `strokes` over it in paper, `width` wide. */
  readonly symbol: { readonly path: string; readonly strokes: string; readonly width: number };
  /** A tile that repeats every `tile` each way, stroked `width` wide over a tint; an empty path is a plain fill. */
  readonly pattern: { readonly tile: number; readonly path: string; readonly width: number };
}

const BOX = 'M1 1H13V13H1z';

/** Strokes of a pattern run past the tile, so that tiles join without a notch. */
export const MARKS: Readonly<Record<Mark, MarkShape>> = {
  dot: {
    symbol: { path: 'M7 2.1a4.9 4.9 0 1 0 0 9.8a4.9 4.9 0 1 0 0-9.8z', strokes: '', width: 0 },
    pattern: { tile: 8, path: '', width: 0 },
  },
  slashes: {
    symbol: { path: BOX, strokes: 'M2.5 8.5L8.5 2.5M5.5 11.5L11.5 5.5', width: 1.7 },
    pattern: { tile: 8, path: 'M-2 2L2 -2M0 8L8 0M6 10L10 6', width: 2 },
  },
  crosses: {
    symbol: { path: BOX, strokes: 'M4 4L10 10M10 4L4 10', width: 2 },
    pattern: { tile: 8, path: 'M-2 2L2 -2M0 8L8 0M6 10L10 6M-2 6L2 10M0 0L8 8M6 -2L10 2', width: 1.5 },
  },
  hatch: {
    symbol: { path: BOX, strokes: 'M4.6 2V12M7 2V12M9.4 2V12', width: 1.1 },
    pattern: { tile: 6, path: 'M1.5 0V6M4.5 0V6', width: 1 },
  },
};

/** Share of a verdict's colour laid under its hatch strokes, 0 to 1; a plain fill is full. */
export const TINT: Readonly<Record<Verdict, number>> = { fits: 1, watch: 0.3, act: 0.3, unsettled: 0.18 };
