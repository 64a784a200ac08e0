import type { BasisWord } from '../../checks/basis.ts';
import type { Vec3 } from '../../geometry/vector.ts';

/*
 * A step: one action of the assembly, as a helper who has never seen the panel needs it. Plain data; `steps.ts` makes
 * them from the panel, `stepPicture.ts` draws them, `stepCards.ts` lays them on paper, the Helper screen shows them.
 */

/** What is done. The first four put a part where it belongs. */
export type StepKind =
  | 'lay'
  | 'slip'
  | 'stand'
  | 'fit'
  | 'clamp'
  | 'feel'
  | 'square'
  | 'survey'
  | 'pack'
  | 'ask'
  | 'pilot'
  | 'clear'
  | 'open'
  | 'apart'
  | 'together';

export const PLACING: readonly StepKind[] = ['lay', 'slip', 'stand', 'fit'];

/**
 * Where the person stands: behind the trailing edge, ahead of the leading edge, or past the left or right end (seen
 * nose forward).
 */
export type Standing = 'behind' | 'ahead' | 'left end' | 'right end';

/** One side felt with a feeler leaf that must not go in. Thickness in mm. */
export interface Feel {
  readonly side: 'top' | 'bottom' | 'top and bottom' | 'front' | 'rear';
  readonly leaf: number;
}

/** The one number of a card. */
export type StepNumber =
  | { readonly kind: 'feeler'; readonly feels: readonly Feel[] }
  | { readonly kind: 'drill'; readonly diameter: number; readonly holes: number; readonly pilot: boolean }
  | { readonly kind: 'pack'; readonly total: number; readonly pieces: readonly number[]; readonly basis: BasisWord }
  | { readonly kind: 'sheet'; readonly thickness: number; readonly basis: BasisWord }
  | { readonly kind: 'count'; readonly count: number; readonly what: string };

export interface Step {
  /** Stays the same for the same action: what a tick is kept by. Example: `stand:M5`, `pilot:F5@noses`. */
  readonly id: string;
  readonly number: number;
  readonly kind: StepKind;
  /** The action with its verb: "Stand rib M5 at station S5". */
  readonly title: string;
  /** The stage it belongs to, by id and by name; '' where the panel has none. */
  readonly stage: string;
  readonly stageName: string;
  readonly station: string | null;
  /** Place of the station along the span, mm. */
  readonly at?: number;
  /** Joint that is drilled. */
  readonly joint?: string;
  /** The part that goes in, drawn dark; for a step about several, all of them. */
  readonly chosen: readonly string[];
  /** Parts already there, drawn grey. */
  readonly there: readonly string[];
  /** The way the part goes in, a unit direction in the wing frame. */
  readonly goes?: Vec3;
  readonly standing: Standing;
  /** The way along the span to which the part is open, +1 to the right seen nose forward. */
  readonly opens?: 1 | -1;
  /** Where the leading edge is for who stands there: "The leading edge is to your left." */
  readonly edge: string;
  /** Short lines: which way up and round, how to hold it. */
  readonly lines: readonly string[];
  /** Layers from the drill side. */
  readonly layers: readonly string[];
  /** Clamp spots beside the holes, and the holes to be drilled, on the web; wing frame, mm. */
  readonly clamps: readonly Vec3[];
  readonly holes: readonly Vec3[];
  /** Where a feeler goes. */
  readonly feels: readonly Vec3[];
  readonly check?: StepNumber;
  /** Why it must not be done yet, without numbers. */
  readonly held?: string;
  /** Of a piece that is not on the drawing: it may come after its stage is past, and is open until it is ticked. */
  readonly added?: true;
  /** The panel file already says that it was done. */
  readonly done: boolean;
}

/** On every card. */
export const STOP_LINE = 'If it does not match the picture, stop and call.';
