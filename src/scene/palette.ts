import type { Verdict } from '../checks/finding.ts';

/*
 * The colours of the bench, for the 2D drawings and the 3D view alike. Nothing is said by colour alone: every verdict
 * has its mark (`marks.ts`), and every mark can be drawn in one ink.
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

/** Share of a verdict's colour laid under its hatch strokes, 0 to 1; a plain fill is full. */
export const TINT: Readonly<Record<Verdict, number>> = { fits: 1, watch: 0.3, act: 0.3, unsettled: 0.18 };
