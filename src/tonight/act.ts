import type { Remedy } from '../remedies/remedy.ts';

/*
 * What an act is: one thing done at the bench. It says what, at which part and place, with which tool, for about how
 * many minutes, and why; and it carries what is needed to do it from its line.
 */

export type ActKind =
  | 'read'
  | 'dry-fit'
  | 'make'
  | 'bend'
  | 'square'
  | 'pack'
  | 'clamp'
  | 'drill'
  | 'open'
  | 'deburr'
  | 'prime'
  | 'rivet'
  /** Ask the designer. */
  | 'ask'
  /** Show the inspector. */
  | 'show';

/**
 * When an act comes, by what the panel is in: loose parts, standing on its blocks, clamped, drilled. Read what is
 * disputed; make what others ride on; read what decides metal, and loose parts; ask; metal; stand it up; read it as
 * it stands; straighten; square; pack; read what that moved; noses; clamp; look at the rows; drill; deburr; bring the
 * next parts; close.
 */
export const PHASES = [
  'disputed',
  'cause',
  'decide',
  'loose',
  'ask',
  'metal',
  'stand',
  'survey',
  'straighten',
  'square',
  'pack',
  'again',
  'nose',
  'clamp',
  'look',
  'drill',
  'deburr',
  'bring',
  'close',
] as const;
export type Phase = (typeof PHASES)[number];

/** A size to read, by its key, and the instrument to read it with. */
export interface ToRead {
  readonly size: string;
  readonly instrument: string;
}

/** An act before it has its place in the list. */
export interface Draft {
  /** Its own name among the acts of a panel; the same for as long as it is the same act. Written only. */
  readonly key: string;
  readonly kind: ActKind;
  readonly phase: Phase;
  /** One line, in the imperative, without a full stop. */
  readonly what: string;
  /** One clause. */
  readonly why: string;
  /** The same in few words, for the headline: "make M2 and M6 again". */
  readonly brief: string;
  /** What is so once it is done, for what waits for it: "D2 is made anew". */
  readonly once: string;
  readonly tool: string | null;
  readonly minutes: number;
  readonly parts: readonly string[];
  readonly stations: readonly string[];
  /** Ids of the findings it answers. */
  readonly settles: readonly string[];
  /** Holes by joint and hole, as `askHoles` names them. */
  readonly holes: readonly string[];
  /** Sizes it reads. */
  readonly reads: readonly ToRead[];
  /** Steps it ticks, as `ticked` takes them. */
  readonly ticks: readonly string[];
  /** What it decides on; none where it was decided already, or nothing is to be. */
  readonly remedies: readonly Remedy[];
  /** The decision that it makes, or that is to be asked about, by its name. */
  readonly decision: string | null;
  /** The stage that it begins. */
  readonly stage: string | null;
  /** Keys of the acts that must come first. */
  readonly rests: readonly string[];
}

/** An act in its place. */
export interface Act extends Draft {
  /** Its number in the list, from 1. */
  readonly n: number;
  /** Numbers of the acts it rests on, all of them smaller. */
  readonly after: readonly number[];
}

const NOTHING = {
  tool: null,
  parts: [],
  stations: [],
  settles: [],
  holes: [],
  reads: [],
  ticks: [],
  remedies: [],
  decision: null,
  stage: null,
  rests: [],
} as const satisfies Partial<Draft>;

type Needed = 'key' | 'kind' | 'phase' | 'what' | 'why' | 'brief' | 'once' | 'minutes';

/** A draft from what it has; the rest is nothing. */
export const draft = (d: Pick<Draft, Needed> & Partial<Draft>): Draft => ({ ...NOTHING, ...d });
