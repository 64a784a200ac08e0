import type { PanelAttitude } from './attitude.ts';
import type { PackSide } from './residuals.ts';

/** A pack under one support. */
export interface Pack {
  readonly station: string;
  readonly pieces: readonly number[];
  readonly total: number;
}

export interface PackingPlan {
  readonly side: PackSide;
  readonly packs: readonly Pack[];
  readonly before: PanelAttitude;
  readonly after: PanelAttitude;
  /** No choice of packs, of any thickness even, can leave a largest residual below this. */
  readonly bound: number;
  /** True where no other choice from the drawer leaves a smaller largest residual. */
  readonly proven: boolean;
  /** Pieces left on hand. */
  readonly left: readonly number[];
  /** Where the jig stands too high: plane that much off the block or pack the other spar there, mm. */
  readonly planing: readonly { readonly station: string; readonly amount: number }[];
  readonly sentences: readonly string[];
}
