import type { Finding } from '../../checks/finding.ts';
import type { Objective } from './objectives.ts';
import type { Plan } from './plan.ts';

/*
 * What a search is asked, what it says while it goes on, and what it says at the end.
 */

export interface Settings {
  /** Plans returned at most, doing nothing among them. */
  readonly plans?: number;
  /** Steps allowed for each objective beyond the core, in thousands of combinations. */
  readonly nodes?: number;
  readonly objectives?: readonly Objective[];
  /** Whether like ribs may be exchanged. Ribs already drilled are not: their pilots would not line up. */
  readonly swaps?: boolean;
  /** Asked at every step: once it says yes the search ends with what it has. */
  readonly stop?: () => boolean;
}

/**
 * Findings left beyond act and between fits and act, by best values, echoes with their source; and quarter hours of
 * work.
 */
export interface PlanCounts {
  readonly beyond: number;
  readonly outside: number;
  readonly work: number;
}

export interface Progress {
  /** Asking what may be done at each station; searching for each objective; asking the whole panel again. */
  readonly phase: 'choices' | 'search' | 'check';
  readonly done: number;
  readonly of: number;
  /** Best plan so far. */
  readonly best?: Plan | undefined;
  /** What the best plan has come to be known to leave at the least: findings first, then work. */
  readonly bound?: PlanCounts | undefined;
}

/** How sure it is that a plan is the best for its objective. */
export interface Proof {
  /** The objective it is best for, by id. */
  readonly objective: string;
  readonly proven: boolean;
  /** What the plan leaves and costs. */
  readonly found: PlanCounts;
  /** What any plan leaves and costs at the least, in the order findings beyond act, findings outside fits, work. */
  readonly bound: PlanCounts;
  readonly sentence: string;
}

/** Why a finding stays beyond its limit. */
export interface Conflict {
  /** The finding as the best plan leaves it. */
  readonly finding: Finding;
  readonly why: 'nothing moves it' | 'nothing moves it enough' | 'its cures conflict';
  /** What the gentlest of its cures would put wrong instead: ids of findings. */
  readonly against: readonly string[];
  readonly sentence: string;
  /** The same without how the finding is judged and what to do. */
  readonly short: string;
}

export interface Outcome {
  /** Best first; doing nothing last. */
  readonly plans: readonly Plan[];
  /** By plan id; none for doing nothing. */
  readonly proofs: ReadonlyMap<string, Proof>;
  /** Why what the best plan leaves beyond act stays there. */
  readonly conflicts: readonly Conflict[];
  /** Whether every objective was searched for; false where the search was stopped. */
  readonly complete: boolean;
  /** How many combinations the choices make. */
  readonly combinations: number;
}
