import type { JointRule } from '../edits/jointsLaid.ts';
import type { Alloy, Model, Profile, Spar } from '../schema.ts';

/* What a panel is laid from: a handful of plain sizes, mm and degrees; root first. */

/** A size at the root and at the tip, straight between. */
export type Taper = readonly [root: number, tip: number];

export interface SparPlan {
  readonly sheet: number;
  readonly depth: Taper;
  readonly cap: number;
  /** Inside bend radius; left out, an easy one for the alloy. */
  readonly radius?: number | undefined;
  readonly opens: Spar['opens'];
}

export interface PanelPlan {
  readonly name: string;
  readonly note: string;
  readonly hand: Model['hand'];
  readonly units: Model['units'];
  /** Letter of the station marks. */
  readonly letter: string;
  /** Places of the ribs along the span from one datum, in order. */
  readonly places: readonly number[];
  readonly alloy: Alloy;
  readonly front: SparPlan;
  readonly rear?: SparPlan | undefined;
  /** Front web's forward face to the rear web's; with one spar, to the ribs' rear ends. */
  readonly webs: Taper;
  readonly nose: Taper;
  readonly washout: Taper;
  /** A strip inside each front cap from the root on. */
  readonly strip?: { readonly sheet: number; readonly to: number } | undefined;
  readonly sheets: { readonly main: number; readonly nose: number; readonly tip: number; readonly skin: number };
  /** Ribs at both ends in one piece, nose to rear; else main and nose ribs there too. */
  readonly wholeEnds: boolean;
  readonly registered: 'rear' | 'front';
  /** Clip hole of a tip rib held on the front spar, forward of the web. */
  readonly clip: number;
  /** A channel doubler at the front end of every main rib. */
  readonly doubler?: number | undefined;
  readonly ease: { readonly height: number; readonly length: number };
  readonly tab: number;
  readonly row: number;
  readonly relief: number;
  readonly joints: JointRule;
  readonly profile: (chord: number) => Profile;
}
