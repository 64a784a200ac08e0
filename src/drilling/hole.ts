import type { HoleCircle, Need } from '../checks/holes/cleanUpDrill.ts';
import type { EdgeLine, NextSize } from '../checks/holes/nextSize.ts';
import type { Hole, Joint } from '../model/schema.ts';
import type { GateAnswer } from './gate.ts';

/**
 * now: the next bit may go in. not yet: wait for a layer, a stage or something to put right. never: it will not clean
 * up at this size. in doubt: too close to call, or looked at and not settled. not asked: nobody looked at what it
 * rests on. done: final through every layer.
 */
export type HoleState = 'now' | 'not yet' | 'never' | 'in doubt' | 'not asked' | 'done';

/** What to do, in the trade's words. */
type How = 'pilot' | 'follow the guide' | 'bushing set midway' | 'step up' | 'stop' | 'wait' | 'none';

/**
 * Why a hole is left alone: its row's gate does not say yes, a layer is not in, the plan opens it later, its stage is
 * only looked ahead to, or it may not clean up.
 */
type Because = 'put right' | 'look' | 'layer' | 'plan' | 'then' | 'doubt' | 'size';

/**
 * How one layer's hole stands. off: taken off for now, its hole as drilled. opened early: final while another layer's
 * is not.
 */
export interface LayerAnswer {
  readonly part: string;
  readonly state: 'not in' | 'off' | 'none' | 'pilot' | 'final' | 'opened early';
  readonly size: number;
  /**
   * The layer it was (or will be) drilled through; "apart" when marked and drilled by itself; undefined for the
   * guide.
   */
  readonly through: string | undefined;
}

/** What is to be done with a hole, by itself: whatever its row's gate says. */
export interface Own {
  readonly state: HoleState;
  readonly how: How;
  readonly why: string;
  readonly because?: Because;
  /** The same in few words, shared by holes that wait for the same thing. */
  readonly reason?: string;
  /** Layers that are not in, where it waits for them: taken off or never in, and the stage that brings them. */
  readonly missing?: readonly string[];
  readonly waits?: { readonly word: 'not in' | 'off'; readonly stage: string | undefined };
}

/** The answer for one hole. Sizes in mm. */
export interface HoleAnswer extends Own {
  readonly id: string;
  readonly joint: Joint;
  readonly hole: Hole;
  readonly layers: readonly LayerAnswer[];
  readonly circles: readonly HoleCircle[];
  readonly need: Need | undefined;
  /** (final - needed)/2 following the guide and on the best axis; undefined before two layers are drilled. */
  readonly followMargin: number | undefined;
  readonly bestMargin: number | undefined;
  /**
   * Chance that every layer cleans up at final size, following the guide and on the best axis; undefined while nobody
   * looked.
   */
  readonly followChance: number | undefined;
  readonly bestChance: number | undefined;
  readonly edges: readonly EdgeLine[];
  /** Least hole to hole and row to row, mm; undefined with one hole, or one row. */
  readonly pitch: number | undefined;
  readonly rows: number | undefined;
  readonly next: NextSize | undefined;
  /** Name of the first stage, from the one asked about on, at which it may be opened to final. */
  readonly earliest: string | undefined;
  /** What its row's gate says of the next bit: of pilots, or of opening to final. */
  readonly gate: GateAnswer;
}
