import type { Choice } from './choices.ts';

/*
 * What is wanted of a plan, in order. Each objective has one best plan, and together they show what can be traded for
 * what: fewer findings for more work, new parts for packers, a straighter nose line for more pieces.
 */

/**
 * What counts, each far enough above the next that it counts only among equals: a finding beyond act, one between
 * fits and act, a quarter hour of work.
 */
export interface Weights {
  readonly beyond: number;
  readonly outside: number;
  readonly work: number;
}

const BEYOND = 1e10;
const OUTSIDE = 1e7;
const WORK = 1e3;
/** A squared reach of 1, and a gram: only between equals in all else. */
export const OFF = 0.05;
export const GRAM = 5e-4;

export interface Objective {
  readonly id: string;
  readonly name: string;
  /** The same where findings beyond act are left. */
  readonly otherwise?: string;
  readonly weights: Weights;
  readonly allows: (c: Choice) => boolean;
  /** Among equals in findings the nose line is made as straight as the stock allows, before work counts. */
  readonly straight?: true;
  /** No ribs are exchanged. */
  readonly stays?: true;
}

/** Whether an objective puts findings between fits and act above all work. */
export const findingsFirst = (w: Weights): boolean => w.outside >= OUTSIDE;

const any = (): boolean => true;
const first: Weights = { beyond: BEYOND, outside: OUTSIDE, work: WORK };
const made = (c: Choice): number => c.remedies.reduce((sum, r) => sum + (r.kind === 'easier' ? 0 : r.cost.pieces), 0);

/**
 * Quarter hours that one finding less between fits and act is worth, for the ways between the least work and the
 * fewest findings.
 */
const PRICES = [3, 6, 13];

export const OBJECTIVES: readonly Objective[] = [
  {
    id: 'watch',
    name: 'All inside limits, fewest on watch',
    otherwise: 'As little at act and at watch as can be',
    weights: first,
    allows: any,
  },
  {
    id: 'act',
    name: 'Least work that leaves nothing at act',
    otherwise: 'Least work that leaves as little at act as can be',
    weights: { ...first, outside: 0 },
    allows: any,
  },
  ...PRICES.map(
    (p): Objective => ({
      id: `price-${p}`,
      name: 'Less work, more on watch',
      weights: { ...first, outside: p * WORK },
      allows: any,
    }),
  ),
  { id: 'kept', name: 'Every rib kept as it is', weights: first, allows: (c) => c.cost.remade + c.cost.reformed === 0 },
  { id: 'bare', name: 'No shim, packer or new doubler', weights: first, allows: (c) => made(c) === 0 },
  { id: 'straight', name: 'The straightest nose line', weights: first, allows: any, straight: true },
  {
    id: 'straight-packed',
    name: 'The straightest nose line by packers alone',
    weights: first,
    allows: (c) => !c.noseTouched,
    straight: true,
    stays: true,
  },
];

/** Findings alone, and how far in all lies: no work is too much. */
export const FINDINGS_ALONE: Objective = {
  id: 'findings',
  name: 'findings alone',
  weights: { beyond: BEYOND, outside: OUTSIDE, work: 0 },
  allows: any,
};
